/**
 * Amounts that know how they depend on what was guessed. Rates that depend on one another are guessed first, and the
 * flows worked out from the guess; each result then carries its slope by each guess (differentiation in forward mode,
 * here in exact fractions), so that the guess which reproduces itself can be solved for. An amount without slopes costs
 * no more than one that could have none.
 */
import { type Amount, compare, countOf, minus, over, plus, times } from "./number.ts";

export interface Sloped extends Amount {
  /** By index of the guess; left out where it depends on none. */
  readonly slopes?: Slopes;
}

/** No zeros among them. */
export type Slopes = ReadonlyMap<number, Amount>;

/** What something can take per minute; `null` is without limit. */
export type SlopedLimit = Sloped | null;

const UNIT: Amount = { n: 1n, d: 1n };

/** The guess itself. */
export function guessed(value: Amount, index: number): Sloped {
  return { n: value.n, d: value.d, slopes: new Map([[index, UNIT]]) };
}

export function plain({ n, d }: Amount): Amount {
  return { n, d };
}

export function add(a: Sloped, b: Sloped): Sloped {
  const value = plus(a, b);
  if (a.slopes === undefined && b.slopes === undefined) return value;
  return withSlopes(value, combined(a.slopes, b.slopes, plus));
}

export function subtract(a: Sloped, b: Sloped): Sloped {
  const value = minus(a, b);
  if (a.slopes === undefined && b.slopes === undefined) return value;
  return withSlopes(value, combined(a.slopes, b.slopes, minus));
}

/** @param factor does not depend on the guess */
export function scale(a: Sloped, factor: Amount): Sloped {
  const value = times(a, factor);
  if (a.slopes === undefined || factor.n === 0n) return value;
  return withSlopes(value, new Map([...a.slopes].map(([index, slope]) => [index, times(slope, factor)])));
}

/** Among so many, in equal parts. */
export function split(a: Sloped, count: number): Sloped {
  if (count === 1) return a;
  return a.slopes === undefined ? over(a, countOf(count)) : scale(a, over(UNIT, countOf(count)));
}

/** The lesser of the two; of equal ones the first. */
export function lesser(a: Sloped, b: Sloped): Sloped {
  return compare(a, b) <= 0 ? a : b;
}

/** The tighter of two limits; of equal ones the first. */
export function tighterOf(a: SlopedLimit, b: SlopedLimit): SlopedLimit {
  if (a === null) return b;
  return b === null ? a : lesser(a, b);
}

function withSlopes({ n, d }: Amount, slopes: Slopes): Sloped {
  return slopes.size === 0 ? { n, d } : { n, d, slopes };
}

function combined(
  a: Slopes | undefined,
  b: Slopes | undefined,
  combine: (x: Amount, y: Amount) => Amount,
): Map<number, Amount> {
  const found = new Map(a);
  for (const [index, slope] of b ?? []) {
    const result = combine(found.get(index) ?? { n: 0n, d: 1n }, slope);
    if (result.n === 0n) found.delete(index);
    else found.set(index, result);
  }
  return found;
}
