/** Quantiles of Student's t and of the normal distribution, and the factors of intervals by them. */
import { normalQuantile as standardNormalQuantile } from "../../engine/random/normal.ts";
import { studentTQuantile } from "./student-quantile.ts";

/** Beyond it t is normal to five places. */
const MOST_DEGREES = 1_000_000;

export function normalQuantile(probability: number): number {
  return standardNormalQuantile(checked(probability));
}

/** @throws RangeError for probabilities outside 0 … 1, or fewer than one degree of freedom */
export function studentQuantile(probability: number, degrees: number): number {
  if (!(degrees >= 1)) throw new RangeError(`not degrees of freedom: ${degrees}`);
  return degrees > MOST_DEGREES ? normalQuantile(probability) : studentTQuantile(checked(probability), degrees);
}

/** The half-width of a two-sided interval at a confidence level, in standard errors of a mean of n figures. */
export function studentFactor(level: number, n: number): number {
  return studentQuantile((1 + checked(level)) / 2, n - 1);
}

function checked(probability: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError(`not between 0 and 1: ${probability}`);
  return probability;
}
