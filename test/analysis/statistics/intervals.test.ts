/**
 * Mean, spread and intervals: against tables of Student's t and worked examples (from memory, each confirmed by hand), by
 * properties, and by how often intervals hold a known mean.
 */
import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meanInterval } from "../../../src/analysis/statistics/interval.ts";
import { mean, moments, standardDeviation } from "../../../src/analysis/statistics/moments.ts";
import { normalQuantile, studentQuantile } from "../../../src/analysis/statistics/quantiles.ts";
import { normals } from "./chance.ts";

interface Distributions {
  readonly studentt: { readonly inv: (probability: number, degrees: number) => number };
  readonly normal: { readonly inv: (probability: number, mean: number, sd: number) => number };
}

const { jStat }: { readonly jStat: Distributions } = createRequire(import.meta.url)("jstat");

/** Without −0, which equals 0 but is told from it by tests. */
const figure = fc.double({ min: -1000, max: 1000, noNaN: true }).map((one) => one + 0);
const figures = fc.array(figure, { minLength: 2, maxLength: 40 });

describe("quantiles", () => {
  // Tables of Student's t, as in any textbook: rows 1, 2, 4, 9, 29, 99.
  test.each([
    [0.975, 1, 12.706],
    [0.975, 2, 4.303],
    [0.95, 4, 2.132],
    [0.975, 4, 2.776],
    [0.95, 9, 1.833],
    [0.975, 9, 2.262],
    [0.995, 9, 3.25],
    [0.975, 29, 2.045],
    [0.975, 99, 1.984],
    [0.9995, 3, 12.924],
  ])("t of %f with %i degrees is the table's", (probability, degrees, known) => {
    expect(studentQuantile(probability, degrees)).toBeCloseTo(known, 3);
  });

  test("with one and two degrees t has closed forms", () => {
    for (const p of [1e-6, 0.4, 0.6, 0.9, 0.975, 0.995, 0.9995]) {
      expect(studentQuantile(p, 1) / Math.tan(Math.PI * (p - 0.5))).toBeCloseTo(1, 9);
      const two = (2 * p - 1) / Math.sqrt(2 * p * (1 - p));
      expect(studentQuantile(p, 2) / two).toBeCloseTo(1, 9);
    }
  });

  test("the normal's, and t's with so many degrees that it is normal", () => {
    expect(normalQuantile(0.975)).toBeCloseTo(1.959963984540054, 14);
    expect(normalQuantile(0.995)).toBeCloseTo(2.575829303548901, 14);
    for (const degrees of [1e6, 1e7, 1e10]) expect(studentQuantile(0.975, degrees)).toBeCloseTo(1.96, 4);
  });

  test("jstat has the same, to the places to which it is right", () => {
    const probability = fc.double({ min: 0.001, max: 0.999, noNaN: true }).filter((p) => Math.abs(p - 0.5) > 0.01);
    fc.assert(
      fc.property(probability, fc.integer({ min: 1, max: 5000 }), (p, degrees) => {
        expect(studentQuantile(p, degrees) / jStat.studentt.inv(p, degrees)).toBeCloseTo(1, 6);
        expect(normalQuantile(p) / jStat.normal.inv(p, 0, 1)).toBeCloseTo(1, 6);
      }),
    );
  });

  test("what is no probability is refused", () => {
    for (const wrong of [0, 1, -0.5, Number.NaN]) expect(() => studentQuantile(wrong, 5)).toThrow(RangeError);
    expect(() => studentQuantile(0.9, 0)).toThrow(RangeError);
    expect(() => meanInterval([1, 2, 3], 95)).toThrow(RangeError);
  });
});

