/**
 * How few dividers could ever do. A tree has leaves for each share, each a product of one over the ways on its way.
 *
 *  - With two-way dividers alone one divider less than leaves, and for each share at least as many leaves as its binary digits
 *    have ones (D. Knuth, A. Yao, "The complexity of nonuniform random number generation", 1976; from memory).
 *  - With two and three ways: as many leaves as the shares have terms at least, each divider adding one or two, and on
 *    the way to some leaf as many dividers of either kind as a share's denominator has 2s and 3s.
 *  - With any others: a leaf for each share at least, each divider adding one less than the most ways; and for each prime factor
 *    of the parts as many dividers on the way to some leaf as that takes.
 */
import { commonDivisor, primeFactors, type Ways, waysIn } from "../quantity/counts.ts";

/**
 * @param counts parts of each target, adding up to `parts`
 * @param parts a product of what the dividers' ways allow
 */
export function leastDividers(counts: readonly number[], parts: number, ways: Ways): number {
  const shared = commonDivisor(counts);
  if (shared === parts) return 0;
  const fans = waysIn(ways);
  if (fans.join(" ") !== "2" && fans.join(" ") !== "2 3") return leastOfAny(counts, parts / shared, fans);
  const [twos, threes] = [exponent(parts / shared, 2), exponent(parts / shared, 3)];
  if (fans.length === 1) return counts.reduce((leaves, count) => leaves + digitSum(count / shared, 2), -1);
  const leaves = counts.reduce((sum, count) => sum + leastTerms(count, parts), 0);
  return twos + Math.max(threes, Math.ceil((leaves - 1 - twos) / 2));
}

function leastOfAny(counts: readonly number[], parts: number, fans: readonly number[]): number {
  const shares = counts.filter((count) => count > 0).length;
  const byLeaves = Math.ceil((shares - 1) / (Math.max(...fans) - 1));
  const byFactor = [...new Set(primeFactors(parts))].map((prime) => {
    const most = Math.max(...fans.map((fan) => exponent(fan, prime)));
    return Math.ceil(exponent(parts, prime) / most);
  });
  return Math.max(byLeaves, ...byFactor);
}

export function exponent(value: number, prime: number): number {
  let times = 0;
  for (let rest = value; rest % prime === 0; rest /= prime) times++;
  return times;
}

export function digitSum(value: number, base: number): number {
  let sum = 0;
  for (let rest = value; rest > 0; rest = Math.floor(rest / base)) sum += rest % base;
  return sum;
}

/** How many terms 1/(2^x 3^y) a share is the sum of, at least: 0, 1, 2, or 3 for any more. */
export function leastTerms(count: number, parts: number): number {
  if (count === 0) return 0;
  const shared = commonDivisor([count, parts]);
  const [numerator, denominator] = [BigInt(count / shared), BigInt(parts / shared)];
  if (numerator === 1n) return 1;
  // The larger of two terms is half of the share at least: 1/u with denominator/numerator < u ≤ twice that.
  for (let threes = 1n; threes * numerator <= 2n * denominator; threes *= 3n) {
    for (let u = threes; u * numerator <= 2n * denominator; u *= 2n) {
      const rest = u * numerator - denominator;
      if (rest > 0n && (u * denominator) % rest === 0n && isSmooth((u * denominator) / rest)) return 2;
    }
  }
  return 3;
}

function isSmooth(value: bigint): boolean {
  let rest = value;
  for (const prime of [2n, 3n]) while (rest % prime === 0n) rest /= prime;
  return rest === 1n;
}
