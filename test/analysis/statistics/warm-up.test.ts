/** Where the warm-up ends: MSER-5 and Welch's procedure, on series whose bias is known. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { meansOfBatches } from "../../../src/analysis/statistics/batches.ts";
import { type MserCut, mser5, rampUpEnd } from "../../../src/analysis/statistics/ramp-up-end.ts";
import { movingAverage, staysWithinFrom, welch } from "../../../src/analysis/statistics/welch.ts";
import { autoregressive, normals } from "./chance.ts";

/** Ends at `level`, begins at 0, is within 1/e of it after `time`. */
const rise = (n: number, level: number, time: number): number[] =>
  Array.from({ length: n }, (_, i) => level * (1 - Math.exp(-i / time)));

const cutOf = (found: MserCut): number => (found.found ? found.cut : Number.NaN);

describe("MSER-5", () => {
  test("by its definition, cut for cut", () => {
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: 50, max: 200 }), (seed, n) => {
        const series = normals(n, seed).map((one, i) => one - 4 * Math.exp(-i / 15));
        const batches = Array.from({ length: Math.floor(n / 5) }, (_, b) =>
          [0, 1, 2, 3, 4].reduce((sum, i) => sum + (series[5 * b + i] ?? 0) / 5, 0),
        );
        const errors = batches.slice(0, batches.length - 4).map((_, d) => {
          const left = batches.slice(d);
          const average = left.reduce((sum, one) => sum + one, 0) / left.length;
          return left.reduce((sum, one) => sum + (one - average) ** 2, 0) / left.length ** 2;
        });
        const best = errors.indexOf(Math.min(...errors));
        const found = mser5(series);
        if (best > batches.length / 2) expect(found).toEqual({ found: false, why: "beyond half" });
        else {
          expect(cutOf(found)).toBe(5 * best);
          expect(found.found && found.statistic).toBeCloseTo(errors[best] ?? Number.NaN, 12);
        }
      }),
    );
  });

  test("a step is cut off exactly, in whole batches", () => {
    const stepAt = (place: number) =>
      Array.from({ length: 500 }, (_, i) => (i < place ? 0 : 10) + (i % 10 < 5 ? 0.1 : -0.1));
    expect(cutOf(mser5(stepAt(100)))).toBe(100);
    expect(cutOf(mser5(stepAt(98)))).toBe(100);
    expect(cutOf(mser5(new Array<number>(60).fill(4)))).toBe(0);
  });

  test("offset, factor and sign leave the cut where it is", () => {
    const factor = fc.constantFrom(-8, -0.5, 0.25, 4, 64);
    let cuts = 0;
    fc.assert(
      fc.property(fc.integer(), fc.integer({ min: -500, max: 500 }), factor, (seed, offset, scale) => {
        const series = normals(300, seed).map((one, i) => one - 6 * Math.exp(-i / 30));
        const moved = series.map((one) => offset + scale * one);
        const plain = mser5(series);
        const found = mser5(moved);
        expect(found.found).toBe(plain.found);
        if (!plain.found) return;
        expect(cutOf(found)).toBe(plain.cut);
        cuts++;
      }),
    );
    expect(cuts).toBeGreaterThan(70);
  });

  test("a decaying bias under correlated noise is cut about where it dies", () => {
    // 20 e^(−i/50), noise of standard deviation 1.15 and correlation 0.5: the bias is down to a tenth of the noise after
    // 50 ln(20/0.115) = 258, and to the noise itself after 143.
    const cuts = Array.from({ length: 200 }, (_, seed) =>
      cutOf(mser5(autoregressive(2000, 0.5, seed, 10).map((one, i) => one - 20 * Math.exp(-i / 50)))),
    );
    expect(cuts.filter((cut) => cut >= 100 && cut <= 300).length).toBeGreaterThan(190);
    const average = cuts.reduce((sum, cut) => sum + cut / cuts.length, 0);
    expect(average).toBeGreaterThan(143);
    expect(average).toBeLessThan(258);
  });

  test("what never had a bias is hardly cut, and seldom refused", () => {
    const found = Array.from({ length: 300 }, (_, seed) => mser5(autoregressive(1000, 0.5, seed, 10)));
    const cuts = found.filter((one) => one.found).map(cutOf);
    expect(cuts.length).toBeGreaterThan(290);
    expect(cuts.reduce((sum, cut) => sum + cut, 0) / cuts.length).toBeLessThan(50);
  });

  test("a series that rises to its end is refused, and so is a short one", () => {
    const rising = normals(500, 4).map((one, i) => one / 10 + i / 50);
    expect(mser5(rising)).toEqual({ found: false, why: "beyond half" });
    expect(mser5(normals(49, 1))).toEqual({ found: false, why: "too few values" });
    expect(mser5(new Array<number>(50).fill(1)).found).toBe(true);
  });

  test("what is left over at the end is not looked at", () => {
    const series = rise(500, 10, 20);
    expect(mser5([...series, 900, 900, 900, 900])).toEqual(mser5(series));
  });
});

