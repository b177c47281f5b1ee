/**
 * The least-squares machinery against two problems of the Statistical Reference Datasets of the National Institute of
 * Standards and Technology (nonlinear regression, Misra1a and Rat42): certified parameters, standard deviations and residual
 * sums of squares. Data and certified values are from memory; that they belong together, to ten digits, is checked first.
 */
import { describe, expect, test } from "vitest";
import { curvatureAt, uncertaintyOf } from "../../../src/study/fit/curvature.ts";
import { chiSquare, type Problem } from "../../../src/study/fit/problem.ts";
import { CHI_SQUARE_95, profileOf } from "../../../src/study/fit/profile.ts";
import { minimise } from "../../../src/study/fit/search.ts";

interface Published {
  readonly name: string;
  readonly model: (b: readonly number[], x: number) => number;
  readonly x: readonly number[];
  readonly y: readonly number[];
  readonly certified: readonly number[];
  readonly deviations: readonly number[];
  readonly sumOfSquares: number;
  readonly residualDeviation: number;
  /** Wide enough for both starts that are published with the problem. */
  readonly bounds: readonly (readonly [number, number])[];
  readonly start: readonly number[];
}

const PUBLISHED: readonly Published[] = [
  {
    name: "Misra1a",
    model: ([b1 = 0, b2 = 0], x) => b1 * (1 - Math.exp(-b2 * x)),
    x: [77.6, 114.9, 141.1, 190.8, 239.9, 289.0, 332.8, 378.4, 434.8, 477.3, 536.8, 593.1, 689.1, 760.0],
    y: [10.07, 14.73, 17.94, 23.93, 29.61, 35.18, 40.02, 44.82, 50.76, 55.05, 61.01, 66.4, 75.47, 81.78],
    certified: [2.3894212918e2, 5.5015643181e-4],
    deviations: [2.7070075241, 7.2668688436e-6],
    sumOfSquares: 1.2455138894e-1,
    residualDeviation: 1.018787633e-1,
    bounds: [
      [50, 600],
      [0.00005, 0.002],
    ],
    start: [500, 0.0001],
  },
  {
    name: "Rat42",
    model: ([b1 = 0, b2 = 0, b3 = 0], x) => b1 / (1 + Math.exp(b2 - b3 * x)),
    x: [9, 14, 21, 28, 42, 57, 63, 70, 79],
    y: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
    certified: [7.2462237576e1, 2.6180768402, 6.7359200066e-2],
    deviations: [1.7340283401, 8.8295217536e-2, 3.4465663377e-3],
    sumOfSquares: 8.0565229338,
    residualDeviation: 1.1587725499,
    bounds: [
      [10, 200],
      [0.1, 10],
      [0.005, 1],
    ],
    start: [100, 1, 0.1],
  },
];

describe.each(PUBLISHED)("$name", ({ model, x, y, certified, deviations, ...published }) => {
  const problem: Problem = {
    dimensions: published.bounds.map(([lower, upper]) => ({
      lower,
      upper,
      grain: (upper - lower) * 1e-9,
      isWhole: false,
      snap: (value: number) => value,
    })),
    residuals: (b) => x.map((at, n) => (model(b, at) - (y[n] ?? 0)) / published.residualDeviation),
  };
  const freedom = x.length - certified.length;
  const relative = (value: number | null | undefined, to: number | undefined): number =>
    Math.abs((value ?? Number.NaN) / (to ?? Number.NaN) - 1);

  test("data, parameters and sum of squares belong together", () => {
    const sum = chiSquare(problem, certified) * published.residualDeviation ** 2;
    expect(relative(sum, published.sumOfSquares)).toBeLessThan(1e-9);
    expect(relative(Math.sqrt(sum / freedom), published.residualDeviation)).toBeLessThan(1e-9);
  });

  test.each([
    ["with the published start", [published.start]],
    ["by the look over the whole range alone", []],
  ])("%s, parameters to a hundredth of their deviations", (_how, starts) => {
    const found = minimise(problem, starts);
    for (const [i, value] of found.values.entries()) {
      const apart = Math.abs(value - (certified[i] ?? Number.NaN));
      expect(apart / (deviations[i] ?? Number.NaN)).toBeLessThan(0.01);
    }
    expect(relative(found.chiSquare * published.residualDeviation ** 2, published.sumOfSquares)).toBeLessThan(1e-4);
  });

  test("standard errors to two per cent", () => {
    const curvature = curvatureAt(problem, certified);
    if (curvature === null) throw new Error("no answer");
    const { standardErrors } = uncertaintyOf(problem, curvature, 1);
    for (const [i, error] of standardErrors.entries()) expect(relative(error, deviations[i])).toBeLessThan(0.02);
  });

  test("profiles about as wide as linear theory has it", () => {
    for (const [i, error] of deviations.entries()) {
      const { low, high } = profileOf(problem, certified, i, error, CHI_SQUARE_95);
      const width = (high ?? Number.NaN) - (low ?? Number.NaN);
      expect(relative(width, 2 * Math.sqrt(CHI_SQUARE_95) * error)).toBeLessThan(0.08);
    }
  });
});
