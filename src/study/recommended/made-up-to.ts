/**
 * What a start of the line makes up to any time once it has settled, on average over its settled pattern, on the clock that
 * starts when the feed could have: so that starts are compared at one rate, up to one end.
 */
import { amountUpTo } from "../../analysis/events.ts";
import { makesNothing, settledPerMin } from "../outcome.ts";
import type { Played } from "../play.ts";

export interface Pace {
  /** What it makes in the long run; `null`: not settled as far as is known. */
  readonly perMin: number | null;
  readonly isSlower: boolean;
  /** From here it has settled, or stopped. */
  readonly settledMin: number | null;
  /** Products up to a time from then on, on average; `null`: not known. */
  readonly madeBy: (minutes: number) => number | null;
}

/**
 * @param reference the rate that it is held to: where the two differ by no more than measuring may, they are the same. Its own
 *   if left out
 */
export function paceOf(played: Played, reference: number | null): Pace {
  const { result, output, startsAfterMin } = played;
  const { settling } = result;
  const own = settledPerMin(result.output);
  const countedMin = settling.counted_from_min;
  const isSettled = settling.time_min !== null;
  const settledMin = settling.time_min === null ? null : countedMin + settling.time_min + startsAfterMin;
  const made = (minutes: number): number =>
    amountUpTo(output.made, Math.min(output.endTick, Math.floor(minutes / output.minutesPerTick + 1e-6)));
  if (own === null || (!isSettled && !makesNothing({ settled_per_min: own }))) {
    return { perMin: null, isSlower: false, settledMin: null, madeBy: () => null };
  }
  const isMeasured = result.output.settled_per_min === null;
  const apart = isMeasured ? output.oneCycle / (result.horizon_min / 2) : 0;
  const isSame = reference !== null && Math.abs(own - reference) <= Math.max(apart, reference * 1e-9);
  const perMin = isSame ? reference : own;
  const isSlower = !isSame && own < (reference ?? 0);
  const lost = result.output.ramp_up_loss;
  if (own === 0 || lost === null) {
    // What stops has made all; where buffers still move, what is gained by them is not known yet.
    return { perMin, isSlower, settledMin, madeBy: () => (own === 0 ? made(result.horizon_min) : null) };
  }
  const before = countedMin === 0 ? 0 : made(countedMin);
  // A rate that is only measured holds in the middle of what it was measured over.
  const seenMin = isMeasured ? (result.horizon_min - countedMin) * 0.75 : 0;
  return {
    perMin,
    isSlower,
    settledMin,
    madeBy: (minutes) => before + own * seenMin - lost + perMin * (minutes - startsAfterMin - countedMin - seenMin),
  };
}
