/** Percentiles, bands of curves, and which run is the median. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { band, meanCurve } from "../../../src/analysis/statistics/band.ts";
import { meanInterval } from "../../../src/analysis/statistics/interval.ts";
import { medianRun } from "../../../src/analysis/statistics/median-run.ts";
import { percentiles } from "../../../src/analysis/statistics/percentile.ts";
import { chance, normals } from "./chance.ts";

const percentile = (figures: Parameters<typeof percentiles>[0], share: number): number =>
  percentiles(figures, [share])[0] ?? Number.NaN;

const figure = fc.double({ min: -1000, max: 1000, noNaN: true });

describe("percentiles (R. J. Hyndman, Y. Fan 1996, definition 7)", () => {
  test("of 1 … 10: 1.45 and 9.55; the other definitions of the nine give 1 or 0.5 … 1.05 at 5 %", () => {
    const ten = [7, 3, 10, 1, 9, 2, 8, 5, 4, 6];
    const [p5 = 0, median = 0, p95 = 0] = percentiles(ten, [0.05, 0.5, 0.95]);
    expect(p5).toBeCloseTo(1.45, 12);
    expect(median).toBe(5.5);
    expect(p95).toBeCloseTo(9.55, 12);
  });

  test("share k/(n − 1) is exactly the figure in place k + 1, in between they rise evenly", () => {
    fc.assert(
      fc.property(fc.uniqueArray(figure, { minLength: 2, maxLength: 30 }), (given) => {
        const inOrder = given.toSorted((a, b) => a - b);
        const last = given.length - 1;
        for (const [k, value] of inOrder.entries()) {
          expect(percentile(given, k / last)).toBeCloseTo(value, 9);
          const next = inOrder[k + 1];
          if (next !== undefined) expect(percentile(given, (k + 0.5) / last)).toBeCloseTo((value + next) / 2, 9);
        }
      }),
    );
  });

  test("they move and stretch with the figures, and change ends with their sign", () => {
    fc.assert(
      fc.property(fc.array(figure, { minLength: 1, maxLength: 30 }), figure, (given, offset) => {
        const turned = given.map((one) => offset - 2 * one);
        expect(percentile(turned, 0.95)).toBeCloseTo(offset - 2 * percentile(given, 0.05), 8);
      }),
    );
  });

  test("of many normal figures they are the normal's, of one it is that", () => {
    const [p5 = 0, p95 = 0] = percentiles(normals(200_000, 5), [0.05, 0.95]);
    expect(p5).toBeCloseTo(-1.645, 1);
    expect(p95).toBeCloseTo(1.645, 1);
    expect(percentiles([4], [0.05, 0.95])).toEqual([4, 4]);
  });

  test("the figures given are left as they were; nonsense is refused", () => {
    const given = [3, 1, 2];
    percentile(given, 0.5);
    expect(given).toEqual([3, 1, 2]);
    expect(() => percentile([], 0.5)).toThrow(RangeError);
    expect(() => percentile([1, 2], 5)).toThrow(RangeError);
  });
});

describe("the band of many curves", () => {
  const curves = Array.from({ length: 12 }, (_, run) => normals(30, run + 1, run, 2));

  test("is at each point what the figures of that point give", () => {
    const found = band(curves, 0.9);
    expect(found).toMatchObject({ n: 12, level: 0.9 });
    for (let i = 0; i < 30; i++) {
      const here = curves.map((curve) => curve[i] ?? Number.NaN);
      const interval = meanInterval(here, 0.9);
      expect(found.mean[i]).toBeCloseTo(interval.mean, 12);
      expect(found.low?.[i]).toBeCloseTo(interval.low ?? Number.NaN, 9);
      expect(found.high?.[i]).toBeCloseTo(interval.high ?? Number.NaN, 9);
      expect(found.p5[i]).toBe(percentile(here, 0.05));
      expect(found.p95[i]).toBe(percentile(here, 0.95));
      expect(meanCurve(curves)[i]).toBe(found.mean[i]);
    }
    expect(found.mean).toHaveLength(30);
  });

  test("a single curve is its own band without an interval", () => {
    expect(band([[1, 5, 2]])).toEqual({
      n: 1,
      level: 0.95,
      mean: [1, 5, 2],
      low: null,
      high: null,
      p5: [1, 5, 2],
      p95: [1, 5, 2],
    });
  });

  test("curves that don't match are refused", () => {
    expect(() => band([])).toThrow(RangeError);
    expect(() => band([[1, 2], [1]])).toThrow(RangeError);
    expect(() => meanCurve([[1, 2], [1]])).toThrow(RangeError);
  });

  test("its interval holds the true curve at 95 % of points", () => {
    let held = 0;
    let points = 0;
    for (let study = 0; study < 100; study++) {
      const runs = Array.from({ length: 8 }, (_, run) => normals(40, study * 100 + run).map((one, i) => i + one));
      const { low, high } = band(runs);
      for (let i = 0; i < 40; i++) {
        points++;
        if ((low?.[i] ?? Number.NaN) <= i && i <= (high?.[i] ?? Number.NaN)) held++;
      }
    }
    expect(held / points).toBeGreaterThan(0.93);
    expect(held / points).toBeLessThan(0.97);
  });
});

describe("the median run", () => {
  test("is the middle one, of an even number the lower of two, of equals the first", () => {
    expect(medianRun([5, 1, 3])).toBe(2);
    expect(medianRun([4, 1, 3, 2])).toBe(3);
    expect(medianRun([2, 2, 2, 2])).toBe(1);
    expect(medianRun([9])).toBe(0);
    expect(() => medianRun([])).toThrow(RangeError);
  });

  test("what did not happen counts as later than all that did", () => {
    expect(medianRun([null, 1, 2])).toBe(2);
    expect(medianRun([null, 7, null])).toBe(0);
    expect(medianRun([null, 2, 1, null])).toBe(1);
  });

  test("as many lie below as above", () => {
    fc.assert(
      fc.property(fc.uniqueArray(figure, { minLength: 1, maxLength: 25 }), (given) => {
        const middle = given[medianRun(given)] ?? Number.NaN;
        const below = given.filter((one) => one < middle).length;
        expect(below).toBe(Math.ceil(given.length / 2) - 1);
      }),
    );
  });
});

test("the tests' own chance is even and normal enough to judge by", () => {
  const { uniform } = chance(1);
  const bins = new Array<number>(20).fill(0);
  for (let i = 0; i < 200_000; i++) {
    const bin = Math.floor(uniform() * 20);
    bins[bin] = (bins[bin] ?? 0) + 1;
  }
  const chiSquare = bins.reduce((sum, count) => sum + (count - 10_000) ** 2 / 10_000, 0);
  // The 99.9th percentile of chi-square with 19 degrees is 43.8 (table).
  expect(chiSquare).toBeLessThan(43.8);
  const drawn = normals(200_000, 2);
  const outside = drawn.filter((one) => Math.abs(one) > 1.959964).length / drawn.length;
  expect(outside).toBeCloseTo(0.05, 2);
});
