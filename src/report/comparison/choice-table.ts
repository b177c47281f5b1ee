/** The table of tactics for a terminal: where there are many, those that are not beaten and what is told of; all in details. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { BASELINE } from "../text/baseline.ts";
import { type StudyColumn, terminalTable } from "../text/study-table.ts";
import type { Style } from "../text/terminal-lines.ts";
import { oneLine } from "../text/text-width.ts";

const MOST_ROWS = 11;

type ColumnsOf = (tactics: readonly TacticResult[]) => readonly StudyColumn<TacticResult>[];

export function choiceTable(comparison: Comparison, columns: ColumnsOf, style: Style): string[] {
  const { tactics } = comparison;
  const shown = tactics.length <= MOST_ROWS + 1 ? tactics : chosen(comparison);
  const left = tactics.length - shown.length;
  const more = left === 0 ? [] : [`… ${left} more, beaten or no better: --details, or comparison.csv`];
  return [...terminalTable(columns(shown), shown, style), ...more];
}

/** Those that are told of first, then those not beaten, then the least loss; in their order. */
function chosen(comparison: Comparison): TacticResult[] {
  const { tactics, winner, best_without_reserve, best_with_hands, best_with_other_means } = comparison;
  const told = new Set([BASELINE, winner, best_without_reserve, best_with_hands, best_with_other_means]);
  const rank = (one: TacticResult): number => (told.has(one.id) ? 0 : one.undominated ? 1 : 2);
  const loss = (one: TacticResult): number => one.ramp_up_loss ?? Infinity;
  const inOrder = tactics.toSorted((a, b) => rank(a) - rank(b) || (loss(a) < loss(b) ? -1 : loss(a) > loss(b) ? 1 : 0));
  const kept = new Set(inOrder.slice(0, MOST_ROWS));
  return tactics.filter((one) => kept.has(one));
}

/** Tactics that need hands in the line. */
export function byHand(tactics: readonly TacticResult[]): string[] {
  return tactics.filter(({ by_hand: hands }) => hands).map(({ id }) => oneLine(id));
}
