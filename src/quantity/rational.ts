/**
 * Exact rationals. Every rate, duration, length and share above the engine is one of these; build them from strings
 * or bigints, never from floating-point numbers, which fraction.js would only approximate.
 */
import Fraction from "fraction.js";

export type Rational = Fraction;

/** @param text an integer, decimal or fraction as fraction.js reads it, such as "45/4" */
export function rational(text: string | bigint): Rational {
  return new Fraction(text);
}

export function ratio(numerator: bigint, denominator: bigint): Rational {
  return new Fraction(numerator, denominator);
}

/** A whole number of anything (items, ticks, machines) as a rational. */
export function whole(count: number): Rational {
  return new Fraction(BigInt(count));
}

export const ZERO: Rational = whole(0);
export const ONE: Rational = whole(1);

export function sum(values: Iterable<Rational>): Rational {
  let total = ZERO;
  for (const value of values) total = total.add(value);
  return total;
}

export function smaller(a: Rational, b: Rational): Rational {
  return a.compare(b) <= 0 ? a : b;
}

export function larger(a: Rational, b: Rational): Rational {
  return a.compare(b) >= 0 ? a : b;
}

/**
 * The last convergent of its continued fraction whose denominator is at most so large: less than one part of that and of its
 * own denominator away (G. H. Hardy, E. M. Wright, An Introduction to the Theory of Numbers, chapter 10; from memory).
 */
export function nearestWithin(value: Rational, mostDenominator: bigint): Rational {
  let [n, d] = [value.n, value.d];
  let [n1, d1, n2, d2] = [1n, 0n, 0n, 1n];
  while (d !== 0n) {
    const term = n / d;
    if (term * d1 + d2 > mostDenominator) break;
    [n1, d1, n2, d2] = [term * n1 + n2, term * d1 + d2, n1, d1];
    [n, d] = [d, n % d];
  }
  return ratio(value.s * n1, d1);
}

/** The form that results carry and fraction.js reads back: "30", "45/4". */
export function exact(value: Rational): string {
  return value.toFraction();
}

/** The nearest floating-point number, for charts and measured figures. */
export function approximate(value: Rational): number {
  // A numerator or denominator beyond 2^1024 would overflow by itself, although the quotient does not.
  const bits = (part: bigint) => part.toString(16).length * 4;
  const excess = Math.max(bits(value.n), bits(value.d)) - 1000;
  if (excess <= 0) return value.valueOf();
  return Number((value.s * value.n) >> BigInt(excess)) / Number(value.d >> BigInt(excess));
}
