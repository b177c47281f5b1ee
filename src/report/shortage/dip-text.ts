/** A study of a dip for the terminal: findings, and a row for each variant. */
import type { Dip } from "../../study/shortage/shortage-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { terminalTable } from "../text/study-table.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { bullet } from "../text/terminal-lines.ts";
import { dipAnswer } from "./dip-answer.ts";
import { dipFindings } from "./dip-findings.ts";
import { dipColumns } from "./dip-table.ts";

/** @returns lines with a line break at the end of each */
export function dipText(dip: Dip, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: dip.title,
    answer: dipAnswer(dip),
    table: terminalTable(dipColumns(dip), dip.results, style),
    details: [
      dipFindings(dip).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
    ],
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "limits", "not-recovered", "early", "tree-needs"]);
