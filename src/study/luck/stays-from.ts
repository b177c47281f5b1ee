/** From when the moving averages of single runs stay about their own settled output. */
import { TOLERANCE } from "../../analysis/settling.ts";
import { staysWithinFrom } from "../../analysis/statistics/stays-within.ts";
import { movingAverage } from "../../analysis/statistics/welch.ts";
import type { ReplicationGrid } from "../replication.ts";

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
