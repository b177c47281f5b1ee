/** The time after which all vehicles stand as before. */
import type { Program } from "../network/program.ts";
import { commonDivisor } from "../quantity/counts.ts";

/** The least time that is a whole number of ticks and of every feed's intervals between vehicles, in ticks; 1 without. */
export function vehicleIntervalTicks({ feed, pace }: Program): number {
  let common = 1;
  for (let f = 0; f < feed.count; f++) {
    if (feed.batchItems[f] === 0) continue;
    const vehicle = feed.count + f;
    // As many intervals as make whole ticks.
    const ticks = pace.whole[vehicle]! * pace.parts[vehicle]! + pace.rest[vehicle]!;
    common *= ticks / commonDivisor([common, ticks]);
    if (common > Number.MAX_SAFE_INTEGER) return Infinity;
  }
  return common;
}
