/** A sweep for the terminal: the answer, and a row for each point. */
import type { Sweep } from "../../study/sweep/sweep-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { terminalTable } from "../text/study-table.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { bullet } from "../text/terminal-lines.ts";
import { sweepAnswer } from "./sweep-answer.ts";
import { sweepFindings } from "./sweep-findings.ts";
import { sweepColumns } from "./sweep-table.ts";

const FEW_POINTS = 12;
const MOST_POINTS = 60;

/** @returns lines with a line break at the end of each */
export function sweepText(sweep: Sweep, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: sweep.title,
    answer: sweepAnswer(sweep),
    table: terminalTable(sweepColumns(sweep), sweep.points, style, {
      most: shown.details === true ? MOST_POINTS : FEW_POINTS,
      file: "sweep.csv",
    }),
    details: [
      sweepFindings(sweep).flatMap(({ code, text }) =>
        bullet(text).map(code === "incomplete" || code === "stops" ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}
