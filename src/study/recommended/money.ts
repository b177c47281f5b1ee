/** What starts of a line come to in money, where the file says what a product is worth. */
import { exactOrNull, lossMoney, perYear } from "../../analysis/money.ts";
import { measured } from "../../quantity/money.ts";
import { type Rational, rational, ZERO } from "../../quantity/rational.ts";
import type { Costs } from "../../scenario/costs.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { NO_TACTIC, type Played } from "../play.ts";
import type { StartMoney, TacticResult } from "../results.ts";
import { handsPerMin } from "../set-rates.ts";

type Outcome = Pick<TacticResult, "ramp_up_loss" | "items_handled" | "slower_for_good">;

/** An entry for what is told of each start, or none. */
export type MoneyOf = (tactic: Played["tactic"], outcome: Outcome, none: Outcome) => { readonly money?: StartMoney };

export function moneyIn({ costs, means }: Pick<Scenario, "costs" | "means">): MoneyOf {
  return (tactic, outcome, none) => {
    const { money } = lossMoney(costs, outcome.ramp_up_loss);
    if (!money || !costs) return {};
    const minutes =
      tactic.prefill === null ? ZERO : measured(outcome.items_handled).div(handsPerMin(tactic.prefill, means));
    const hands = handsFor(costs, minutes);
    const before = lossMoney(costs, none.ramp_up_loss).money?.loss_per_start ?? null;
    const own = money.loss_per_start;
    const isKnown = own !== null && before !== null && hands !== null && !outcome.slower_for_good;
    const saved = tactic.id === NO_TACTIC.id || !isKnown ? null : rational(before).sub(rational(own)).sub(hands);
    return {
      money: {
        ...money,
        hands_per_start: exactOrNull(hands),
        saved_per_start: exactOrNull(saved),
        saved_per_year: exactOrNull(perYear(costs, saved)),
      },
    };
  };
}

function handsFor({ handsPerHour }: Costs, minutes: Rational): Rational | null {
  if (minutes.n === 0n) return ZERO;
  return handsPerHour && minutes.div(60n).mul(handsPerHour);
}

/** What a start costs, its loss and its hands together, for the rule of recommendations; `null`: not known. */
export function costOf({ money }: { readonly money?: StartMoney }): number | null {
  if (money === undefined || money.loss_per_start === null || money.hands_per_start === null) return null;
  return rational(money.loss_per_start).add(rational(money.hands_per_start)).valueOf();
}
