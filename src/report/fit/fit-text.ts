/** A fit for the terminal: the answer, and a row for each unknown. */
import type { Fit, FittedUnknown } from "../../study/fit/fit-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { NONE } from "../text/cells.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";
import { fitAnswer } from "./fit-answer.ts";
import { valueText, valueWithin } from "./fit-figures.ts";
import { type FitFindingCode, fitFindings } from "./fit-findings.ts";

const WARNED: readonly FitFindingCode[] = ["misfit", "alone-no-matter", "combination", "untold", "at-bound", "starts"];

/** @returns lines with a line break at the end of each */
export function fitText(fit: Fit, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const { heading, rows } = table(columns(fit), COLUMNS);
  const page = {
    title: fit.title,
    answer: fitAnswer(fit),
    table: [...heading.map(style.heading), ...rows],
    details: [
      fitFindings(fit).flatMap(({ code, text }) =>
        bullet(text).map(WARNED.includes(code) ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
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
