/** The best few under chance: played again on the same luck, so that what is best only without stops is found out. */

import type { Scenario } from "../../scenario/scenario.ts";
import type { LuckFigure } from "../luck-results.ts";
import { NO_TACTIC } from "../play.ts";
import { keepsReserve } from "../recommended/recommended.ts";
import type { Comparison } from "../results.ts";
import type { BestFound } from "./best.ts";
import type { BestStart, UnderChance } from "./best-results.ts";
import { cardOf } from "./card.ts";

/** Besides doing nothing. */
const FEW = 5;

/** What is recommended, what is known without a search, then those of the list that leave the stock, the least loss first. */
export function bestFew({ study, beside, tactics }: BestFound): BestFound["tactics"] {
  const rank = ({ id, reserve_kept }: BestStart): number =>
    id === study.recommended ? 0 : id === beside?.id ? 1 : keepsReserve({ reserveKept: reserve_kept ?? 0 }) ? 2 : 3;
  const lostBy = ({ ramp_up_loss: lost }: BestStart): number => lost ?? Number.MAX_VALUE;
  const all = [...study.starts, ...(beside === null ? [] : [beside])];
  const inOrder = all.toSorted((a, b) => rank(a) - rank(b) || lostBy(a) - lostBy(b));
  return inOrder.flatMap(({ id }) => tactics.find((one) => one.id === id) ?? []).slice(0, FEW);
}

/** @param comparison of the best few on the same luck */
export function withLuck(found: BestFound, comparison: Comparison, scenario: Scenario): BestFound {
  const { replications: luck, best_without_reserve, tactics } = comparison;
  if (luck === undefined) return found;
  const { study } = found;
  const isLess = (id: string): boolean => luck.slower_for_good.includes(id) || best_without_reserve === id;
  const before = study.recommended ?? NO_TACTIC.id;
  const recommended = comparison.winner ?? leftOn(luck.deciding, before) ?? (isLess(before) ? NO_TACTIC.id : before);
  const under_chance: UnderChance = {
    n: luck.n,
    best_without: study.recommended,
    is_told: comparison.winner !== null,
    starts: tactics.map(({ id, ramp_up_loss, to_95_min }) => ({ id, ramp_up_loss, to_95_min, makes_less: isLess(id) })),
  };
  const starts =
    found.beside === null || found.beside.id !== recommended
      ? study.starts
      : [...study.starts, found.beside].toSorted((a, b) => a.items_handled - b.items_handled);
  const chosen = starts.find(({ id }) => id === recommended);
  const tactic = found.tactics.find(({ id }) => id === recommended);
  const card = chosen === undefined || tactic === undefined ? [] : cardOf(scenario, tactic, chosen.placed);
  return {
    ...found,
    study: { ...study, recommended, starts, card, under_chance },
    comparison: { ...comparison, winner: recommended },
  };
}

/**
 * Where none is told to lose least: what was best without chance stays, unless it is told to lose more than what leads, or seems to
 * lose more than doing nothing; then doing nothing, unless that is told to lose more, too; then what leads.
 */
function leftOn(deciding: LuckFigure | undefined, before: string): string | null {
  const leader = deciding?.leader ?? null;
  if (deciding === undefined || leader === null) return null;
  const isOpen = (id: string): boolean => id === leader || deciding.not_told_apart.includes(id);
  const more = deciding.variants.find(({ id }) => id === before)?.from_baseline?.mean ?? 0;
  if (isOpen(before) && more <= 0) return before;
  return isOpen(NO_TACTIC.id) ? NO_TACTIC.id : leader;
}
