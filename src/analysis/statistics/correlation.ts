/**
 * Whether values in a row are uncorrelated: von Neumann's ratio (J. von Neumann, Annals of Mathematical Statistics 12, 1941; G. S.
 * Fishman, "Grouping observations in digital simulation", Management Science 24, 1978; both from memory).
 *
 * C = 1 − Σ (x(i) − x(i+1))² / (2 Σ (x(i) − mean)²) is the lag-1 autocorrelation with a correction for the ends. For k
 * uncorrelated normal values it is nearly normal with mean 0 and variance (k − 2)/(k² − 1).
 */
import { moments, type Numbers } from "./moments.ts";
import { normalQuantile } from "./quantiles.ts";

export interface CorrelationTest {
  readonly n: number;
  /** C, between −1 and 1. */
  readonly correlation: number;
  /** C in its standard deviations. */
  readonly z: number;
  /** z is not above what chance gives in `significance` of all cases. Correlation below 0 is not objected to. */
  readonly uncorrelated: boolean;
}

const USUAL_SIGNIFICANCE = 0.1;

/** Values that are all alike have no correlation. @throws RangeError for fewer than three values */
export function correlationTest(values: Numbers, significance = USUAL_SIGNIFICANCE): CorrelationTest {
  const { n, sd } = moments(values);
  if (n < 3) throw new RangeError(`${n} values are too few to be correlated`);
  let steps = 0;
  for (let i = 1; i < n; i++) steps += ((values[i] ?? 0) - (values[i - 1] ?? 0)) ** 2;
  const squares = (n - 1) * (sd ?? 0) ** 2;
  const correlation = squares === 0 ? 0 : 1 - steps / (2 * squares);
  const z = correlation / Math.sqrt((n - 2) / (n ** 2 - 1));
  return { n, correlation, z, uncorrelated: z <= normalQuantile(1 - significance) };
}
