/**
 * Exact rationals. Every rate, duration, length and share above the engine is one of these; build them from strings
 * or bigints, never from floating-point numbers, which fraction.js would only approximate.
 */
import Fraction from "fraction.js";
import { quotientOf } from "./approximate.ts";
import { gcd } from "./gcd.ts";

export type Rational = Fraction;

/** @param text an integer, decimal or fraction as fraction.js reads it, such as "45/4" */
export function rational(text: string | bigint): Rational {
  return new Fraction(text);
}

export function ratio(numerator: bigint, denominator: bigint): Rational {
  if (numerator < LONG && denominator < LONG && numerator > -LONG) return new Fraction(numerator, denominator);
  const value = new Fraction(numerator < 0n ? -1n : 1n);
  const common = gcd(numerator, denominator);
  value.n = (numerator * value.s) / common;
  value.d = denominator / common;
  return value;
}

/** From here on fraction.js takes long to reduce a fraction. */
const LONG = 2n ** 4000n;

/** A whole number of anything (items, ticks, machines) as a rational. */
export function whole(count: number): Rational {
  return new Fraction(BigInt(count));
}

export const ZERO: Rational = whole(0);
export const ONE: Rational = whole(1);

/** Neighbours first: where denominators have little in common, only the last few additions are of long numbers. */
export function sum(values: Iterable<Rational>): Rational {
  let level = [...values];
  while (level.length > 1) {
    const next: Rational[] = [];
    for (let i = 0; i < level.length; i += 2) {
      const [one = ZERO, other] = level.slice(i, i + 2);
      next.push(other === undefined ? one : plus(one, other));
    }
    level = next;
  }
  return level[0] ?? ZERO;
}

/** As `add`, and in good time also where fractions have thousands of digits. */
export function plus(a: Rational, b: Rational): Rational {
  if (a.d < LONG && b.d < LONG) return a.add(b);
  return ratio(a.s * a.n * b.d + b.s * b.n * a.d, a.d * b.d);
}

/** As `sub`, likewise. */
export function minus(a: Rational, b: Rational): Rational {
  if (a.d < LONG && b.d < LONG) return a.sub(b);
  return ratio(a.s * a.n * b.d - b.s * b.n * a.d, a.d * b.d);
}

/** As `mul`, likewise. */
export function times(a: Rational, b: Rational): Rational {
  if (a.d < LONG && b.d < LONG) return a.mul(b);
  return ratio(a.s * a.n * b.s * b.n, a.d * b.d);
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
  return quotientOf(value.s * value.n, value.d);
}
