/**
 * What one run under chance tells of its long run: the ramp-up cut off by MSER-5, and an interval for the settled output by
 * batch means of what follows.
 */
import type { Run } from "../engine/simulate.ts";
import type { Chance } from "./chance-results.ts";
import { type Events, eventsOf } from "./events.ts";
import { outputPerCycle } from "./products.ts";
import { batchMeansInterval } from "./statistics/batch-means.ts";
import { meansOfBatches } from "./statistics/batches.ts";
import { mser5 } from "./statistics/mser.ts";

/** Batch means start from bins that are short beside what correlates them; MSER-5 takes five of the longer ones together. */
const MOST_BINS = 4096;
const BINS_JOINED = 8;
/** So many are left, or more, when bins are joined. */
const LEAST_JOINED = 512;

export interface FoundChance {
  readonly chance: Chance;
  /** Where `counted_from_min` is. */
  readonly fromTick: number;
}

/** @returns `null` where nothing is left to chance */
export function chanceOf(run: Run, toMinutes: (ticks: number) => number): FoundChance | null {
  const { program, horizonTicks } = run;
  if (program.random === null) return null;
  const perCycle = outputPerCycle(program.network);
  return chanceIn(
    eventsOf(run, (machine) => perCycle[machine] ?? 0),
    horizonTicks,
    toMinutes,
  );
}

/** @param events known up to the horizon */
export function chanceIn(events: Events, horizonTicks: number, toMinutes: (ticks: number) => number): FoundChance {
  const binTicks = Math.max(1, Math.ceil(horizonTicks / MOST_BINS));
  const binMin = toMinutes(binTicks);
  const perMin = madeInBins(events, binTicks, Math.floor(horizonTicks / binTicks)).map((made) => made / binMin);
  const joined = Math.min(BINS_JOINED, Math.max(1, Math.floor(perMin.length / LEAST_JOINED)));
  const cut = mser5(meansOfBatches(perMin, joined));
  const countedFrom = cut.found ? cut.cut * joined : Math.floor(perMin.length / 2);
  const found = batchMeansInterval(perMin.subarray(countedFrom));
  const { low, high, mean, n } = found.enough ? found.interval : { low: null, high: null, mean: found.mean, n: null };
  const chance: Chance = {
    ramp_up_end: {
      mser5_min: cut.found ? countedFrom * binMin : null,
      mser5_why: cut.found ? null : cut.why,
      welch_min: null,
      welch_why: "one run",
      welch_window_min: null,
    },
    settled_output_per_min: {
      mean,
      ci95: low === null || high === null ? null : [low, high],
      why: found.enough ? null : found.why,
      batches: n,
      batch_min: found.enough ? found.batchSize * binMin : null,
    },
    counted_from_min: countedFrom * binMin,
  };
  return { chance, fromTick: countedFrom * binTicks };
}

/** Products finished in each of equal bins; a tick belongs to the bin that it ends in. */
export function madeInBins({ count, tick, amount }: Events, binTicks: number, bins: number): Float64Array {
  const made = new Float64Array(bins);
  for (let i = 0; i < count; i++) {
    const bin = Math.ceil((tick[i] ?? 0) / binTicks) - 1;
    if (bin < bins) made[Math.max(0, bin)] = (made[Math.max(0, bin)] ?? 0) + (amount[i] ?? 0);
  }
  return made;
}
