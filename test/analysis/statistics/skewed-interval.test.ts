/** Hall's interval: Student's where nothing leans, wider on the side to which the mean is unsure, and holding where Student's does not. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { meanInterval } from "../../../src/analysis/statistics/interval.ts";
import { skewedInterval } from "../../../src/analysis/statistics/skewed-interval.ts";
import { chance } from "./chance.ts";

const figures = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 2, maxLength: 30 });

test("Student's own where figures lie alike about their mean, and no width where they are alike", () => {
  fc.assert(
    fc.property(figures, (half) => {
      const even = half.flatMap((one) => [one, -one]);
      const [leaning, own] = [skewedInterval(even, 0.95), meanInterval(even, 0.95)];
      expect(leaning.low).toBeCloseTo(own.low ?? Number.NaN, 6);
      expect(leaning.high).toBeCloseTo(own.high ?? Number.NaN, 6);
    }),
  );
  expect(skewedInterval([3, 3, 3], 0.95)).toEqual({ n: 3, mean: 3, low: 3, high: 3 });
  expect(skewedInterval([3], 0.95)).toEqual({ n: 1, mean: 3, low: null, high: null });
});

test("mirrored figures have the mirrored interval; figures moved and stretched, theirs", () => {
  const near = (a: number | null, b: number | null) => expect(a ?? 0).toBeCloseTo(b ?? Number.NaN, 5);
  fc.assert(
    fc.property(figures, (given) => {
      const found = skewedInterval(given, 0.95);
      const mirrored = skewedInterval(
        given.map((one) => -one),
        0.95,
      );
      near(mirrored.low, -(found.high ?? 0));
      const moved = skewedInterval(
        given.map((one) => 7 + 2 * one),
        0.95,
      );
      near(moved.high, 7 + 2 * (found.high ?? 0));
    }),
  );
});

test("means of twenty exponential figures: it holds them where Student's misses too often, and on one side", () => {
  const { exponential } = chance(15);
  let [own, leaning, below] = [0, 0, 0];
  const times = 4000;
  for (let i = 0; i < times; i++) {
    const given = Array.from({ length: 20 }, exponential);
    const [student, hall] = [meanInterval(given), skewedInterval(given, 0.95)];
    if ((student.low ?? 2) <= 1 && 1 <= (student.high ?? 0)) own += 1;
    if ((student.high ?? 0) < 1) below += 1;
    if ((hall.low ?? 2) <= 1 && 1 <= (hall.high ?? 0)) leaning += 1;
  }
  expect(own / times).toBeLessThan(0.925);
  // Nearly all that Student's misses lie above it.
  expect(below / (times - own)).toBeGreaterThan(0.9);
  expect(leaning / times).toBeGreaterThan(own / times + 0.01);
});
