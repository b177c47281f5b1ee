/** A fit for the terminal: the answer, and a row for each unknown. */
import type { Fit } from "../../study/fit/fit-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { terminalTable } from "../text/study-table.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { bullet } from "../text/terminal-lines.ts";
import { fitAnswer } from "./fit-answer.ts";
import { type FitFindingCode, fitFindings } from "./fit-findings.ts";
import { UNKNOWN_COLUMNS } from "./fit-table.ts";

const WARNED: readonly FitFindingCode[] = ["misfit", "alone-no-matter", "combination", "untold", "at-bound", "starts"];

/** @returns lines with a line break at the end of each */
export function fitText(fit: Fit, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: fit.title,
    answer: fitAnswer(fit),
    table: terminalTable(UNKNOWN_COLUMNS, fit.unknowns, style),
    details: [
      fitFindings(fit).flatMap(({ code, text }) =>
        bullet(text).map(WARNED.includes(code) ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}
