/**
 * Student's t interval of the mean of independent figures, one from each replication (A. M. Law, Simulation Modeling and
 * Analysis, section 9.4.1; from memory).
 */
import { type Moments, moments, type Numbers } from "./moments.ts";
import { studentFactor } from "./quantiles.ts";

/** Confidence where none is asked for. */
export const USUAL_LEVEL = 0.95;

export interface MeanInterval extends Moments {
  /** Confidence, such as 0.95. */
  readonly level: number;
  /** `null` for a single figure, as are `low` and `high`. */
  readonly halfWidth: number | null;
  readonly low: number | null;
  readonly high: number | null;
}

/** @throws RangeError without figures, or for a level outside 0 … 1 */
export function meanInterval(figures: Numbers, level = USUAL_LEVEL): MeanInterval {
  return intervalOf(moments(figures), level);
}

export function intervalOf(found: Moments, level = USUAL_LEVEL): MeanInterval {
  const { n, mean, sd } = found;
  const halfWidth = sd === null ? null : halfWidthOf(sd, n, level);
  return {
    n,
    mean,
    sd,
    level,
    halfWidth,
    low: halfWidth === null ? null : mean - halfWidth,
    high: halfWidth === null ? null : mean + halfWidth,
  };
}

export function halfWidthOf(sd: number, n: number, level: number): number {
  return (studentFactor(level, n) * sd) / Math.sqrt(n);
}
