/**
 * How many replications tell a difference from none with a wanted power, if the true one is the one seen: the least n with
 * n >= ((t(α/2) + t(β)) s / d)², both quantiles of Student's t with n − 1 degrees of freedom (the usual approximation of the
 * paired t test's power; J. Cohen, Statistical Power Analysis for the Behavioral Sciences, 1988, chapter 2; from memory). So many
 * as would just make the present difference leave the interval have a power of a half only.
 */
import type { Moments } from "./moments.ts";
import { studentQuantile } from "./quantiles.ts";
import { MOST_NAMED } from "./replications-needed.ts";

const USUAL_POWER = 0.9;

/** @returns `null` where nothing was seen to differ, or more than `MOST_NAMED` would be needed */
export function replicationsForPower({ mean, sd }: Moments, level: number, power = USUAL_POWER): number | null {
  if (sd === null || sd === 0 || mean === 0) return null;
  const isEnough = (n: number): boolean =>
    Math.sqrt(n) * Math.abs(mean) >= (studentQuantile((1 + level) / 2, n - 1) + studentQuantile(power, n - 1)) * sd;
  if (!isEnough(MOST_NAMED)) return null;
  let [tooFew, enough] = [1, MOST_NAMED];
  while (enough - tooFew > 1) {
    const middle = Math.floor((tooFew + enough) / 2);
    if (isEnough(middle)) enough = middle;
    else tooFew = middle;
  }
  return enough;
}
