/** The tables of a fit: a row for each unknown, and one for each thing observed. */
import type { FittedSeries, FittedUnknown } from "../../study/fit/fit-results.ts";
import { NONE } from "../text/cells.ts";
import { number } from "../text/figures.ts";
import { quantity, type StudyColumn, text } from "../text/study-table.ts";
import { misfitOf, valueText, valueWithin } from "./fit-figures.ts";

export const UNKNOWN_COLUMNS: readonly StudyColumn<FittedUnknown>[] = [
  text(({ path }) => path, { markdown: "unknown", terminal: ["unknown", 99] }),
  quantity(({ own, unit }) => (own === null ? NONE : valueText(own, unit)), {
    markdown: "in the file",
    terminal: ["in the|file", 5],
  }),
  quantity((unknown) => valueWithin(unknown)(unknown.value), { markdown: "fitted", terminal: ["fitted", 10] }),
  quantity(({ standard_error: error, unit }) => (error === null ? NONE : valueText(error, unit, 2)), {
    markdown: "standard error",
    terminal: ["standard|error", 6],
  }),
  quantity((unknown) => end(unknown, unknown.range_95[0]), { markdown: "95 % from", terminal: ["95 %|from", 9] }),
  quantity((unknown) => end(unknown, unknown.range_95[1]), { markdown: "to", terminal: [["", "to"], 8] }),
  quantity(({ lower, upper, unit }) => `${valueText(lower, unit)} to ${valueText(upper, unit)}`, {
    markdown: "bounds",
  }),
];

function end(unknown: FittedUnknown, value: number | null): string {
  return value === null ? NONE : valueWithin(unknown)(value);
}

export const SERIES_COLUMNS: readonly StudyColumn<FittedSeries>[] = [
  text(({ name }) => name, { markdown: "observed" }),
  quantity((series) => number(misfitOf(series).count), { markdown: "counts" }),
  quantity(({ error }) => number(error, 3), { markdown: "expected error, items" }),
  quantity((series) => number(misfitOf(series).meanSquare, 2), { markdown: "mean square residual over it" }),
];