describe("moments", () => {
  test("by the definition in two passes", () => {
    fc.assert(
      fc.property(figures, (given) => {
        const average = given.reduce((sum, one) => sum + one, 0) / given.length;
        const squares = given.reduce((sum, one) => sum + (one - average) ** 2, 0);
        expect(mean(given)).toBeCloseTo(average, 9);
        expect(standardDeviation(given)).toBeCloseTo(Math.sqrt(squares / (given.length - 1)), 7);
      }),
    );
  });

  test("figures that are alike have no spread at all, whatever their digits", () => {
    fc.assert(
      fc.property(figure, fc.integer({ min: 2, max: 50 }), (value, n) => {
        expect(moments(new Array<number>(n).fill(value))).toEqual({ n, mean: value, sd: 0 });
      }),
    );
  });

  test("a large offset costs no digits", () => {
    expect(standardDeviation([1e9 + 4, 1e9 + 7, 1e9 + 13, 1e9 + 16])).toBeCloseTo(Math.sqrt(30), 9);
  });

  test("of one figure there is no spread, of none nothing", () => {
    expect(moments([3])).toEqual({ n: 1, mean: 3, sd: null });
    expect(() => moments([])).toThrow(RangeError);
  });
});

describe("the t interval", () => {
  test("Law, Simulation Modeling and Analysis, section 4.5: ten figures, 90 %: 1.34 ± 0.24", () => {
    const found = meanInterval([1.2, 1.5, 1.68, 1.89, 0.95, 1.49, 1.58, 1.55, 0.5, 1.09], 0.9);
    expect(found.mean).toBeCloseTo(1.343, 9);
    expect((found.sd ?? 0) ** 2).toBeCloseTo(0.17, 2);
    expect(found.halfWidth).toBeCloseTo(0.24, 2);
  });

  test("five figures by hand: 1 … 5, mean 3, s² = 2.5, t = 2.776", () => {
    const found = meanInterval([1, 2, 3, 4, 5]);
    expect(found.level).toBe(0.95);
    expect(found.low).toBeCloseTo(3 - 2.776445105 * Math.sqrt(0.5), 6);
    expect(found.high).toBeCloseTo(3 + 2.776445105 * Math.sqrt(0.5), 6);
  });

  test("of one figure there is none", () => {
    expect(meanInterval([7])).toMatchObject({ n: 1, mean: 7, halfWidth: null, low: null, high: null });
  });

  test("it moves with an offset, stretches with a factor, and widens with its level", () => {
    const factor = fc.double({ min: 0.1, max: 50, noNaN: true });
    fc.assert(
      fc.property(figures, figure, factor, (given, offset, scale) => {
        const plain = meanInterval(given);
        const moved = meanInterval(given.map((one) => offset - scale * one));
        expect(moved.mean).toBeCloseTo(offset - scale * plain.mean, 6);
        expect(moved.low).toBeCloseTo(offset - scale * (plain.high ?? 0), 5);
        expect(moved.high).toBeCloseTo(offset - scale * (plain.low ?? 0), 5);
        expect(meanInterval(given, 0.99).halfWidth).toBeGreaterThanOrEqual(plain.halfWidth ?? 0);
      }),
    );
  });

  test("the same figures twice over give a narrower one", () => {
    fc.assert(
      fc.property(figures, (given) => {
        const plain = meanInterval(given).halfWidth ?? 0;
        expect(meanInterval([...given, ...given]).halfWidth).toBeLessThanOrEqual(plain);
      }),
    );
  });

  test.each([
    [0.95, 5],
    [0.95, 20],
    [0.9, 3],
    [0.99, 10],
  ])("at %f it holds the mean of normal figures that often, with %i of them", (level, n) => {
    const samples = 4000;
    const { held, low, high } = coverage(samples, (seed) => meanInterval(normals(n, seed, 7, 3), level), 7);
    // Within what chance allows in 999 of 1000 cases, and for 95 % within 93 to 97 %.
    const allowed = 3.3 * Math.sqrt((level * (1 - level)) / samples);
    expect(Math.abs(held - level)).toBeLessThan(allowed);
    // It misses on both sides alike.
    expect(Math.abs(low - high)).toBeLessThan(2 * allowed);
  });
});

/** Shares of samples whose interval holds the truth, lies below it, or above it. */
function coverage(
  samples: number,
  make: (seed: number) => { readonly low: number | null; readonly high: number | null },
  truth: number,
): { held: number; low: number; high: number } {
  const count = { held: 0, low: 0, high: 0 };
  for (let seed = 0; seed < samples; seed++) {
    const { low, high } = make(seed);
    if (high !== null && high < truth) count.low++;
    else if (low !== null && low > truth) count.high++;
    else if (low !== null && high !== null) count.held++;
  }
  return { held: count.held / samples, low: count.low / samples, high: count.high / samples };
}
