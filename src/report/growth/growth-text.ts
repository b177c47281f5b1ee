/** A growth study for the terminal: findings, and a row for each size. */
import type { Growth, GrowthStep } from "../../study/results.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash } from "../cells.ts";
import { longRun, number, plain } from "../figures.ts";
import { PLAIN_STYLE, type Style } from "../summary.ts";
import { type Column, table } from "../table.ts";
import { bullet, COLUMNS } from "../terminal-lines.ts";
import { oneLine, wrap } from "../text-width.ts";
import { growthFindings } from "./growth-findings.ts";

const MOST_SIZES = 60;
const FIRST_SHOWN = 30;
const LAST_SHOWN = 20;

/** @returns lines with a line break at the end of each */
export function growthText(growth: Growth, style: Style = PLAIN_STYLE): string {
  const lines = [
    ...wrap(oneLine(growth.title), COLUMNS).map(style.title),
    "",
    ...growthFindings(growth).flatMap(({ code, text }) =>
      bullet(text).map(code === "too-small" && growth.too_small !== null ? style.warning : (line) => line),
    ),
    "",
    ...sizeLines(growth.sizes, style),
  ];
  return `${lines.map(plain).join("\n")}\n`;
}

function sizeLines(all: readonly GrowthStep[], style: Style): string[] {
  const few = all.length <= MOST_SIZES;
  const shown = few ? all : [...all.slice(0, FIRST_SHOWN), ...all.slice(-LAST_SHOWN)];
  const { heading, rows } = table(columns(shown), COLUMNS);
  if (few) return [...heading.map(style.heading), ...rows];
  const left = `… ${all.length - shown.length} more, in growth.csv`;
  return [...heading.map(style.heading), ...rows.slice(0, FIRST_SHOWN), left, ...rows.slice(FIRST_SHOWN)];
}

function columns(sizes: readonly GrowthStep[]): Column[] {
  const column = (heading: readonly string[], importance: number, cell: (step: GrowthStep) => string): Column => ({
    heading,
    importance,
    cells: sizes.map(cell),
    align: "right",
  });
  return [
    column(["machines"], 99, (step) => number(step.machines)),
    column(["need", "/min"], 6, (step) => exactRateOrDash(step.needs_per_min)),
    column(["feed", "/min"], 3, (step) => exactRateOrDash(step.feed_per_min)),
    column(["settled", "/min"], 5, (step) => rateOrDash(longRun(step))),
    column(["settles", "at", "min"], 10, (step) => minutesOrDash(step.settling_min)),
    column(["95 %", "from", "min"], 7, (step) => minutesOrDash(step.within_tolerance_min)),
    column(["lost", "items"], 9, (step) => countOrDash(step.ramp_up_loss)),
    column(["hold-up", "items"], 8, (step) => number(step.hold_up_settled)),
    column(["headroom", "/min"], 4, (step) => exactRateOrDash(step.headroom_per_min)),
    {
      heading: ["on belt"],
      importance: 2,
      align: "left",
      cells: sizes.map(({ tightest_belt: belt }) => (belt === null ? "–" : oneLine(belt))),
    },
  ];
}
