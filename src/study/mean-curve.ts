/**
 * From when the mean output keeps up with a share of its settled output for good, as keeping-up.ts has it of one run, with a
 * leeway of 1.25 cycles of each final machine and three standard errors of what the stretch makes: less than that may be luck.
 */

/** More replications tell their spread no better. */
const MOST_FOR_SPREAD = 200;
const CYCLES_SHORT = 1.25;
const ERRORS_SHORT = 3;

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
  const mean = (point: number): number => (point === 0 ? 0 : (madeSum[point - 1] ?? 0) / made.length);
  const lacks = (from: number, to: number): boolean => {
    const lacking = share * settledPerMin * (to - from) * stepMin - (mean(to) - mean(from)) - CYCLES_SHORT * oneCycle;
    return lacking > 0 && lacking > ERRORS_SHORT * standardError(few, from, to, made.length);
  };
  for (let from = points - 1; from >= 0; from--) {
    for (let to = from + 1; to <= points; to++) if (lacks(from, to)) return (from + 1) * stepMin;
  }
  return 0;
}

/** Of the mean over `n` replications of what is made between two points. */
function standardError(few: readonly Float64Array[], from: number, to: number, n: number): number {
  let [sum, squares] = [0, 0];
  for (const made of few) {
    const between = (made[to - 1] ?? 0) - (from === 0 ? 0 : (made[from - 1] ?? 0));
    sum += between;
    squares += between * between;
  }
  const variance = (squares - (sum * sum) / few.length) / Math.max(1, few.length - 1);
  return Math.sqrt(Math.max(0, variance) / n);
}
