/** The search ends, and within the bounds, whatever the surface: smooth, stepped, flat in places or without an answer. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { chiSquare, type Problem } from "../../../src/study/fit/problem.ts";
import { minimise } from "../../../src/study/fit/search.ts";

const unknown = fc.record({
  truth: fc.double({ min: 0.1, max: 0.9, noNaN: true }),
  weight: fc.double({ min: 0, max: 300, noNaN: true }),
  isWhole: fc.boolean(),
});

const surface = fc.record({
  unknowns: fc.array(unknown, { minLength: 1, maxLength: 3 }),
  step: fc.constantFrom(0, 0.5, 1, 7),
  hole: fc.boolean(),
});

/** Found by chance: numbers next to the least that there is. */
const NEARLY_FLAT = {
  unknowns: [1e-323, 0.5000000000000001, 0].map((weight) => ({ truth: 0.1, weight, isWhole: false })),
  step: 0,
  hole: false,
};

test("bounds are kept, and nothing worse is found than where the search began", () => {
  fc.assert(
    fc.property(surface, ({ unknowns, step, hole }) => {
      const problem: Problem = {
        dimensions: unknowns.map(({ isWhole }) => ({
          lower: 0,
          upper: 100,
          isWhole,
          grain: isWhole ? 1 : 1e-4,
          snap: (value: number) => (isWhole ? Math.round(value) : value),
        })),
        residuals: (values) => {
          if (hole && (values[0] ?? 0) > 95) return null;
          const sums = unknowns.map(({ truth, weight }, i) => weight * ((values[i] ?? 0) / 100 - truth));
          const coupled = sums.map((one, i) => one + 0.5 * (sums[i - 1] ?? 0));
          return step === 0 ? coupled : coupled.map((one) => step * Math.round(one / step));
        },
      };
      const start = unknowns.map(() => 50);
      const { values, chiSquare: least } = minimise(problem, [start]);
      expect(values.every((value) => value >= 0 && value <= 100)).toBe(true);
      expect(least).toBe(chiSquare(problem, values));
      expect(least).toBeLessThanOrEqual(chiSquare(problem, start));
      // A smooth one without whole numbers is a parabola, whose least value is known.
      if (step === 0 && unknowns.every(({ isWhole }) => !isWhole)) expect(least).toBeLessThan(0.01);
    }),
    { numRuns: 300, examples: [[NEARLY_FLAT]] },
  );
});
