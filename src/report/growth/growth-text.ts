/** A growth study for the terminal: findings, and a row for each size. */
import type { Growth } from "../../study/comparison/results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { terminalTable } from "../text/study-table.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { bullet } from "../text/terminal-lines.ts";
import { growthAnswer } from "./growth-answer.ts";
import { growthFindings } from "./growth-findings.ts";
import { GROWTH_COLUMNS } from "./growth-table.ts";

const FEW_SIZES = 18;
const MOST_SIZES = 60;

/** @returns lines with a line break at the end of each */
export function growthText(growth: Growth, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: growth.title,
    answer: growthAnswer(growth),
    table: terminalTable(GROWTH_COLUMNS, growth.sizes, style, {
      most: shown.details === true ? MOST_SIZES : FEW_SIZES,
      file: "growth.csv",
    }),
    details: [
      growthFindings(growth).flatMap(({ code, text }) =>
        bullet(text).map(code === "too-small" && growth.too_small !== null ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}
