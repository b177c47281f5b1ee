/** What a played tactic gives, with the clock started when the feed could have. */
import { approximate, rational } from "../quantity/rational.ts";
import { overLimits } from "./over-limits.ts";
import type { Played } from "./play.ts";
import type { TacticResult } from "./results.ts";

export type TacticOutcome = Pick<
  TacticResult,
  | "settled_per_min"
  | "settling_min"
  | "proved"
  | "to_95_min"
  | "ramp_up_loss"
  | "items_handled"
  | "first_product_min"
  | "hold_up_peak"
  | "hold_up_settled"
  | "over_limit_min"
  | "over_limit_items"
>;

export function outcomeOf({ result, startsAfterMin, itemsHandled }: Played): TacticOutcome {
  const late = (minutes: number | null): number | null => (minutes === null ? null : minutes + startsAfterMin);
  const { settling, output, hold_up: holdUp } = result;
  const lost = output.ramp_up_loss;
  return {
    settled_per_min: settledPerMin(result.output),
    settling_min: late(settling.time_min),
    proved: settling.proved,
    to_95_min: late(settling.to_95_min),
    ramp_up_loss: lost === null ? null : lost + startsAfterMin * (settledPerMin(result.output) ?? 0),
    items_handled: itemsHandled,
    first_product_min: late(settling.first_product_min),
    hold_up_peak: holdUp.peak,
    hold_up_settled: holdUp.settled,
    ...overLimits(result),
  };
}

/** Whether the line makes less in the long run than without the tactic, by more than rounding. */
export function isSlowerForGood(
  outcome: Pick<TacticOutcome, "settled_per_min">,
  baselinePerMin: number | null,
): boolean {
  return (outcome.settled_per_min ?? 0) < (baselinePerMin ?? 0) * (1 - 1e-9);
}

export function settledPerMin(output: Played["result"]["output"]): number | null {
  return output.settled_per_min === null
    ? (output.measured_per_min ?? null)
    : approximate(rational(output.settled_per_min));
}
