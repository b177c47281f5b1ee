/**
 * Draws against the distributions they are meant to have. References are jStat's distribution functions, with parameters
 * worked out here from means and spreads by the formulas of A. M. Law, Simulation Modeling and Analysis, chapter 6 (from
 * memory); quantiles of the normal distribution and values of the gamma function were computed with mpmath 1.3 to 40 digits.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { gamma, sampler } from "../../../src/engine/random/distributions.ts";
import { normalQuantile, PPND16 } from "../../../src/engine/random/normal.ts";
import { namedStream } from "../../../src/engine/random/stream.ts";
import type { Distribution } from "../../../src/scenario/distribution.ts";
import { chiSquare, jStat, kolmogorovSmirnov, take } from "./fit.ts";

type Numbers = Distribution<number>;

const N = 100_000;

function cdfOf(distribution: Numbers): (x: number) => number {
  switch (distribution.family) {
    case "exponential":
      return (x) => jStat.exponential.cdf(x, 1 / distribution.mean);
    case "uniform":
      return (x) => jStat.uniform.cdf(x, distribution.least, distribution.most);
    case "triangular":
      return (x) => jStat.triangular.cdf(x, distribution.least, distribution.most, distribution.mode);
    case "weibull": {
      const scale = distribution.mean / jStat.gammafn(1 + 1 / distribution.shape);
      return (x) => jStat.weibull.cdf(x, scale, distribution.shape);
    }
    case "lognormal": {
      const { mean, spread } = distribution;
      const mu = Math.log(mean ** 2 / Math.sqrt(mean ** 2 + spread ** 2));
      const sigma = Math.sqrt(Math.log(1 + (spread / mean) ** 2));
      return (x) => jStat.lognormal.cdf(x, mu, sigma);
    }
    case "erlang":
      return (x) => jStat.gamma.cdf(x, distribution.stages, distribution.mean / distribution.stages);
    case "fixed":
    case "geometric":
      throw new Error("not continuous");
  }
}

function momentsOf(distribution: Numbers): { mean: number; deviation: number } {
  switch (distribution.family) {
    case "fixed":
      return { mean: distribution.mean, deviation: 0 };
    case "exponential":
      return { mean: distribution.mean, deviation: distribution.mean };
    case "geometric": {
      const { mean, step } = distribution;
      const chance = step / mean;
      return { mean, deviation: (step * Math.sqrt(1 - chance)) / chance };
    }
    case "uniform": {
      const { least, most } = distribution;
      return { mean: (least + most) / 2, deviation: (most - least) / Math.sqrt(12) };
    }
    case "triangular": {
      const { least: a, mode: c, most: b } = distribution;
      return { mean: (a + b + c) / 3, deviation: Math.sqrt((a * a + b * b + c * c - a * b - a * c - b * c) / 18) };
    }
    case "weibull": {
      const { mean, shape } = distribution;
      const [one, two] = [jStat.gammafn(1 + 1 / shape), jStat.gammafn(1 + 2 / shape)];
      return { mean, deviation: (mean / one) * Math.sqrt(two - one ** 2) };
    }
    case "lognormal":
      return { mean: distribution.mean, deviation: distribution.spread };
    case "erlang":
      return { mean: distribution.mean, deviation: distribution.mean / Math.sqrt(distribution.stages) };
  }
}

const EACH: { readonly [Family in Numbers["family"]]: [string, Numbers & { readonly family: Family }][] } = {
  exponential: [["exponential", { family: "exponential", mean: 45 }]],
  uniform: [["uniform", { family: "uniform", least: 2, most: 5 }]],
  triangular: [
    ["triangular", { family: "triangular", least: 5, mode: 10, most: 30 }],
    ["triangular from its mode", { family: "triangular", least: 0, mode: 0, most: 6 }],
    ["triangular up to its mode", { family: "triangular", least: 1, mode: 4, most: 4 }],
  ],
  weibull: [
    ["weibull of early failures", { family: "weibull", mean: 20, shape: 0.7 }],
    ["weibull of wear", { family: "weibull", mean: 20, shape: 3.5 }],
  ],
  lognormal: [
    ["lognormal", { family: "lognormal", mean: 4, spread: 2 }],
    ["lognormal, narrow", { family: "lognormal", mean: 1, spread: 0.1 }],
    ["lognormal, wide", { family: "lognormal", mean: 4, spread: 8 }],
  ],
  erlang: [
    ["erlang of one stage", { family: "erlang", mean: 4, stages: 1 }],
    ["erlang of five", { family: "erlang", mean: 4, stages: 5 }],
  ],
  fixed: [["fixed", { family: "fixed", mean: 3 }]],
  geometric: [
    ["geometric", { family: "geometric", mean: 20, step: 2 }],
    ["geometric, nearly always one step", { family: "geometric", mean: 1.25, step: 1 }],
  ],
};
const { fixed, geometric, ...others } = EACH;
const CONTINUOUS = Object.values<[string, Numbers][]>(others).flat();
const DISCRETE: [string, Numbers][] = [...fixed, ...geometric];

function drawsOf(distribution: Numbers, purpose = "fit"): number[] {
  return take(N, sampler(distribution, namedStream("7", "m", purpose)));
}

describe("fit", () => {
  test.each(CONTINUOUS)("%s: as stated, and not 2 % longer", (_, distribution) => {
    const draws = drawsOf(distribution);
    const longer = draws.map((draw) => draw * 1.02);
    expect(kolmogorovSmirnov(draws, cdfOf(distribution))).toBeLessThan(1);
    expect(kolmogorovSmirnov(longer, cdfOf(distribution))).toBeGreaterThan(1);
  });

  test("not with a neighbouring shape or spread of the same mean", () => {
    const near: [Numbers, Numbers][] = [
      [
        { family: "weibull", mean: 20, shape: 3.5 },
        { family: "weibull", mean: 20, shape: 3.4 },
      ],
      [
        { family: "lognormal", mean: 4, spread: 2 },
        { family: "lognormal", mean: 4, spread: 2.06 },
      ],
      [
        { family: "erlang", mean: 4, stages: 20 },
        { family: "erlang", mean: 4, stages: 21 },
      ],
      [
        { family: "triangular", least: 5, mode: 10, most: 30 },
        { family: "triangular", least: 5, mode: 11, most: 29 },
      ],
    ];
    for (const [one, other] of near) {
      expect(kolmogorovSmirnov(drawsOf(one), cdfOf(one))).toBeLessThan(1);
      expect(kolmogorovSmirnov(drawsOf(one), cdfOf(other))).toBeGreaterThan(1);
    }
  });

  test.each([
    [20, 2],
    [1.25, 1],
    [9, 1],
  ])("geometric of mean %d and step %d: steps as often as chance would have it", (mean, step) => {
    const steps = drawsOf({ family: "geometric", mean, step }).map((draw) => draw / step);
    expect(steps.every((count) => Number.isInteger(count) && count >= 1)).toBe(true);
    const fitTo = (chance: number): number => {
      const expected: number[] = [];
      for (let k = 1; N * (1 - chance) ** k * Math.min(1, chance / (1 - chance)) >= 10; k++)
        expected.push(N * chance * (1 - chance) ** (k - 1));
      const observed = expected.map(() => 0);
      for (const count of steps) if (count <= expected.length) observed[count - 1] = (observed[count - 1] ?? 0) + 1;
      const beyond = steps.filter((count) => count > expected.length).length;
      return chiSquare([...observed, beyond], [...expected, N * (1 - chance) ** expected.length]);
    };
    expect(fitTo(step / mean)).toBeLessThan(1);
    expect(fitTo((step / mean) * 1.02)).toBeGreaterThan(1);
  });
});

test.each([...CONTINUOUS, ...DISCRETE])(
  "%s: mean and standard deviation as stated, within standard errors",
  (_, distribution) => {
    const { mean, deviation } = momentsOf(distribution);
    const draws = drawsOf(distribution, "moments");
    const average = draws.reduce((sum, x) => sum + x, 0) / N;
    const squares = draws.map((x) => (x - mean) ** 2);
    const variance = squares.reduce((sum, x) => sum + x, 0) / N;
    const squaresVariance = squares.reduce((sum, x) => sum + (x - variance) ** 2, 0) / N;
    // 3.29: one in a thousand; sample variances of heavy tails come out low more often than that, but not here.
    expect(Math.abs(average - mean)).toBeLessThanOrEqual((3.29 * deviation) / Math.sqrt(N));
    expect(Math.abs(variance - deviation ** 2)).toBeLessThanOrEqual(3.29 * Math.sqrt(squaresVariance / N));
    // What would be noticed: 2 % in means, 5 % in deviations, of all but the widest.
    if (deviation > 0 && deviation <= mean) {
      expect((3.29 * deviation) / Math.sqrt(N)).toBeLessThan(0.02 * mean);
      expect(3.29 * Math.sqrt(squaresVariance / N)).toBeLessThan(0.05 * deviation ** 2 * 2);
    }
  },
);

const positive = fc.double({ min: 1e-6, max: 1e9, noNaN: true });
const anyDistribution: fc.Arbitrary<Exclude<Numbers, { family: "erlang" }>> = fc.oneof(
  fc.record({ family: fc.constantFrom("fixed", "exponential"), mean: positive }),
  fc
    .record({
      family: fc.constant("geometric" as const),
      step: positive,
      of: fc.double({ min: 1, max: 1e6, noNaN: true }),
    })
    .map(({ family, step, of }) => ({ family, step, mean: step * of })),
  fc
    .record({ family: fc.constant("uniform" as const), least: positive, width: positive })
    .map(({ family, least, width }) => ({ family, least, most: least + width })),
  fc
    .record({
      family: fc.constant("triangular" as const),
      least: positive,
      width: positive,
      at: fc.constantFrom(0, 0.3, 1),
    })
    .map(({ family, least, width, at }) => ({ family, least, mode: least + width * at, most: least + width })),
  fc.record({
    family: fc.constant("weibull" as const),
    mean: positive,
    shape: fc.double({ min: 0.1, max: 100, noNaN: true }),
  }),
  fc.record({ family: fc.constant("lognormal" as const), mean: positive, spread: positive }),
);
const unit = fc.integer({ min: 0, max: 2 ** 53 - 1 }).map((n) => n / 2 ** 53);

test("every draw grows with the number drawn, and none is negative or no number", () => {
  fc.assert(
    fc.property(anyDistribution, unit, unit, (distribution, u, v) => {
      const quantile = (u: number): number => sampler(distribution, () => u)();
      const [low, high] = [quantile(Math.min(u, v)), quantile(Math.max(u, v))];
      // Where the two are within a few bits, so are their draws, in either order.
      expect(low).toBeLessThanOrEqual(high * (1 + 1e-12));
      expect(low).toBeGreaterThanOrEqual(0);
      expect(high).not.toBeNaN();
      expect(quantile(0)).toBeGreaterThanOrEqual(0);
      expect(quantile(1 - 2 ** -53)).not.toBeNaN();
    }),
    { numRuns: 2000 },
  );
});

test("an Erlang draw takes one number a stage and grows with each", () => {
  const drawFrom = (numbers: readonly number[]): number => {
    const left = [...numbers];
    const draw = sampler({ family: "erlang", mean: 6, stages: 3 }, () => left.shift() ?? Number.NaN)();
    expect(left).toEqual([]);
    return draw;
  };
  const base = [0.2, 0.5, 0.9];
  expect(drawFrom(base)).toBeCloseTo(2 * -Math.log(0.8 * 0.5 * 0.1), 12);
  for (const i of base.keys()) expect(drawFrom(base.with(i, 0.95))).toBeGreaterThan(drawFrom(base));
});

describe("normal quantiles", () => {
  test("coefficients as published: their significands add up to the paper's hash sums", () => {
    const significand = (x: number): number => x / 10 ** Math.floor(Math.log10(x));
    const hash = ({ above, below }: { above: readonly number[]; below: readonly number[] }): number =>
      [...above, ...below.slice(1)].reduce((sum, x) => sum + significand(x), 0);
    expect(hash(PPND16.middle)).toBeCloseTo(55.8831928806149, 12);
    expect(hash(PPND16.tail)).toBeCloseTo(49.3320650330161, 12);
    expect(hash(PPND16.end)).toBeCloseTo(47.5258331754929, 12);
  });

  test.each([
    [0.075, -1.439531470938456],
    [0.3, -0.5244005127080408],
    [0.925, 1.4395314709384561],
    [0.975, 1.9599639845400538],
    [0.999, 3.090232306167813],
    [1e-4, -3.7190164854556804],
    [2 ** -30, -6.009353565530743],
    [1e-10, -6.361340902404056],
    [1e-13, -7.348796102800677],
    [1e-16, -8.222082216130435],
  ])("at %d", (u, expected) => {
    expect(Math.abs(normalQuantile(u) / expected - 1)).toBeLessThan(1e-15);
  });

  test("the ends and the middle", () => {
    expect([0, 0.5, 1].map(normalQuantile)).toEqual([-Infinity, 0, Infinity]);
  });

  test("against jStat's distribution function, and odd about one half", () => {
    for (let u = 0.0005; u < 1; u += 0.001) {
      expect(jStat.normal.cdf(normalQuantile(u), 0, 1)).toBeCloseTo(u, 10);
      expect(normalQuantile(1 - u)).toBeCloseTo(-normalQuantile(u), 12);
    }
  });
});

test.each([
  [1, 1],
  [1.01, 0.994325851191506],
  [1.5, 0.886226925452758],
  [2, 1],
  [3.7, 4.170651783796604],
  [11, 3628800],
  [21, 2432902008176640000],
])("gamma(%d)", (x, expected) => {
  expect(Math.abs(gamma(x) / expected - 1)).toBeLessThan(1e-14);
});
