/** A sweep for the terminal: findings, and a row for each point. */
import type { Sweep, SweepPoint } from "../../study/sweep-results.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash } from "../cells.ts";
import { number, plain } from "../figures.ts";
import { PLAIN_STYLE, type Style } from "../style.ts";
import { type Column, table } from "../table.ts";
import { bullet, COLUMNS } from "../terminal-lines.ts";
import { oneLine, wrap } from "../text-width.ts";
import { outputPerMin } from "./sweep-figures.ts";
import { sweepFindings } from "./sweep-findings.ts";

const MOST_POINTS = 60;
const FIRST_SHOWN = 30;
const LAST_SHOWN = 20;

/** @returns lines with a line break at the end of each */
export function sweepText(sweep: Sweep, style: Style = PLAIN_STYLE): string {
  const lines = [
    ...wrap(oneLine(sweep.title), COLUMNS).map(style.title),
    "",
    ...sweepFindings(sweep).flatMap(({ code, text }) =>
      bullet(text).map(code === "incomplete" || code === "stops" ? style.warning : (line) => line),
    ),
    "",
    ...pointLines(sweep, style),
  ];
  return `${lines.map(plain).join("\n")}\n`;
}

function pointLines(sweep: Sweep, style: Style): string[] {
  const { points: all } = sweep;
  const few = all.length <= MOST_POINTS;
  const shown = few ? all : [...all.slice(0, FIRST_SHOWN), ...all.slice(-LAST_SHOWN)];
  const { heading, rows } = table(columns(sweep, shown), COLUMNS);
  if (few) return [...heading.map(style.heading), ...rows];
  const left = `… ${all.length - shown.length} more, in sweep.csv`;
  return [...heading.map(style.heading), ...rows.slice(0, FIRST_SHOWN), left, ...rows.slice(FIRST_SHOWN)];
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
