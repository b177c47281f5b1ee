/**
 * How many stops of each stated kind were seen, in one run or several together. A mean that hangs on a handful of stops is too
 * sure of itself: its interval is made from the same handful, and without any it has no width at all. Hence none before fifty.
 */
import type { StopKind } from "../network/random-program.ts";
import type { StopCount } from "./chance-results.ts";

const LEAST_STOPS = 50;
/** Stops asked for, so that there will be fifty in all likelihood: 66 less two standard deviations. */
const STOPS_ASKED = 66;
/** Fewer tell less of how often they come than the file does. */
const FEW_STOPS = 10;

/** @param seen by kind, in `runs` runs of `horizonMin` */
export function stopCounts(
  kinds: readonly StopKind[],
  seen: readonly number[],
  { runs, horizonMin }: { readonly runs: number; readonly horizonMin: number },
): StopCount[] {
  return kinds.map(({ what, of, perMin }, k) => {
    const count = seen[k] ?? 0;
    const each = count < FEW_STOPS ? perMin * horizonMin : count / runs;
    const isEnough = count >= LEAST_STOPS;
    return {
      what,
      of,
      seen: count,
      enough: isEnough,
      replications_needed: isEnough ? null : Math.ceil(STOPS_ASKED / each),
    };
  });
}

export function stopsAreEnough(stops: readonly StopCount[]): boolean {
  return stops.every(({ enough }) => enough);
}
