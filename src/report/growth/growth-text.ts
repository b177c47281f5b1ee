/** A growth study for the terminal: findings, and a row for each size. */
import type { Growth, GrowthStep } from "../../study/comparison/results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash } from "../text/cells.ts";
import { longRun, number } from "../text/figures.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { type Column, endsOf, table } from "../text/table.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";
import { growthAnswer } from "./growth-answer.ts";
import { growthFindings } from "./growth-findings.ts";

const FEW_SIZES = 18;
const MOST_SIZES = 60;

/** @returns lines with a line break at the end of each */
export function growthText(growth: Growth, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: growth.title,
    answer: growthAnswer(growth),
    table: sizeLines(growth.sizes, style, shown.details === true ? MOST_SIZES : FEW_SIZES),
    details: [
      growthFindings(growth).flatMap(({ code, text }) =>
        bullet(text).map(code === "too-small" && growth.too_small !== null ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

function sizeLines(all: readonly GrowthStep[], style: Style, most: number): string[] {
  const { shown, between } = endsOf(all, most, "growth.csv");
  const { heading, rows } = table(columns(shown), COLUMNS);
  return [...heading.map(style.heading), ...between(rows)];
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
