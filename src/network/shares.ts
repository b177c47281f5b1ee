/**
 * Shares of one flow in whole parts. Dividers of two or three ways part a flow into 2^a · 3^b equal parts and no other
 * number; without a loop, equal shares need every prime factor among the dividers' ways (E. Aharonson, H. Attiya, "Counting
 * networks with arbitrary fan-out", Distributed Computing 8, 1995), and so do unequal ones: where the weights have no factor
 * in common, each prime factor of their total is one of some share's denominator. A loop takes the next such number and sends
 * the spare parts back.
 */
import { commonDivisor, withoutFactors } from "../quantity/counts.ts";
import { type Rational, rational, whole } from "../quantity/rational.ts";

export type Ways = 2 | 3;

export interface Shares {
  /** Parts for each consumer. */
  readonly counts: readonly number[];
  readonly total: number;
  /** What is left of the total once the factors that the dividers have are taken out; 1 where a tree will do. */
  readonly odd: number;
  /** The least number of parts, not below the total, into which the dividers can part a flow. */
  readonly parts: number;
}

/** Beyond it the shares are too fine to build; the search counts in plain numbers. */
export const MOST_PARTS = 1_000_000_000;

/**
 * @param needs one for each consumer, all above zero
 * @returns `null` where the shares are finer than `MOST_PARTS`
 */
export function sharesFor(needs: readonly Rational[], ways: Ways): Shares | null {
  const denominator = needs.reduce((common, { d }) => (common * d) / divisor(common, d), 1n);
  const weights = needs.map((need) => need.mul(rational(denominator)).n);
  const shared = weights.reduce(divisor, 0n);
  const total = weights.reduce((sum, weight) => sum + weight, 0n) / (shared || 1n);
  if (shared === 0n || total > BigInt(MOST_PARTS)) return null;
  return sharesOfCounts(
    weights.map((weight) => Number(weight / shared)),
    ways,
  );
}

/** @param weights whole numbers of at least 1 */
export function sharesOfCounts(weights: readonly number[], ways: Ways): Shares {
  const shared = commonDivisor(weights);
  const counts = weights.map((weight) => weight / shared);
  const total = counts.reduce((sum, count) => sum + count, 0);
  return { counts, total, odd: withoutFactors(total, ways), parts: leastParts(total, ways) };
}

/** The least number from 2s, and 3s where there are such dividers, that is not below the total. */
export function leastParts(total: number, ways: Ways): number {
  let least = Number.POSITIVE_INFINITY;
  for (let threes = 1; threes < 3 * total; threes *= ways === 3 ? 3 : 3 * total) {
    let parts = threes;
    while (parts < total) parts *= 2;
    least = Math.min(least, parts);
  }
  return least;
}

export function factorsOf(ways: Ways): readonly number[] {
  return ways === 2 ? [2] : [2, 3];
}

/** What passes the first divider for each item that comes in. */
export function circulation({ parts, total }: Shares): Rational {
  return whole(parts).div(whole(total));
}

function divisor(a: bigint, b: bigint): bigint {
  let [large, small] = [a, b];
  while (small !== 0n) [large, small] = [small, large % small];
  return large;
}
