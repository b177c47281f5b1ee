/** The best few under chance: played again on the same luck, so that what is best only without stops is found out. */

import type { Scenario } from "../../scenario/scenario.ts";
import type { Comparison } from "../comparison/results.ts";
import { NO_TACTIC } from "../play.ts";
import { keepsReserve } from "../recommended/recommended.ts";
import type { BestFound } from "./best.ts";
import type { UnderChance } from "./best-results.ts";
import { cardOf } from "./card.ts";

/** Besides doing nothing. */
const FEW = 5;

/** What is recommended, then those of the list that leave the stock, the least loss first. */
export function bestFew({ study, tactics }: BestFound): BestFound["tactics"] {
  const rank = ({ id, ramp_up_loss, reserve_kept }: BestFound["study"]["starts"][number]): readonly number[] => [
    id === study.recommended ? 0 : keepsReserve({ reserveKept: reserve_kept ?? 0 }) ? 1 : 2,
    ramp_up_loss ?? Infinity,
  ];
  const inOrder = study.starts.toSorted((a, b) => {
    const [[own = 0, lost = 0], [its = 0, itsLost = 0]] = [rank(a), rank(b)];
    return own - its || (lost < itsLost ? -1 : lost > itsLost ? 1 : 0);
  });
  return inOrder.flatMap(({ id }) => tactics.find((one) => one.id === id) ?? []).slice(0, FEW);
}

/**
 * What leads is recommended where it is told apart; else what was best without chance stays so only if it makes no less.
 * @param comparison of the best few on the same luck
 */
export function withLuck(found: BestFound, comparison: Comparison, scenario: Scenario): BestFound {
  const { replications: luck, best_without_reserve, tactics } = comparison;
  if (luck === undefined) return found;
  const { study } = found;
  const isLess = (id: string): boolean => luck.slower_for_good.includes(id) || best_without_reserve === id;
  const stays = study.recommended !== null && !isLess(study.recommended) ? study.recommended : NO_TACTIC.id;
  const recommended = comparison.winner ?? stays;
  const under_chance: UnderChance = {
    n: luck.n,
    best_without: study.recommended,
    is_told: comparison.winner !== null,
    starts: tactics.map(({ id, ramp_up_loss, to_95_min }) => ({ id, ramp_up_loss, to_95_min, makes_less: isLess(id) })),
  };
  const chosen = study.starts.find(({ id }) => id === recommended);
  const tactic = found.tactics.find(({ id }) => id === recommended);
  const card = chosen === undefined || tactic === undefined ? [] : cardOf(scenario, tactic, chosen.placed);
  return {
    ...found,
    study: { ...study, recommended, card, under_chance },
    comparison: { ...comparison, winner: recommended },
  };
}
