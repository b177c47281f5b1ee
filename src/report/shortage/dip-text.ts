/** A study of a dip for the terminal: findings, and a row for each variant. */
import type { Dip, DipResult } from "../../study/shortage/shortage-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { countOrDash, minutesOrDash, NONE, rateOrDash } from "../text/cells.ts";
import { longRun, number } from "../text/figures.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { dipAnswer } from "./dip-answer.ts";
import { dipFindings, standsBefore } from "./dip-findings.ts";
import { variantName } from "./shortage-figures.ts";

/** @returns lines with a line break at the end of each */
export function dipText(dip: Dip, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const { heading, rows } = table(columns(dip), COLUMNS);
  const page = {
    title: dip.title,
    answer: dipAnswer(dip),
    table: [...heading.map(style.heading), ...rows],
    details: [
      dipFindings(dip).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "limits", "not-recovered", "early", "tree-needs"]);

function columns(dip: Dip): Column[] {
  const { results } = dip;
  const column = (heading: readonly string[], importance: number, cell: (result: DipResult) => string): Column => ({
    heading,
    importance,
    cells: results.map(cell),
    align: "right",
  });
  return [
    { heading: ["variant"], importance: 99, align: "left", cells: results.map(({ id }) => variantName(id)) },
    column(["settled", "/min"], 7, (result) => rateOrDash(longRun(result))),
    column(["lost", "items"], 10, (result) => (standsBefore(dip, result) ? NONE : number(result.lost))),
    column(["lowest", "/min"], 9, (result) => rateOrDash(result.lowest_per_min)),
    column(["95 %", "after", "min"], 8, (result) => minutesOrDash(result.within_tolerance_min)),
    column(["pattern", "after", "min"], 8, (result) => minutesOrDash(result.recovery_min)),
    column(["hold-up", "before", "items"], 4, (result) => countOrDash(result.hold_up_before)),
    column(["hold-up", "settled", "items"], 5, (result) => number(result.hold_up_settled)),
  ];
}
