/** Tactics compared on the same luck, for the terminal. */

import type { SameLuck } from "../../study/luck-results.ts";
import type { Comparison, TacticResult } from "../../study/results.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { lossMinColumn, luckColumns, TO_95 } from "../luck/luck-table.ts";
import { nameOf } from "../text/baseline.ts";
import { duration } from "../text/figures.ts";
import { count, inReport, rate, type StudyColumn, terminalTable } from "../text/study-table.ts";
import { tacticText } from "../text/tactic-words.ts";
import { bullet, COLUMNS, HANDS, handCautions, type Style } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";
import { byHand, choiceTable } from "./choice-table.ts";
import { luckComparisonAnswer } from "./luck-comparison-answer.ts";
import { luckComparisonFindings, WHAT_COUNTS_ON_LUCK } from "./luck-comparison-findings.ts";
import { BEATEN_BY, CHOICE, FIRST_AND_HELD, NAME } from "./tactics-table.ts";

export function luckComparisonText(comparison: Comparison, luck: SameLuck, style: Style, shown: Shown): string {
  const { tactics } = comparison;
  const columns = luckComparisonColumns(luck);
  const page = {
    title: comparison.title,
    answer: luckComparisonAnswer(comparison, luck),
    table: choiceTable(comparison, () => columns, style),
    isWholeInDetails: true,
    details: [
      luckComparisonFindings(comparison, luck).flatMap(({ code, text }) =>
        bullet(text).map(WARNINGS.has(code) ? style.warning : (line) => line),
      ),
      terminalTable(columns, tactics, style),
      [
        ...wrap(`* Not beaten: no other is told better in one of ${WHAT_COUNTS_ON_LUCK}, and worse in none.`, COLUMNS),
        ...wrap(
          `Lost: up to ${duration(luck.counted_from_min)}, against what the line makes once settled. From none: less ${nameOf("none")}, replication by replication, with half of the 95 % interval for all together; ? tells nothing.`,
          COLUMNS,
        ),
      ],
      tactics.flatMap(({ id, does }) => bullet(`${oneLine(id)}: ${oneLine(tacticText(does))}`)),
      handCautions(byHand(tactics), style),
    ],
    caution: byHand(tactics).length > 0 ? HANDS : null,
  };
  return pageText(page, style, shown);
}

const WARNINGS: ReadonlySet<string> = new Set(["stopped", "no-end", "note"]);

export function luckComparisonColumns(luck: SameLuck): StudyColumn<TacticResult>[] {
  return [
    NAME,
    CHOICE,
    count((tactic) => tactic.ramp_up_loss, { markdown: "lost, items" }),
    ...luckColumns<TacticResult>(luck, "ramp_up_loss"),
    lossMinColumn(luck),
    TO_95,
    count((tactic) => tactic.items_handled, { markdown: "handled, items", terminal: ["handled|items", 9] }),
    rate((tactic) => tactic.settled_per_min, { markdown: "settled, items/min" }),
    ...luckColumns<TacticResult>(luck, "settled_output_per_min").slice(0, 1),
    ...luckColumns<TacticResult>(luck, "hold_up_settled").slice(0, 1),
    ...inReport(FIRST_AND_HELD),
    BEATEN_BY,
  ];
}
