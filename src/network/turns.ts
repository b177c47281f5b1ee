/**
 * The turns of a weighted divider: a sequence of its outlets, as long as the weights' sum, in which each has as many turns as its
 * weight, and that stays as near to the shares as whole items allow. Of the first t items each outlet has had its share t w/W
 * give or take 1 − 1/(2(n − 1)), n being how many outlets have a weight; no rule does better for all weights (R. Tijdeman, "The chairman assignment problem",
 * Discrete Mathematics 32, 1980, from memory; the test holds every sequence to it). An outlet that cannot take an item is passed over, as an even divider's is.
 */
import { commonDivisor, total } from "../quantity/counts.ts";
import { type Rational, rational } from "../quantity/rational.ts";
import { MOST_TURNS } from "../scenario/file-limits.ts";

/**
 * @param weights whole numbers of at least 1, without a common factor
 * @returns indices of weights, the first-named first where all is equal
 */
export function turnsOf(weights: readonly number[]): number[] {
  const all = total(weights);
  const [had, slack] = [weights.map(() => 0), 2 * Math.max(1, weights.length - 1)];
  return Array.from({ length: all }, (_, before) => {
    let next = -1;
    for (const [one, weight] of weights.entries()) {
      const own = had[one] ?? 0;
      // Only what is due soon may come; of that, what must come first.
      if ((weight * (before + 1) - own * all) * slack < all) continue;
      if (next < 0 || isDueBefore(weights, had, slack, one, next)) next = one;
    }
    had[next] = (had[next] ?? 0) + 1;
    return next;
  });
}

function isDueBefore(weights: readonly number[], had: readonly number[], slack: number, a: number, b: number): boolean {
  const dueOf = (one: number): number => ((had[one] ?? 0) + 1) * slack - 1;
  return dueOf(a) * (weights[b] ?? 1) < dueOf(b) * (weights[a] ?? 1);
}

/** In whole numbers without a common factor; `null` where they come to more than `MOST_TURNS`, or are not all above zero. */
export function wholeWeights(shares: readonly Rational[]): readonly number[] | null {
  if (shares.some(({ n, s }) => n === 0n || s < 0n)) return null;
  const denominator = shares.reduce((common, { d }) => (common / divisor(common, d)) * d, 1n);
  const counts = shares.map((share) => share.mul(rational(denominator)).n);
  const shared = counts.reduce(divisor, 0n);
  const own = counts.map((count) => count / shared);
  return own.reduce((sum, count) => sum + count, 0n) > BigInt(MOST_TURNS) ? null : own.map(Number);
}

/** Without a common factor. */
export function reduced(weights: readonly number[]): number[] {
  const shared = commonDivisor(weights);
  return weights.map((weight) => weight / shared);
}

function divisor(a: bigint, b: bigint): bigint {
  let [large, small] = [a, b];
  while (small !== 0n) [large, small] = [small, large % small];
  return large;
}
