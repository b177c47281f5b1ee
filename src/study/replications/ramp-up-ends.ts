/**
 * Where the ramp-up of replications ends, for each figure by its own mean curve: MSER-5 and Welch's procedure, then a look at
 * whether the rest still drifts. Settled figures begin at an eighth, a quarter or half of the run, so that they hardly depend
 * on the luck by which the end was found; where it lies beyond half, the run is too short. Luck alone makes one of the two ask for a
 * longer run in up to a third of studies; so where only one does, and ten replications or more do not tell what it
 * saw in the second half from luck, settled figures begin at half.
 */
import { ENDS, endAfter } from "../../analysis/chance.ts";
import type { RampUpEnds } from "../../analysis/chance-results.ts";
import { TOLERANCE } from "../../analysis/settling.ts";
import { meansOfBatches } from "../../analysis/statistics/batches.ts";
import { moments } from "../../analysis/statistics/moments.ts";
import { studentFactor } from "../../analysis/statistics/quantiles.ts";
import { rampUpEnd } from "../../analysis/statistics/ramp-up-end.ts";
import { welch } from "../../analysis/statistics/welch.ts";
import type { ReplicationGrid } from "./replication.ts";

export interface Cut {
  readonly ends: RampUpEnds;
  /** The mark from which settled figures are counted; `null` where the run is too short for any. */
  readonly mark: number | null;
}

/** A figure of each replication, mean between two marks. */
export type MeanBetween = (fromMark: number, toMark: number) => readonly number[];

/** Halves that differ more than they do by chance in one of twenty cases are still drifting. */
const DRIFT_LEVEL = 0.95;
/** Where MSER-5 or Welch's procedure wants a longer run, one of ten is enough. */
const DOUBTED_LEVEL = 0.9;
/** Fewer don't tell luck from movement. */
const LEAST_TO_DOUBT = 10;

/** @param curve mean over replications at each point */
export function cutOf(curve: readonly number[], between: MeanBetween, grid: ReplicationGrid): Cut {
  const { stepMin, markEvery, leastBinMin } = grid;
  const least = Math.max(1, Math.ceil(leastBinMin / stepMin - 1e-9));
  const mser = rampUpEnd(curve, least);
  // The mean of the means is the mean: Welch's first step is done.
  const smooth = welch([meansOfBatches(curve, least)], { tolerance: TOLERANCE });
  const marks = marksOf(grid);
  const wanting = [mser.found, smooth.why !== "still moving" && smooth.why !== "too few points"].filter((had) => !had);
  const isTooFew = (!mser.found && mser.why === "too few values") || smooth.why === "too few points";
  const isTooShort = wanting.length > 0 && (isTooFew || wanting.length > 1 || moves(between, marks));
  const found = Math.max(mser.found ? mser.cut : 0, (smooth.cut ?? 0) * least) / markEvery;
  const mark = isTooShort ? null : endFrom(between, wanting.length > 0 ? marks / 2 : found, marks);
  return {
    ends: {
      mser5_min: mser.found ? mser.cut * stepMin : null,
      mser5_why: mser.found ? null : mser.why,
      welch_min: smooth.cut === null ? null : smooth.cut * least * stepMin,
      welch_why: smooth.why,
      welch_window_min: (2 * smooth.window + 1) * least * stepMin,
      drifts: !isTooShort && mark === null,
    },
    mark,
  };
}

/** The first end after a mark at which the ramp-up was over, beyond which nothing drifts; `null` for none. */
export function endFrom(between: MeanBetween, from: number, marks: number): number | null {
  const first = endAfter(from, marks);
  const ends = ENDS.filter((share) => first !== null && share >= first).map((share) =>
    Math.max(1, Math.floor(share * marks)),
  );
  return ends.find((end) => !drifts(between, end, marks)) ?? null;
}

export function marksOf({ points, markEvery }: Pick<ReplicationGrid, "points" | "markEvery">): number {
  return Math.floor(points / markEvery);
}

/** Whether the second half of what is counted differs from the first. */
function drifts(between: MeanBetween, from: number, to: number): boolean {
  return differ(between, [from, Math.floor((from + to) / 2), to], DRIFT_LEVEL);
}

/** Whether the second half of the run may be moving: early in it, where ramp-ups move most, or all along. */
function moves(between: MeanBetween, marks: number): boolean {
  const half = Math.floor(marks / 2);
  if (between(half, marks).length < LEAST_TO_DOUBT) return true;
  return [5 / 8, 3 / 4].some((share) => differ(between, [half, Math.floor(share * marks), marks], DOUBTED_LEVEL));
}

/** Paired t, replication by replication: whether what follows the middle differs from what comes before. */
function differ(between: MeanBetween, [from, middle, to]: readonly [number, number, number], level: number): boolean {
  const later = between(middle, to);
  const { n, mean, sd } = moments(between(from, middle).map((value, i) => (later[i] ?? 0) - value));
  if (sd === null) return false;
  return Math.abs(mean) > (studentFactor(level, n) * sd) / Math.sqrt(n);
}
