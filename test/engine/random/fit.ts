/**
 * Tests of fit, all at a significance of one in a thousand, on fixed seeds: each says the same for ever, and each is shown
 * beside its use to refuse what is wrong. Critical values and reference distributions are jStat's (https://jstat.github.io),
 * but for Kolmogorov's.
 */
import { createRequire } from "node:module";

/** What is used here of jStat, which has no types of its own. */
interface Statistics {
  readonly chisquare: { inv(p: number, freedom: number): number };
  readonly exponential: { cdf(x: number, rate: number): number };
  readonly gamma: { cdf(x: number, shape: number, scale: number): number };
  readonly lognormal: { cdf(x: number, mu: number, sigma: number): number };
  readonly normal: { cdf(x: number, mean: number, deviation: number): number };
  readonly triangular: { cdf(x: number, least: number, most: number, mode: number): number };
  readonly uniform: { cdf(x: number, least: number, most: number): number };
  readonly weibull: { cdf(x: number, scale: number, shape: number): number };
  gammafn(x: number): number;
}

const { jStat }: { jStat: Statistics } = createRequire(import.meta.url)("jstat");

export { jStat };

const SIGNIFICANCE = 0.001;

/**
 * 1 − α quantile of Kolmogorov's distribution, P(K > x) = 2 Σ (−1)^(k − 1) exp(−2 k² x²), whose first term is all there is
 * of it at this α.
 */
const KOLMOGOROV = Math.sqrt(-Math.log(SIGNIFICANCE / 2) / 2);

/**
 * Greatest distance between the draws' distribution and the reference, in units of what chance allows; more than 1 is
 * refused. For finite n as by M. A. Stephens, Journal of the American Statistical Association 69, 1974 (from memory).
 */
export function kolmogorovSmirnov(draws: readonly number[], cdf: (x: number) => number): number {
  const n = draws.length;
  const sorted = Float64Array.from(draws).sort();
  let distance = 0;
  for (const [i, x] of sorted.entries()) {
    const expected = cdf(x);
    distance = Math.max(distance, expected - i / n, (i + 1) / n - expected);
  }
  return (distance * (Math.sqrt(n) + 0.12 + 0.11 / Math.sqrt(n))) / KOLMOGOROV;
}

/** Pearson's statistic in units of what chance allows; more than 1 is refused. Give at least 5 expected for each. */
export function chiSquare(observed: readonly number[], expected: readonly number[]): number {
  const statistic = observed.reduce((sum, count, i) => {
    const wanted = expected[i] ?? Number.NaN;
    if (!(wanted >= 5)) throw new Error(`too few expected in class ${i}: ${wanted}`);
    return sum + (count - wanted) ** 2 / wanted;
  }, 0);
  return statistic / jStat.chisquare.inv(1 - SIGNIFICANCE, observed.length - 1);
}

/** Of numbers from 0 to 1 in equal classes. */
export function evenness(draws: readonly number[], classes: number): number {
  return evenCounts(
    draws.map((draw) => Math.floor(draw * classes)),
    classes,
  );
}

/** Of pairs in the squares of a board of `side` by `side`: uneven where one depends on the other. */
export function pairEvenness(first: readonly number[], second: readonly number[], side: number): number {
  return evenCounts(
    first.map((x, i) => Math.floor(x * side) * side + Math.floor((second[i] ?? Number.NaN) * side)),
    side * side,
  );
}

function evenCounts(classOf: readonly number[], classes: number): number {
  const counts = new Array<number>(classes).fill(0);
  for (const one of classOf) counts[one] = (counts[one] ?? Number.NaN) + 1;
  return chiSquare(
    counts,
    counts.map(() => classOf.length / classes),
  );
}

/** Pearson's coefficient in units of what chance allows: 3.29 / √n, the normal distribution's at one in a thousand, both sides. */
export function correlation(first: readonly number[], second: readonly number[]): number {
  const n = first.length;
  const mean = (values: readonly number[]) => values.reduce((sum, x) => sum + x, 0) / n;
  const [a, b] = [mean(first), mean(second)];
  let [ab, aa, bb] = [0, 0, 0];
  for (const [i, x] of first.entries()) {
    const y = second[i] ?? Number.NaN;
    ab += (x - a) * (y - b);
    aa += (x - a) ** 2;
    bb += (y - b) ** 2;
  }
  return (Math.abs(ab / Math.sqrt(aa * bb)) * Math.sqrt(n)) / 3.29;
}

export function take(count: number, next: () => number): number[] {
  return Array.from({ length: count }, next);
}
