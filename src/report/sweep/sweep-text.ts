/** A sweep for the terminal: the answer, and a row for each point. */
import type { Sweep, SweepPoint } from "../../study/sweep/sweep-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash } from "../text/cells.ts";
import { number } from "../text/figures.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, endsOf, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";
import { sweepAnswer } from "./sweep-answer.ts";
import { outputPerMin } from "./sweep-figures.ts";
import { sweepFindings } from "./sweep-findings.ts";

const FEW_POINTS = 12;
const MOST_POINTS = 60;

/** @returns lines with a line break at the end of each */
export function sweepText(sweep: Sweep, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: sweep.title,
    answer: sweepAnswer(sweep),
    table: pointLines(sweep, style, shown.details === true ? MOST_POINTS : FEW_POINTS),
    details: [
      sweepFindings(sweep).flatMap(({ code, text }) =>
        bullet(text).map(code === "incomplete" || code === "stops" ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

function pointLines(sweep: Sweep, style: Style, most: number): string[] {
  const { shown, between } = endsOf(sweep.points, most, "sweep.csv");
  const { heading, rows } = table(columns(sweep, shown), COLUMNS);
  return [...heading.map(style.heading), ...between(rows)];
}

function columns({ quantities }: Sweep, points: readonly SweepPoint[]): Column[] {
  const column = (heading: readonly string[], importance: number, cell: (point: SweepPoint) => string): Column => ({
    heading,
    importance,
    cells: points.map(cell),
    align: "right",
  });
  return [
    // A path is broken at its dots, so that the column is no wider than its longest name.
    ...quantities.map(({ path }, q) => column(path.split("."), 99 - q, ({ values }) => oneLine(values[q] ?? ""))),
    column(["settles", "at", "min"], 10, (point) => minutesOrDash(point.settling_min)),
    column(["95 %", "from", "min"], 6, (point) => minutesOrDash(point.within_tolerance_min)),
    column(["lost", "items"], 9, (point) => countOrDash(point.ramp_up_loss)),
    column(["long-run", "/min"], 8, (point) => rateOrDash(outputPerMin(point))),
    column(["full", "/min"], 7, (point) => exactRateOrDash(point.full_per_min)),
    column(["hold-up", "items"], 5, (point) => number(point.hold_up_settled)),
    column(["peak", "items"], 4, (point) => number(point.hold_up_peak)),
  ];
}
