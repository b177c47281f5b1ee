/** A study of short feeds for the terminal: the answer and a row for each level; a row for each variant as details. */
import type { Shortage } from "../../study/shortage/shortage-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { terminalTable } from "../text/study-table.ts";
import { PLAIN_STYLE, type Style } from "../text/style.ts";
import { bullet, COLUMNS } from "../text/terminal-lines.ts";
import { wrap } from "../text/text-width.ts";
import { shortageAnswer } from "./shortage-answer.ts";
import { shortageFindings } from "./shortage-findings.ts";
import { levelColumns, levelRows, shortageColumns } from "./shortage-table.ts";

const MOST_ROWS = 80;

/** @returns lines with a line break at the end of each */
export function shortageText(shortage: Shortage, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const page = {
    title: shortage.title,
    answer: shortageAnswer(shortage),
    table: levelLines(shortage, style),
    isWholeInDetails: true,
    details: [
      shortageFindings(shortage).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      rowLines(shortage, style),
      [
        ...wrap(
          "Fully: machines at 99.9 % of their need or more. Least: the least share of its need that a machine has.",
          COLUMNS,
        ),
        ...wrap("Low and high: of the settled output, averaged over about ten cycles of each machine.", COLUMNS),
      ],
    ],
  };
  return pageText(page, style, shown);
}

const MOST_LEVELS = 16;

function levelLines(shortage: Shortage, style: Style): string[] {
  const { levels } = shortage;
  return [
    ...terminalTable(levelColumns(shortage), levels.slice(0, MOST_LEVELS), style),
    ...levelsLeft(levels.length - MOST_LEVELS),
  ];
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "held", "swing", "products", "tree-needs", "unsettled"]);

/** Whole levels, as many as there is room for. */
function rowLines(shortage: Shortage, style: Style): string[] {
  const most = Math.max(1, Math.floor(MOST_ROWS / shortage.variants.length));
  const rows = terminalTable(shortageColumns(shortage), levelRows(shortage, most), style);
  return [...rows, ...levelsLeft(shortage.levels.length - most)];
}

function levelsLeft(left: number): string[] {
  return left > 0 ? [`… ${left} more ${left === 1 ? "level" : "levels"}, in shortage.csv`] : [];
}
