/**
 * Fractions for the inner loop of the flow solution. A chain of N dividers halves its flow N times and has N phases, so
 * a thousand machines mean millions of operations on denominators of a thousand bits; fraction.js takes a greatest
 * common divisor of full-length products each time. Here only the parts that can have a factor in common are reduced
 * (D. E. Knuth, The Art of Computer Programming 2, section 4.5.1), and one of them is nearly always short.
 */
import { gcd } from "../../quantity/gcd.ts";
import { type Rational, ratio } from "../../quantity/rational.ts";

/** n/d in lowest terms, d > 0. */
export interface Amount {
  readonly n: bigint;
  readonly d: bigint;
}

/** How much something can take per minute; `null` is without limit. */
export type Limit = Amount | null;

export const NONE: Amount = { n: 0n, d: 1n };
export const ALL: Amount = { n: 1n, d: 1n };

export function amountOf(value: Rational): Amount {
  return { n: value.s * value.n, d: value.d };
}

export function countOf(count: number): Amount {
  return { n: BigInt(count), d: 1n };
}

export function rationalOf(value: Amount): Rational {
  return ratio(value.n, value.d);
}

export function plus(a: Amount, b: Amount): Amount {
  if (a.n === 0n) return b;
  if (b.n === 0n) return a;
  // What passes through is taken from itself most of all.
  if (a.d === b.d && a.n === -b.n) return NONE;
  const common = gcd(a.d, b.d);
  if (common === 1n) return { n: a.n * b.d + b.n * a.d, d: a.d * b.d };
  const rest = b.d / common;
  const n = a.n * rest + b.n * (a.d / common);
  const left = gcd(n, common);
  return left === 1n ? { n, d: a.d * rest } : { n: n / left, d: (a.d / left) * rest };
}

export function minus(a: Amount, b: Amount): Amount {
  return plus(a, { n: -b.n, d: b.d });
}

export function times(a: Amount, b: Amount): Amount {
  const first = gcd(a.n, b.d);
  const second = gcd(b.n, a.d);
  return { n: without(a.n, first) * without(b.n, second), d: without(a.d, second) * without(b.d, first) };
}

function without(value: bigint, factor: bigint): bigint {
  return factor === 1n ? value : value / factor;
}

/** @param b not zero */
export function over(a: Amount, b: Amount): Amount {
  if (b.n === 0n) throw new RangeError("division by zero in the flow solution");
  return times(a, b.n > 0n ? { n: b.d, d: b.n } : { n: -b.d, d: -b.n });
}

/** Negative, zero or positive as a is less than, equal to or greater than b. */
export function compare(a: Amount, b: Amount): number {
  const left = a.d === b.d ? a.n : a.n * b.d;
  const right = a.d === b.d ? b.n : b.n * a.d;
  return left < right ? -1 : left > right ? 1 : 0;
}

export function equal(a: Amount, b: Amount): boolean {
  return a.n === b.n && a.d === b.d;
}

export function least(a: Amount, b: Amount): Amount {
  return compare(a, b) <= 0 ? a : b;
}

/** The sum, brought to a common denominator first and reduced once. */
export function total(values: Iterable<Amount>): Amount {
  let n = 0n;
  let d = 1n;
  for (const value of values) {
    if (d % value.d === 0n) {
      n += value.n * (d / value.d);
    } else if (value.d % d === 0n) {
      n = n * (value.d / d) + value.n;
      d = value.d;
    } else {
      const factor = value.d / gcd(d, value.d);
      d *= factor;
      n = n * factor + value.n * (d / value.d);
    }
  }
  const common = gcd(n, d);
  return { n: n / common, d: d / common };
}
