/** What of a feed is left to chance: gaps and lateness of its items, drawn one by one as they are needed. */
import { AHEAD, createDraws } from "../../../src/engine/random/draws.ts";
import type { Program } from "../../../src/network/program.ts";

export interface FeedChance {
  readonly isGated: (feed: number) => boolean;
  readonly hasGaps: (feed: number) => boolean;
  /** Ticks to the next item where the rate's interval is so many; `null` where it is always that. */
  readonly gap: (feed: number, interval: number) => number | null;
  readonly lateness: (feed: number) => number;
  /** By feed: how late its next item is. */
  readonly late: Int32Array;
  /** By feed: for how many ticks the line has held it up since a vehicle has been waiting. */
  readonly vehicleHeld: Int32Array;
}

export function feedChance({ feed, random }: Program, seed: string): FeedChance {
  const draws = createDraws(random ?? { streams: [] }, seed);
  const ahead = new Map<number, number[]>();
  const next = (stream: number): number => {
    const ring = new Int32Array((random?.streams.length ?? 0) * AHEAD);
    const waiting = ahead.get(stream) ?? [];
    if (waiting.length === 0) {
      draws.refill(stream, ring);
      waiting.push(...ring.subarray(stream * AHEAD, (stream + 1) * AHEAD));
    }
    ahead.set(stream, waiting);
    return waiting.shift() ?? 0;
  };
  const interval = (f: number): number => random?.feed.interval[f] ?? -1;
  const jitter = (f: number): number => random?.feed.jitter[f] ?? -1;
  const lateness = (f: number): number => (jitter(f) < 0 ? 0 : next(jitter(f)));
  return {
    isGated: (f) => interval(f) >= 0 || jitter(f) >= 0,
    hasGaps: (f) => interval(f) >= 0,
    gap: (f, ticks) => (interval(f) < 0 ? null : draws.nextOf(interval(f), ticks)),
    lateness,
    vehicleHeld: new Int32Array(feed.count),
    late: Int32Array.from({ length: feed.count }, (_, f) => lateness(f)),
  };
}
