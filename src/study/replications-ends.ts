/** Where the ramp-up of replications ends: MSER-5 and Welch's procedure on the mean output. */
import type { RampUpEnds } from "../analysis/chance-results.ts";
import { TOLERANCE } from "../analysis/settling.ts";
import { mser5 } from "../analysis/statistics/mser.ts";
import { staysWithinFrom } from "../analysis/statistics/stays-within.ts";
import { movingAverage, welch } from "../analysis/statistics/welch.ts";
import type { ReplicationGrid } from "./replication.ts";

export interface Cut {
  readonly ends: RampUpEnds;
  /** Whether either found an end. */
  readonly isFound: boolean;
  /** The mark from which settled figures are counted: at or after both ends, or half of the run where there is none. */
  readonly mark: number;
}

/** @param perMin mean output of each step */
export function cutOf(perMin: readonly number[], { stepMin, markEvery }: ReplicationGrid): Cut {
  const mser = mser5(perMin);
  // The mean of the means is the mean: Welch's first step is done.
  const smooth = welch([perMin], { tolerance: TOLERANCE });
  const found = [...(mser.found ? [mser.cut] : []), ...(smooth.cut === null ? [] : [smooth.cut])];
  const point = found.length === 0 ? Math.floor(perMin.length / 2) : Math.max(...found);
  // At least one mark is left to count up to.
  const lastMark = Math.floor(perMin.length / markEvery) - 1;
  return {
    ends: {
      mser5_min: mser.found ? mser.cut * stepMin : null,
      mser5_why: mser.found ? null : mser.why,
      welch_min: smooth.cut === null ? null : smooth.cut * stepMin,
      welch_why: smooth.why,
      welch_window_min: (2 * smooth.window + 1) * stepMin,
    },
    isFound: found.length > 0,
    mark: Math.max(0, Math.min(Math.ceil(point / markEvery), lastMark)),
  };
}

/** A curve, and the level about which it is to stay. */
export interface Levelled {
  readonly perMin: readonly number[];
  readonly level: number;
}

/**
 * For each curve from when its moving average stays within the tolerance of its level up to the end, in minutes; `null` where
 * that is not by half of the run, as with Welch: an average has no last points, and a short stretch may stay by luck. The
 * average is the narrowest, beginning with that over about ten cycles of each machine and made a quarter wider at a
 * time, up to a quarter of the points on each side, with which at least half of the curves come to stay.
 */
export function staysFrom(
  curves: readonly Levelled[],
  { stepMin, averageMin }: ReplicationGrid,
): { readonly fromMin: readonly (number | null)[]; readonly averageMin: number } {
  const points = curves[0]?.perMin.length ?? 0;
  const widest = Math.max(1, Math.floor(points / 4));
  let window = Math.max(1, Math.min(widest, Math.round(averageMin / stepMin / 2)));
  for (;;) {
    const from = curves.map(({ perMin, level }) => {
      const point = staysWithinFrom(movingAverage(perMin, window), level, TOLERANCE * Math.abs(level));
      return point !== null && 2 * point <= points ? point : null;
    });
    if (window === widest || 2 * from.filter((point) => point !== null).length >= curves.length) {
      return {
        fromMin: from.map((point) => (point === null ? null : point * stepMin)),
        averageMin: (2 * window + 1) * stepMin,
      };
    }
    window = Math.min(widest, Math.ceil(1.25 * window));
  }
}
