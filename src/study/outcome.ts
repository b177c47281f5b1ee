/** What a played tactic gives, with the clock started when the feed could have. */

import type { Outline } from "../analysis/analyse.ts";
import { amountUpTo } from "../analysis/events.ts";
import { approximate, rational } from "../quantity/rational.ts";
import { overLimits } from "./over-limits.ts";
import type { Played } from "./play.ts";
import type { MadeUpTo, TacticResult } from "./results.ts";

export type TacticOutcome = Pick<
  TacticResult,
  | "settled_per_min"
  | "stops_at_min"
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
  // What counts from the last change of a feed's profile does so whenever the line was started.
  const counted = (minutes: number | null): number | null =>
    result.settling.counted_from_min === 0 ? late(minutes) : minutes;
  const { settling, output, hold_up: holdUp } = result;
  const settledRate = settledPerMin(output);
  const isStopped = makesNothing({ settled_per_min: settledRate });
  const lost = isStopped ? null : output.ramp_up_loss;
  return {
    settled_per_min: settledRate,
    stops_at_min: late(stopsAtMin(result)),
    settling_min: isStopped ? null : counted(settling.time_min),
    proved: settling.proved,
    to_95_min: isStopped ? null : counted(settling.to_95_min),
    ramp_up_loss: lost === null ? null : lost + startsAfterMin * (settledRate ?? 0),
    items_handled: itemsHandled,
    first_product_min: late(settling.first_product_min),
    hold_up_peak: holdUp.peak,
    hold_up_settled: holdUp.settled,
    ...overLimits(result),
  };
}

/** A standstill is no settled output, however soon it comes. */
export function makesNothing({ settled_per_min: settled }: Pick<TacticOutcome, "settled_per_min">): boolean {
  return settled === 0;
}

/** From when a line that is known to stop for good makes nothing; `null` where it goes on, or that is only measured. */
export function stopsAtMin({ settling, output }: Pick<Outline, "settling" | "output">): number | null {
  const stops = output.settled_per_min !== null && settledPerMin(output) === 0;
  return stops && settling.time_min !== null ? settling.counted_from_min + settling.time_min : null;
}

/** Then every line stops, and it is no jam that stops it. */
export function feedEnds({ feeds }: Pick<Outline, "feeds">): boolean {
  return feeds.every((feed) => rational(feed.rate_per_min).compare(0) === 0);
}

export function settledPerMin(output: Pick<Outline["output"], "settled_per_min" | "measured_per_min">): number | null {
  return output.settled_per_min === null
    ? (output.measured_per_min ?? null)
    : approximate(rational(output.settled_per_min));
}

export function madeUpTo({ output, startsAfterMin }: Played): MadeUpTo {
  const upTo = (minutes: number): number | null => {
    const tick = Math.floor((minutes - startsAfterMin) / output.minutesPerTick);
    return tick > output.endTick ? null : amountUpTo(output.made, tick);
  };
  return { min_10: upTo(10), min_30: upTo(30), min_60: upTo(60) };
}
