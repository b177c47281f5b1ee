/**
 * Dividing rectangles on functions of L. C. W. Dixon and G. P. Szegö (Towards Global Optimisation 2, 1978): the least values, and
 * after how many looks the method's authors have them to a ten-thousandth (Jones, Perttunen, Stuckman 1993). From memory.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { lookIn } from "../../../src/study/fit/look-in.ts";

function branin([x = 0, y = 0]: readonly number[]): number {
  const valley = y - (5.1 / (4 * Math.PI ** 2)) * x ** 2 + (5 / Math.PI) * x - 6;
  return valley ** 2 + 10 * (1 - 1 / (8 * Math.PI)) * Math.cos(x) + 10;
}

function goldsteinPrice([x = 0, y = 0]: readonly number[]): number {
  const first = 19 - 14 * x + 3 * x ** 2 - 14 * y + 6 * x * y + 3 * y ** 2;
  const second = 18 - 32 * x + 12 * x ** 2 + 48 * y - 36 * x * y + 27 * y ** 2;
  return (1 + (x + y + 1) ** 2 * first) * (30 + (2 * x - 3 * y) ** 2 * second);
}

const HARTMAN = [
  { weight: 1, steep: [3, 10, 30], at: [0.3689, 0.117, 0.2673] },
  { weight: 1.2, steep: [0.1, 10, 35], at: [0.4699, 0.4387, 0.747] },
  { weight: 3, steep: [3, 10, 30], at: [0.1091, 0.8732, 0.5547] },
  { weight: 3.2, steep: [0.1, 10, 35], at: [0.03815, 0.5743, 0.8828] },
];

function hartman(x: readonly number[]): number {
  const well = ({ steep, at }: (typeof HARTMAN)[number]): number =>
    Math.exp(-steep.reduce((sum, by, i) => sum + by * ((x[i] ?? 0) - (at[i] ?? 0)) ** 2, 0));
  return -HARTMAN.reduce((sum, one) => sum + one.weight * well(one), 0);
}

test.each([
  ["Branin", branin, [-5, 0], [10, 15], 0.397887, 195],
  ["Goldstein and Price", goldsteinPrice, [-2, -2], [2, 2], 3, 191],
  ["Hartman, three unknowns", hartman, [0, 0, 0], [1, 1, 1], -3.86278, 199],
])("%s: the least value to a ten-thousandth after as many looks as published", (_, f, lower, upper, least, looks) => {
  let done = 0;
  const found = lookIn(
    (point) => {
      done++;
      return f(point);
    },
    lower,
    upper,
    looks,
  );
  expect(done).toBe(looks);
  expect((f(found) - least) / Math.abs(least)).toBeLessThan(1e-4);
});

test("it ends whatever the values are, flat, on a line or huge, and returns the best that it saw", () => {
  const value = fc.constantFrom(0, 1, 1 + 1e-13, 0.1 + 0.2, 0.3, 1e15, 1e15 + 1);
  fc.assert(
    fc.property(fc.array(value, { minLength: 1 }), fc.integer({ min: 1, max: 4 }), (values, count) => {
      const seen: { readonly point: readonly number[]; readonly value: number }[] = [];
      const at = (point: readonly number[]): number => {
        const value = values[seen.length % values.length] ?? 0;
        seen.push({ point, value });
        return value;
      };
      const ends = Array.from({ length: count }, (_, i) => i);
      const best = lookIn(
        at,
        ends,
        ends.map((end) => end + 1),
        300,
      );
      expect(seen.length).toBeGreaterThanOrEqual(300);
      const least = Math.min(...seen.map(({ value }) => value));
      expect(seen.find(({ value }) => value === least)?.point).toEqual(best);
    }),
  );
});
