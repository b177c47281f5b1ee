/**
 * Two variants on the same luck: the differences a − b, replication by replication, with their t interval (A. M. Law,
 * Simulation Modeling and Analysis, sections 10.2.1 and 11.2; from memory). One is only called less if the interval says so.
 */
import { type MeanInterval, meanInterval, USUAL_LEVEL } from "./interval.ts";
import { type Moments, type Numbers, standardDeviation } from "./moments.ts";
import { studentQuantile } from "./quantiles.ts";
import { MOST_NAMED } from "./replications-needed.ts";

export type Verdict = "a is less" | "b is less" | "not told apart";

export interface PairedDifference {
  /** Of a − b. */
  readonly difference: MeanInterval;
  readonly verdict: Verdict;
  /**
   * Not told apart: how many replications would tell them apart nine times in ten, if the true difference is the one seen; `null`
   * where none would, or that can't be told. Told apart: `null`.
   */
  readonly about: number | null;
  /** Variance of differences between runs on separate luck over that on the same luck; `null` where there is none. */
  readonly gain: number | null;
}

/** @throws RangeError for lists of unlike lengths, or empty ones */
export function pairedDifference(a: Numbers, b: Numbers, level = USUAL_LEVEL): PairedDifference {
  if (a.length !== b.length) throw new RangeError(`${a.length} figures are not paired with ${b.length}`);
  const differences = Float64Array.from(a, (figure, i) => figure - (b[i] ?? Number.NaN));
  const difference = meanInterval(differences, level);
  const verdict = verdictOf(difference);
  return {
    difference,
    verdict,
    about: verdict === "not told apart" ? replicationsForPower(difference, level) : null,
    gain: gainOf(a, b, difference.sd),
  };
}

/** An interval that touches 0 tells nothing. */
function verdictOf({ low, high }: MeanInterval): Verdict {
  if (high !== null && high < 0) return "a is less";
  return low !== null && low > 0 ? "b is less" : "not told apart";
}

function gainOf(a: Numbers, b: Numbers, sdOfDifferences: number | null): number | null {
  const sdA = standardDeviation(a);
  const sdB = standardDeviation(b);
  if (sdA === null || sdB === null || sdOfDifferences === null || sdOfDifferences === 0) return null;
  return (sdA ** 2 + sdB ** 2) / sdOfDifferences ** 2;
}

const USUAL_POWER = 0.9;

/** @returns `null` where nothing was seen to differ, or more than `MOST_NAMED` would be needed */
function replicationsForPower({ mean, sd }: Moments, level: number, power = USUAL_POWER): number | null {
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
