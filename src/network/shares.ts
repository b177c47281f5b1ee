/**
 * Shares of one flow in whole parts. Dividers part a flow into so many equal parts as are a product of their ways, and into no
 * other number: without a loop, equal shares need every prime factor among the dividers' ways (E. Aharonson, H. Attiya,
 * "Counting networks with arbitrary fan-out", Distributed Computing 8, 1995), and so do unequal ones: where the weights have no
 * factor in common, each prime factor of their total is one of some share's denominator. Where all factors are there, but the
 * total is no product of the ways (two shares, dividers of four), each share has as many parts as it takes. A loop takes the
 * next product and sends the spare parts back.
 */
import { commonDivisor, type Ways, waysIn, withoutFactors } from "../quantity/counts.ts";
import { type Rational, rational, whole } from "../quantity/rational.ts";

export type { Ways };

export interface Shares {
  /** Parts for each consumer. */
  readonly counts: readonly number[];
  readonly total: number;
  /** What is left of the total once the factors that the dividers have are taken out; 1 where a tree will do. */
  readonly odd: number;
  /** The least number of parts into which the dividers can part a flow and that is the total, or for a loop above it. */
  readonly parts: number;
}

/** Beyond it the shares are too fine to build; the search counts in plain numbers. */
export const MOST_PARTS = 1_000_000_000;

/** Of dividers' ways; enough for so many parts, whatever the ways. */
const MOST_PRODUCT = 2 ** 40;

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
  const counts = weights.map((weight) => Number(weight / shared));
  const shares = sharesOfCounts(counts, ways);
  return shares.parts > MOST_PRODUCT ? null : shares;
}

/** @param weights whole numbers of at least 1 */
export function sharesOfCounts(weights: readonly number[], ways: Ways): Shares {
  const shared = commonDivisor(weights);
  const counts = weights.map((weight) => weight / shared);
  const total = counts.reduce((sum, count) => sum + count, 0);
  const odd = withoutFactors(total, ways);
  if (odd !== 1) return { counts, total, odd, parts: leastParts(total, ways) };
  const parts = leastMultiple(total, ways);
  return { counts: counts.map((count) => count * (parts / total)), total: parts, odd, parts };
}

/** The least product of ways that is not below the total. */
export function leastParts(total: number, ways: Ways): number {
  return leastProduct(ways, (product) => product >= total);
}

/** The least product of ways that is a multiple of a count whose prime factors they have. */
export function leastMultiple(count: number, ways: Ways): number {
  // Mostly it is one itself, which the search takes far longer to find.
  return isProduct(count, ways) ? count : leastProduct(ways, (product) => product % count === 0);
}

/** Whether dividing by the ways in turn leaves nothing; with ways that are not primes it may be one all the same. */
function isProduct(count: number, ways: Ways): boolean {
  let rest = count;
  for (const fan of waysIn(ways)) while (rest % fan === 0) rest /= fan;
  return rest === 1;
}

/** Products in rising order, each from a smaller one by one way more. */
function leastProduct(ways: Ways, isEnough: (product: number) => boolean): number {
  const fans = waysIn(ways);
  const open = new Set([1]);
  for (;;) {
    const least = Math.min(...open);
    if (isEnough(least)) return least;
    if (least > MOST_PRODUCT) return Infinity;
    open.delete(least);
    for (const fan of fans) open.add(least * fan);
  }
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
