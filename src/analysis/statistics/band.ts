/**
 * Point by point over equally sampled curves, one from each replication: mean, its t interval, 5th and 95th percentile. The
 * interval holds at each point by itself, not along the whole curve at once.
 */
import { intervalOf, USUAL_LEVEL } from "./interval.ts";
import { type Numbers, runningMoments } from "./moments.ts";
import { percentileInOrder } from "./percentile.ts";

export interface Band {
  readonly n: number;
  readonly level: number;
  readonly mean: readonly number[];
  /** `null` for a single curve, as `high`. */
  readonly low: readonly number[] | null;
  readonly high: readonly number[] | null;
  readonly p5: readonly number[];
  readonly p95: readonly number[];
}

/** @throws RangeError without curves, or for curves of unlike lengths */
export function band(curves: readonly Numbers[], level = USUAL_LEVEL): Band {
  const length = lengthOf(curves);
  const parts: Record<"mean" | "low" | "high" | "p5" | "p95", number[]> = {
    mean: [],
    low: [],
    high: [],
    p5: [],
    p95: [],
  };
  const here = new Float64Array(curves.length);
  const factor = oneFactor(curves.length, level);
  for (let i = 0; i < length; i++) {
    const running = runningMoments();
    for (const [c, curve] of curves.entries()) {
      here[c] = curve[i] ?? Number.NaN;
      running.add(here[c] ?? Number.NaN);
    }
    const { mean, sd } = running.now();
    here.sort();
    parts.mean.push(mean);
    parts.low.push(mean - factor * (sd ?? 0));
    parts.high.push(mean + factor * (sd ?? 0));
    parts.p5.push(percentileInOrder(here, 0.05));
    parts.p95.push(percentileInOrder(here, 0.95));
  }
  const hasInterval = curves.length > 1;
  return {
    n: curves.length,
    level,
    ...parts,
    low: hasInterval ? parts.low : null,
    high: hasInterval ? parts.high : null,
  };
}

/** The mean of equally sampled curves, point by point. */
export function meanCurve(curves: readonly Numbers[]): number[] {
  const length = lengthOf(curves);
  return Array.from({ length }, (_, i) => {
    const running = runningMoments();
    for (const curve of curves) running.add(curve[i] ?? Number.NaN);
    return running.now().mean;
  });
}

function lengthOf(curves: readonly Numbers[]): number {
  const [first] = curves;
  if (first === undefined) throw new RangeError("no curves");
  const other = curves.find((curve) => curve.length !== first.length);
  if (other !== undefined) throw new RangeError(`curves of ${first.length} and ${other.length} points`);
  return first.length;
}

/** Half-widths in standard deviations: the same at every point. */
function oneFactor(n: number, level: number): number {
  return intervalOf({ n, mean: 0, sd: n > 1 ? 1 : null }, level).halfWidth ?? 0;
}
