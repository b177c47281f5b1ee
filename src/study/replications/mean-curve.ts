/**
 * From when the mean output keeps up with a share of its settled output for good, as keeping-up.ts has it of one run, with a
 * leeway of 1.25 cycles of each final machine and three standard errors of what the stretch makes: less than that may be luck.
 * Among thousands of stretches a few replications look alike in some by luck alone (by three errors of four replications 79 min
 * came out instead of 4). So the variance of a stretch is moderated by that of all stretches as long, and three errors are as
 * many as are as sure by Student's t (G. K. Smyth, Linear models and empirical Bayes methods, 2004, section 4; from memory).
 */
import { studentQuantile } from "../../analysis/statistics/quantiles.ts";

/** More replications tell their spread no better. */
const MOST_FOR_SPREAD = 200;
const CYCLES_SHORT = 1.25;
/** Of a normal mean within three standard errors on one side. */
const SURE = 0.99865;
/** So many degrees of freedom has what all stretches of a length say of one of them. */
const MODERATING = 4;

export interface MeanOutput {
  /** By replication, products up to each point. */
  readonly made: readonly Float64Array[];
  /** The same added up. */
  readonly madeSum: Float64Array;
  readonly stepMin: number;
  readonly settledPerMin: number;
  /** Products of one cycle of each final machine. */
  readonly oneCycle: number;
}

/** Minutes; at a point of the curve, the start included. One pass backwards. */
export function keepsUpFromMin({ made, madeSum, stepMin, settledPerMin, oneCycle }: MeanOutput, share: number): number {
  const few = made.slice(0, MOST_FOR_SPREAD);
  const points = madeSum.length;
  const degrees = few.length - 1;
  const usual = Array.from({ length: points + 1 }, (_, length) => usualVariance(few, length, points));
  const errors = studentQuantile(SURE, degrees + MODERATING);
  const mean = (point: number): number => (point === 0 ? 0 : (madeSum[point - 1] ?? 0) / made.length);
  const standardError = (from: number, to: number): number => {
    const all = degrees * variance(few, from, to) + MODERATING * (usual[to - from] ?? 0);
    return Math.sqrt(all / (degrees + MODERATING) / made.length);
  };
  const lacks = (from: number, to: number): boolean => {
    const lacking = share * settledPerMin * (to - from) * stepMin - (mean(to) - mean(from)) - CYCLES_SHORT * oneCycle;
    return lacking > 0 && lacking > errors * standardError(from, to);
  };
  for (let from = points - 1; from >= 0; from--) {
    for (let to = from + 1; to <= points; to++) if (lacks(from, to)) return (from + 1) * stepMin;
  }
  return 0;
}

/** Of stretches of one length, the mean over all that fit in one after another. */
function usualVariance(few: readonly Float64Array[], length: number, points: number): number {
  const count = length === 0 ? 0 : Math.floor(points / length);
  let sum = 0;
  for (let i = 0; i < count; i++) sum += variance(few, points - (i + 1) * length, points - i * length);
  return count === 0 ? 0 : sum / count;
}

/** Over replications, of what one makes between two points. */
function variance(few: readonly Float64Array[], from: number, to: number): number {
  let [sum, squares] = [0, 0];
  for (const made of few) {
    const between = (made[to - 1] ?? 0) - (from === 0 ? 0 : (made[from - 1] ?? 0));
    sum += between;
    squares += between * between;
  }
  return Math.max(0, (squares - (sum * sum) / few.length) / Math.max(1, few.length - 1));
}
