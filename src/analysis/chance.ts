/**
 * What one run under chance tells of its long run: the ramp-up cut off by MSER-5, and an interval for the settled output by
 * batch means of what follows.
 */
import type { Run } from "../engine/simulate.ts";
import type { Network } from "../network/network.ts";
import { total } from "../quantity/counts.ts";
import type { Chance, NoRunInterval, StopCount } from "./chance-results.ts";
import { type Events, eventsOf } from "./events.ts";
import { longestCycleMin, outputPerCycle } from "./makers.ts";
import { type BatchMeans, batchMeansInterval } from "./statistics/batch-means.ts";
import { mean } from "./statistics/moments.ts";
import { LEAST_BINS, rampUpEnd } from "./statistics/ramp-up-end.ts";
import { stoppedRun } from "./stopped-run.ts";
import { stopCounts, stopsAreEnough } from "./stops.ts";

/** Batch means start from bins that are short beside what correlates them. */
const MOST_BINS = 4096;
/** Bins by which the end of the ramp-up is told are no shorter than so many cycles of the slowest machine. */
const CYCLES_IN_BIN = 2;
/** With a margin. */
const BINS_ASKED = 1.5 * LEAST_BINS;
/**
 * As shares of the run, at which settled figures begin: few, so that they hardly depend on the luck by which an end of the ramp-up
 * was found. The first of them by which it has been over for as long again as it took, or else half, if it was over by then.
 */
export const ENDS = [1 / 8, 1 / 4, 1 / 2];

export function endAfter(cut: number, inAll: number): number | null {
  return ENDS.find((share) => share * inAll >= 2 * cut) ?? (2 * cut <= inAll ? 1 / 2 : null);
}

export interface FoundChance {
  readonly chance: Chance;
  /** Where `counted_from_min` is. */
  readonly fromTick: number;
}

/** @returns `null` where nothing is left to chance */
export function chanceOf(run: Run, toMinutes: (ticks: number) => number): FoundChance | null {
  const { program, horizonTicks, gates } = run;
  const { random, network } = program;
  if (random === null) return null;
  const perCycle = outputPerCycle(network);
  const events = eventsOf(run, (machine) => perCycle[machine] ?? 0);
  const seen = random.stops.map(({ what, members }) => total(members.map((member) => run.stops[what][member] ?? 0)));
  const stops = stopCounts(random.stops, seen, { runs: 1, horizonMin: toMinutes(horizonTicks) });
  const { fromTick, chance } = chanceIn(events, horizonTicks, toMinutes, { leastBinMin: leastBinMin(network), stops });
  return {
    fromTick,
    chance: {
      ...chance,
      stops,
      stopped: stoppedRun(run, events),
      gates: network.feeds.flatMap(({ id }, f) => {
        const isGated = (random.feed.interval[f] ?? -1) >= 0 || (random.feed.jitter[f] ?? -1) >= 0;
        const [mean, most, at_end] = [(gates.ticks[f] ?? 0) / horizonTicks, gates.most[f] ?? 0, gates.waiting[f] ?? 0];
        return isGated ? [{ feed: id, mean, most, at_end }] : [];
      }),
    },
  };
}

export function leastBinMin(network: Pick<Network, "machines">): number {
  return CYCLES_IN_BIN * longestCycleMin(network);
}

/** At least twice as long as it was, and as MSER-5 takes for its bins. */
export function leastHorizon(horizonMin: number, binMin: number): number {
  return Math.max(2 * horizonMin, BINS_ASKED * binMin);
}

interface Given {
  readonly leastBinMin: number;
  readonly stops: readonly StopCount[];
}

/** @param events known up to the horizon */
export function chanceIn(
  events: Events,
  horizonTicks: number,
  toMinutes: (ticks: number) => number,
  given: Given = { leastBinMin: 0, stops: [] },
): { readonly chance: Omit<Chance, "stops" | "stopped" | "gates">; readonly fromTick: number } {
  const binTicks = Math.max(1, Math.ceil(horizonTicks / MOST_BINS));
  const binMin = toMinutes(binTicks);
  const perMin = madeInBins(events, binTicks, Math.floor(horizonTicks / binTicks)).map((made) => made / binMin);
  const end = rampUpEnd(perMin, Math.max(1, Math.ceil(given.leastBinMin / binMin - 1e-9)));
  const share = end.found ? endAfter(end.cut, perMin.length) : null;
  const countedFrom = Math.floor((share ?? 1 / 2) * perMin.length);
  const found = batchMeansInterval(perMin.subarray(countedFrom));
  const interval = found.enough ? found.interval : null;
  const why = whyNone(found, share !== null, given.stops);
  const chance = {
    ramp_up_end: {
      mser5_min: end.found ? end.cut * binMin : null,
      mser5_why: end.found ? null : end.why,
      welch_min: null,
      welch_why: "one run" as const,
      welch_window_min: null,
      drifts: false,
    },
    settled_output_per_min: {
      mean: interval?.mean ?? mean(perMin.subarray(countedFrom)),
      ci95:
        why === null && interval?.low != null && interval.high !== null
          ? ([interval.low, interval.high] as const)
          : null,
      why,
      batches: why === null ? (interval?.n ?? null) : null,
      batch_min: why === null && found.enough ? found.batchSize * binMin : null,
    },
    counted_from_min: countedFrom * binMin,
    run_at_least_min: share === null ? leastHorizon(toMinutes(horizonTicks), given.leastBinMin) : null,
  };
  return { chance, fromTick: countedFrom * binTicks };
}

function whyNone(found: BatchMeans, isSettled: boolean, stops: readonly StopCount[]): NoRunInterval | null {
  if (!isSettled) return "still ramping up";
  if (!stopsAreEnough(stops)) return "too few stops";
  if (!found.enough) return found.why;
  return found.interval.low === found.interval.high ? "no variation" : null;
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
