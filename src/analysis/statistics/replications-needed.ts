/**
 * How many replications would give an interval of a wanted half-width, judged by the spread of those made so far (A. M. Law,
 * Simulation Modeling and Analysis, section 9.4.1; from memory): the least i, not below n, with t(i − 1) s/√i within it.
 */
import { halfWidthOf, USUAL_LEVEL } from "./interval.ts";
import type { Moments } from "./moments.ts";

/** An interval is wanted within ± a number, or within ± a share of the true mean. */
export type Wanted = { readonly halfWidth: number } | { readonly share: number };

/** More are not worth naming. */
export const MOST_NAMED = 10_000_000;

/** `null` where it can't be told: fewer than two figures, a mean of 0 with a share of it wanted, or more than `MOST_NAMED`. */
export function replicationsNeeded({ n, mean, sd }: Moments, wanted: Wanted, level = USUAL_LEVEL): number | null {
  if (sd === null) return null;
  const within = "share" in wanted ? adjustedShare(wanted.share) * Math.abs(mean) : wanted.halfWidth;
  const isEnough = (count: number): boolean => halfWidthOf(sd, count, level) <= within;
  if (!isEnough(MOST_NAMED)) return null;
  let tooFew = n - 1;
  let enough = MOST_NAMED;
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (middle >= 2 && isEnough(middle)) enough = middle;
    else tooFew = middle;
  }
  return enough;
}

/**
 * A half-width of γ/(1 + γ) of the estimated mean is one of at most γ of the true mean, as long as the interval holds it
 * (Law, same place).
 */
export function adjustedShare(share: number): number {
  if (!(share > 0)) throw new RangeError(`not a share above 0: ${share}`);
  return share / (1 + share);
}
