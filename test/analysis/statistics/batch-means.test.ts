/** Batch means on series whose mean and correlation are known, and the test of correlation beneath. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  type BatchMeans,
  batchMeansInterval,
  correlationTest,
  LEAST_BATCHES,
  LEAST_TESTED,
} from "../../../src/analysis/statistics/batch-means.ts";
import { meanInterval } from "../../../src/analysis/statistics/interval.ts";
import { autoregressive, normals } from "./chance.ts";

describe("von Neumann's ratio", () => {
  test("1, 2, 3, 4, 5 by hand: steps 4, squares 10, C = 1 − 4/20", () => {
    const found = correlationTest([1, 2, 3, 4, 5]);
    expect(found.correlation).toBeCloseTo(0.8, 12);
    expect(found.z).toBeCloseTo(0.8 / Math.sqrt(3 / 24), 12);
    expect(found.uncorrelated).toBe(false);
  });

  test("C is the lag-1 autocorrelation with half of the two end squares added", () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 40 }), (values) => {
        const average = values.reduce((sum, one) => sum + one, 0) / values.length;
        const off = values.map((one) => one - average);
        const squares = off.reduce((sum, one) => sum + one ** 2, 0);
        fc.pre(squares > 0);
        const products = off.slice(1).reduce((sum, one, i) => sum + one * (off[i] ?? 0), 0);
        const ends = ((off[0] ?? 0) ** 2 + (off.at(-1) ?? 0) ** 2) / 2;
        expect(correlationTest(values).correlation).toBeCloseTo((products + ends) / squares, 9);
      }),
    );
  });

  test("independent values are objected to in as many cases as the significance says", () => {
    let z = 0;
    let squares = 0;
    let objected = 0;
    for (let seed = 0; seed < 4000; seed++) {
      const found = correlationTest(normals(30, seed), 0.1);
      z += found.z / 4000;
      squares += found.z ** 2 / 4000;
      if (!found.uncorrelated) objected++;
    }
    expect(z).toBeCloseTo(0, 1);
    expect(squares).toBeCloseTo(1, 1);
    expect(objected / 4000).toBeGreaterThan(0.08);
    expect(objected / 4000).toBeLessThan(0.12);
  });

  test("on a long autoregressive series C is its phi; below 0 is not objected to; alike is uncorrelated", () => {
    expect(correlationTest(autoregressive(50_000, 0.6, 1)).correlation).toBeCloseTo(0.6, 1);
    const swinging = correlationTest(autoregressive(50_000, -0.6, 1));
    expect(swinging.correlation).toBeCloseTo(-0.6, 1);
    expect(swinging.uncorrelated).toBe(true);
    expect(correlationTest([4, 4, 4])).toEqual({ n: 3, correlation: 0, z: 0, uncorrelated: true });
    expect(() => correlationTest([1, 2])).toThrow(RangeError);
  });
});

describe("batch means", () => {
  test.each([
    { phi: 0, n: 1000, samples: 2000 },
    { phi: 0.5, n: 4000, samples: 1000 },
    { phi: 0.8, n: 8000, samples: 1000 },
  ])("phi $phi, $n values: 93 to 97 % of the intervals hold the mean", ({ phi, n, samples }) => {
    let held = 0;
    let widths = 0;
    const found = Array.from({ length: samples }, (_, seed) => batchMeansInterval(autoregressive(n, phi, seed, 10)));
    const given = found.filter((one) => one.enough);
    for (const { interval } of given) {
      if ((interval.low ?? 11) <= 10 && 10 <= (interval.high ?? 9)) held++;
      widths += ((interval.high ?? 0) - (interval.low ?? 0)) / 2 / given.length;
    }
    expect(given.length / samples).toBeGreaterThan(0.75);
    expect(held / given.length).toBeGreaterThan(0.93);
    expect(held / given.length).toBeLessThan(0.97);
    // The mean's standard deviation is about 1/((1 − phi) √n); t with 19 to 23 degrees is 2.07 to 2.09.
    const expected = (2.08 / (1 - phi)) * Math.sqrt(1 / n);
    expect(widths / expected).toBeGreaterThan(0.93);
    expect(widths / expected).toBeLessThan(1.05);
  });

  test("as if independent, the same values would hold it in half of the cases only", () => {
    let held = 0;
    for (let seed = 0; seed < 300; seed++) {
      const { low, high } = meanInterval(autoregressive(4000, 0.8, seed, 10));
      if ((low ?? 11) <= 10 && 10 <= (high ?? 9)) held++;
    }
    expect(held / 300).toBeLessThan(0.6);
  });

  test("a run too short for its correlation says so, and gives the mean without an interval", () => {
    const found = Array.from({ length: 300 }, (_, seed) => batchMeansInterval(autoregressive(1000, 0.95, seed, 10)));
    const short = found.filter((one) => !one.enough);
    expect(short.length).toBeGreaterThan(297);
    for (const one of short) {
      expect(one.why).toBe("batches still correlated");
      expect(one.test?.uncorrelated).toBe(false);
      expect(one).not.toHaveProperty("interval");
    }
    const few = batchMeansInterval(normals(99, 1));
    expect(few).toMatchObject({ enough: false, why: "too few values", test: null });
    expect(() => batchMeansInterval([])).toThrow(RangeError);
  });

  test("a trend is never taken for settled", () => {
    const rising = normals(5000, 3).map((one, i) => one + i / 500);
    expect(batchMeansInterval(rising)).toMatchObject({ enough: false, why: "batches still correlated" });
  });

  test("batches grow with the correlation, and are joined to between 20 and 24", () => {
    const n = 32_000;
    const [none = 0, some = 0, much = 0] = [0, 0.5, 0.9].map((phi) => {
      const passed = Array.from({ length: 12 }, (_, seed) =>
        batchMeansInterval(autoregressive(n, phi, seed, 10)),
      ).filter((found) => found.enough);
      expect(passed.length).toBeGreaterThan(9);
      for (const { uncorrelatedFrom, batchSize, interval, test } of passed) {
        expect(test.n).toBe(Math.floor(n / uncorrelatedFrom));
        expect(test.n).toBeGreaterThanOrEqual(LEAST_TESTED);
        expect(test.uncorrelated).toBe(true);
        expect(batchSize % uncorrelatedFrom).toBe(0);
        expect(interval.n).toBeGreaterThanOrEqual(LEAST_BATCHES);
        expect(interval.n).toBeLessThanOrEqual(24);
        expect(interval.n).toBe(Math.floor(n / batchSize));
      }
      return passed.reduce((sum, { uncorrelatedFrom }) => sum + uncorrelatedFrom / passed.length, 0);
    });
    expect(none).toBeLessThan(2);
    expect(some).toBeGreaterThan(4 * none);
    expect(much).toBeGreaterThan(2 * some);
  });

  test("a constant series has a mean without any doubt", () => {
    expect(given(batchMeansInterval(new Array<number>(400).fill(0.1))).interval).toMatchObject({
      mean: 0.1,
      low: 0.1,
      high: 0.1,
    });
  });

  test("offset and factor carry over", () => {
    let compared = 0;
    fc.assert(
      fc.property(
        fc.integer(),
        fc.constantFrom(0.5, 4, 32),
        fc.integer({ min: -100, max: 100 }),
        (seed, scale, offset) => {
          const series = autoregressive(800, 0.3, seed);
          const plain = batchMeansInterval(series);
          const moved = batchMeansInterval(series.map((one) => offset + scale * one));
          expect(moved.enough).toBe(plain.enough);
          if (!plain.enough) return;
          compared++;
          expect(given(moved).batchSize).toBe(plain.batchSize);
          expect(given(moved).interval.low).toBeCloseTo(offset + scale * (plain.interval.low ?? 0), 8);
          expect(given(moved).interval.high).toBeCloseTo(offset + scale * (plain.interval.high ?? 0), 8);
        },
      ),
      { numRuns: 50 },
    );
    // Some 45 of 50 on average; what fast-check draws is not spread evenly, and 34 has been seen.
    expect(compared).toBeGreaterThan(25);
  });
});

function given(found: BatchMeans) {
  if (!found.enough) throw new Error(found.why);
  return found;
}
