/** Tactics compared on the same luck, for the terminal. */

import type { Comparison, TacticResult } from "../../study/comparison/results.ts";
import type { SameLuck } from "../../study/luck/luck-results.ts";
import { pageText, type Shown } from "../answer/page.ts";
import { nameOf } from "../comparison/baseline.ts";
import { byHand, choiceTable, wholeTable } from "../comparison/choice-table.ts";
import { duration, number } from "../text/figures.ts";
import type { Column } from "../text/table.ts";
import type { Style } from "../text/terminal-lines.ts";
import { bullet, COLUMNS, HANDS, handCautions } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";
import { luckComparisonAnswer } from "./luck-comparison-answer.ts";
import { luckComparisonFindings, WHAT_COUNTS_ON_LUCK } from "./luck-comparison-findings.ts";
import { lossMinColumn, luckColumns, to95Column } from "./luck-table.ts";

export function luckComparisonText(comparison: Comparison, luck: SameLuck, style: Style, shown: Shown): string {
  const { tactics } = comparison;
  const columnsOf = (those: readonly TacticResult[]): Column[] => luckComparisonColumns(those, luck);
  const page = {
    title: comparison.title,
    answer: luckComparisonAnswer(comparison, luck),
    table: choiceTable(comparison, columnsOf, style),
    isWholeInDetails: true,
    details: [
      luckComparisonFindings(comparison, luck).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      wholeTable(tactics, columnsOf, style),
      [
        ...wrap(`* Not beaten: no other is told better in one of ${WHAT_COUNTS_ON_LUCK}, and worse in none.`, COLUMNS),
        ...wrap(
          `Lost: up to ${duration(luck.counted_from_min)}, against what the line makes once settled. From none: less ${nameOf("none")}, replication by replication, with half of the 95 % interval for all together; ? tells nothing.`,
          COLUMNS,
        ),
      ],
      tactics.flatMap(({ id, does }) => bullet(`${oneLine(id)}: ${oneLine(does)}`)),
      handCautions(byHand(tactics), style),
    ],
    caution: byHand(tactics).length > 0 ? HANDS : null,
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "no-end", "note"]);

export function luckComparisonColumns(tactics: readonly TacticResult[], luck: SameLuck): Column[] {
  const ids = tactics.map(({ id }) => id);
  return [
    {
      heading: ["  tactic"],
      importance: 99,
      align: "left",
      cells: tactics.map(({ id, undominated }) => `${undominated ? "*" : " "} ${oneLine(id)}`),
    },
    ...luckColumns(luck, "ramp_up_loss", ids),
    lossMinColumn(luck, ids),
    to95Column(tactics),
    {
      heading: ["handled", "items"],
      importance: 9,
      align: "right",
      cells: tactics.map(({ items_handled: handled }) => number(handled)),
    },
    ...luckColumns(luck, "settled_output_per_min", ids).slice(0, 1),
    ...luckColumns(luck, "hold_up_settled", ids).slice(0, 1),
  ];
}