describe("Welch's procedure", () => {
  test("the moving average by hand, window 2", () => {
    // From 0: 1; the mean of the first three; then of five; the last two points have none.
    const averages = [1, 3, 4, 5.8, 6.2];
    const found = movingAverage([1, 2, 6, 3, 8, 10, 4], 2);
    expect(found).toHaveLength(averages.length);
    for (const [i, average] of averages.entries()) expect(found[i]).toBeCloseTo(average, 12);
    expect(movingAverage([1, 2], 2)).toEqual([]);
  });

  test("staying within a tolerance: the last time outside counts, not the first inside; bounds are inside", () => {
    expect(staysWithinFrom([0, 10, 0, 9, 11, 10], 10, 1)).toBe(3);
    expect(staysWithinFrom([10, 10, 0], 10, 1)).toBeNull();
    expect(staysWithinFrom([10, 10], 10, 0)).toBe(0);
    expect(staysWithinFrom([], 10, 1)).toBeNull();
  });

  test("a smooth rise without noise is cut where the smoothed exponential is within the tolerance", () => {
    const window = 5;
    const found = welch([rise(2000, 10, 50)], { window });
    // Smoothing an exponential multiplies its distance from the end by the mean of e^(j/50), j from −5 to 5.
    let factor = 0;
    for (let j = -window; j <= window; j++) factor += Math.exp(j / 50) / (2 * window + 1);
    expect(found.cut).toBe(Math.ceil(50 * Math.log(factor / 0.05)));
    expect(found).toMatchObject({ why: null, window: 5, tolerance: 0.05 });
    expect(found.laterLevel).toBeCloseTo(10, 6);
    expect(welch([rise(2000, 10, 50)], { window, tolerance: 0.01 }).cut).toBe(Math.ceil(50 * Math.log(factor / 0.01)));
  });

  test("replications are averaged before they are smoothed", () => {
    const up = rise(400, 10, 30);
    const opposite = Array.from({ length: 400 }, (_, i) => (i % 7) - 3);
    const a = up.map((one, i) => one + (opposite[i] ?? 0));
    const b = up.map((one, i) => one - (opposite[i] ?? 0));
    const found = welch([a, b]);
    expect(found.cut).toBe(welch([up]).cut);
    expect(found.window).toBe(1);
  });

  test("with noise, the cut over 20 replications is about where the bias is within the tolerance", () => {
    // Bias of 20 e^(−i/50) on 10 is within 5 % after 50 ln 40 = 184 points.
    const cuts = Array.from({ length: 100 }, (_, study) => {
      const runs = Array.from({ length: 20 }, (_, run) =>
        autoregressive(1500, 0.5, study * 20 + run, 10).map((one, i) => one - 20 * Math.exp(-i / 50)),
      );
      return welch(runs).cut ?? Number.NaN;
    });
    expect(cuts.filter((cut) => cut >= 165 && cut <= 225).length).toBeGreaterThan(95);
  });

  test("the window is the least power of two that keeps the second half within half of the tolerance", () => {
    const runs = [normals(800, 6, 10, 1)];
    const { window, smoothed, laterLevel, cut } = welch(runs);
    const isFlat = (curve: readonly number[]): boolean =>
      curve.slice(400).every((one) => Math.abs(one - laterLevel) <= 0.025 * laterLevel);
    expect(cut).not.toBeNull();
    expect(window).toBeGreaterThan(1);
    expect(isFlat(smoothed)).toBe(true);
    expect(isFlat(movingAverage(normals(800, 6, 10, 1), window / 2))).toBe(false);
  });

  test("more replications need a smaller window", () => {
    const runs = Array.from({ length: 50 }, (_, run) => normals(800, run, 10, 1));
    expect(welch(runs).window).toBeLessThan(welch(runs.slice(0, 1)).window);
  });

  test("where nothing is found it says why", () => {
    expect(welch([rise(100, 10, 80)])).toMatchObject({ cut: null, why: "still moving" });
    // A slow wave comes back to the same mean each quarter, but no window allowed takes it out.
    const wave = Array.from({ length: 400 }, (_, i) => 10 + 5 * Math.sin((2 * Math.PI * i) / 100));
    expect(welch([wave], { window: 10 })).toMatchObject({ cut: null, why: "too rough" });
    expect(welch([[1, 2, 3]])).toMatchObject({ cut: null, why: "too few points" });
    expect(() => welch([rise(100, 1, 5)], { window: 26 })).toThrow(RangeError);
    expect(() => welch([])).toThrow(RangeError);
  });

  test("a factor leaves the cut where it is", () => {
    fc.assert(
      fc.property(fc.integer(), fc.constantFrom(-16, 0.25, 2), (seed, factor) => {
        const runs = [0, 1, 2].map((run) =>
          normals(300, seed + run, 10, 1).map((one, i) => one - 9 * Math.exp(-i / 20)),
        );
        const { cut, window } = welch(runs);
        expect(welch(runs.map((run) => run.map((one) => factor * one)))).toMatchObject({ cut, window });
      }),
      { numRuns: 40 },
    );
  });
});

test("batches: whole ones only, in order", () => {
  expect([...meansOfBatches([1, 2, 3, 4, 5, 6, 7], 3)]).toEqual([2, 5]);
  expect([...meansOfBatches([1, 2], 3)]).toEqual([]);
});

describe("the end of a ramp-up, whatever the bins", () => {
  /** A ramp-up that goes on throughout, in bins so short that most are empty. */
  const rising = Array.from({ length: 1600 }, (_, i) => (i % 8 === 0 ? 8 + i / 40 : 0));

  test("bins of a part of a cycle find an end at once where wider ones find none", () => {
    expect(mser5(rising)).toMatchObject({ found: true });
    expect(rampUpEnd(rising, 8)).toEqual({ found: false, why: "beyond half" });
    expect(rampUpEnd(rising, 17)).toEqual({ found: false, why: "too few values" });
  });

  test("a step is found, to within a batch of the widest bins that were needed", () => {
    const noisy = autoregressive(1000, 0.5, 1).map((one, i) => one + (i < 150 ? 0 : 30));
    const found = rampUpEnd(noisy, 2);
    expect(found).toMatchObject({ found: true });
    if (!found.found) throw new Error("no end");
    expect(found.cut).toBeGreaterThanOrEqual(150);
    expect(found.cut).toBeLessThanOrEqual(170);
  });
});
