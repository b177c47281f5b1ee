/** A fit for the terminal: findings, and a row for each unknown. */
import type { Fit, FittedUnknown } from "../../study/fit/fit-results.ts";
import { NONE } from "../cells.ts";
import { plain } from "../figures.ts";
import { PLAIN_STYLE, type Style } from "../style.ts";
import { type Column, table } from "../table.ts";
import { bullet, COLUMNS } from "../terminal-lines.ts";
import { oneLine, wrap } from "../text-width.ts";
import { valueText, valueWithin } from "./fit-figures.ts";
import { type FitFindingCode, fitFindings } from "./fit-findings.ts";

const WARNED: readonly FitFindingCode[] = ["misfit", "alone-no-matter", "combination", "untold", "at-bound", "starts"];

/** @returns lines with a line break at the end of each */
export function fitText(fit: Fit, style: Style = PLAIN_STYLE): string {
  const { heading, rows } = table(columns(fit), COLUMNS);
  const lines = [
    ...wrap(oneLine(fit.title), COLUMNS).map(style.title),
    "",
    ...fitFindings(fit).flatMap(({ code, text }) =>
      bullet(text).map(WARNED.includes(code) ? style.warning : (line) => line),
    ),
    "",
    ...heading.map(style.heading),
    ...rows,
  ];
  return `${lines.map(plain).join("\n")}\n`;
}

function columns({ unknowns }: Fit): Column[] {
  const column = (
    heading: readonly string[],
    importance: number,
    cell: (unknown: FittedUnknown) => string,
    align: "left" | "right" = "right",
  ): Column => ({ heading, importance, cells: unknowns.map(cell), align });
  const end = (unknown: FittedUnknown, value: number | null): string =>
    value === null ? NONE : valueWithin(unknown)(value);
  return [
    column(["unknown"], 99, ({ path }) => oneLine(path), "left"),
    column(["in the", "file"], 5, ({ own, unit }) => (own === null ? NONE : valueText(own, unit))),
    column(["fitted"], 10, (unknown) => valueWithin(unknown)(unknown.value)),
    column(["standard", "error"], 6, ({ standard_error: error, unit }) =>
      error === null ? NONE : valueText(error, unit, 2),
    ),
    column(["95 %", "from"], 9, (unknown) => end(unknown, unknown.range_95[0])),
    column(["", "to"], 8, (unknown) => end(unknown, unknown.range_95[1])),
  ];
}
