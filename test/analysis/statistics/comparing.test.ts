/** Paired differences and their verdicts, the best of several, how many replications, and when to stop. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { bestOf, levelForEach, levelOfLook } from "../../../src/analysis/statistics/best-of.ts";
import { halfWidthOf, meanInterval, USUAL_LEVEL } from "../../../src/analysis/statistics/interval.ts";
import { moments, runningMoments } from "../../../src/analysis/statistics/moments.ts";
import { pairedDifference } from "../../../src/analysis/statistics/paired.ts";
import { adjustedShare, MOST_NAMED, replicationsNeeded } from "../../../src/analysis/statistics/replications-needed.ts";
import { type StoppingRule, stoppingState, UNTIL_COVERAGE_PERCENT } from "../../../src/analysis/statistics/stopping.ts";
import { normals } from "./chance.ts";

describe("paired differences", () => {
  test("Law, Simulation Modeling and Analysis, example 10.1: 90 % interval from 1.65 to 8.31 (from memory)", () => {
    const a = [126.97, 124.31, 126.68, 122.66, 127.23];
    const b = [118.21, 120.22, 122.45, 122.68, 119.4];
    const { difference, verdict, about } = pairedDifference(a, b, 0.9);
    expect(difference.mean).toBeCloseTo(4.98, 2);
    expect((difference.sd ?? 0) ** 2 / 5).toBeCloseTo(2.44, 2);
    expect(difference.low).toBeCloseTo(1.65, 2);
    expect(difference.high).toBeCloseTo(8.31, 2);
    expect(verdict).toBe("b is less");
    expect(about).toBeNull();
  });

  test("turned round, the verdict turns", () => {
    fc.assert(
      fc.property(fc.integer(), fc.double({ min: -2, max: 2, noNaN: true }), (seed, apart) => {
        const a = normals(10, seed);
        const b = normals(10, seed + 1, apart);
        const there = pairedDifference(a, b);
        const back = pairedDifference(b, a);
        expect(back.difference.mean).toBeCloseTo(-there.difference.mean, 12);
        const turned = { "a is less": "b is less", "b is less": "a is less", "not told apart": "not told apart" };
        expect(back.verdict).toBe(turned[there.verdict]);
        expect(there.verdict === "not told apart").toBe(
          (there.difference.low ?? 0) <= 0 && (there.difference.high ?? 0) >= 0,
        );
      }),
    );
  });

  test("the same luck tells apart what separate luck does not", () => {
    const studies = Array.from({ length: 200 }, (_, study) => {
      const [luck, ofA, ofB, other] = [0, 1, 2, 3].map((part) => normals(20, 4 * study + part));
      const a = (luck ?? []).map((one, i) => 100 + 10 * one + (ofA?.[i] ?? 0));
      const b = (luck ?? []).map((one, i) => 102 + 10 * one + (ofB?.[i] ?? 0));
      const c = (other ?? []).map((one) => 102 + 10 * one);
      return { same: pairedDifference(a, b), separate: pairedDifference(a, c) };
    });
    // A difference of 2 is 6.3 standard errors √2/√20 on the same luck, 0.6 of 10 √2/√20 on separate luck.
    expect(studies.filter(({ same }) => same.verdict === "a is less").length).toBeGreaterThan(195);
    expect(studies.filter(({ separate }) => separate.verdict !== "not told apart").length).toBeLessThan(40);
    const gains = (kind: "same" | "separate"): number =>
      studies.reduce((sum, study) => sum + (study[kind].gain ?? Number.NaN) / studies.length, 0);
    // 202/2, widened by the chance in 20 pairs; and 1.
    expect(gains("same")).toBeGreaterThan(90);
    expect(gains("separate")).toBeCloseTo(1, 0);
  });

  test("not told apart: with as many as it says, nine of ten studies tell a difference of that size", () => {
    const a = normals(10, 21, 50, 4);
    const b = normals(10, 22, 51, 4);
    const { difference, verdict, about } = pairedDifference(a, b);
    expect(verdict).toBe("not told apart");
    const told = Array.from({ length: 2000 }, (_, i) => {
      const again = normals(about ?? 0, 100 + i, difference.mean, difference.sd ?? 0);
      return (
        pairedDifference(
          again,
          again.map(() => 0),
        ).verdict !== "not told apart"
      );
    });
    const share = told.filter(Boolean).length / told.length;
    // Two thousand studies: 0.9 ± 0.02 at 99.7 %.
    expect(share).toBeGreaterThan(0.88);
    expect(share).toBeLessThan(0.92);
  });

  test("of equals, going on names a false winner in 5 % of studies at most; at 5 % each time it would in far more", () => {
    const winners = (levelOf: (look: number) => number): number => {
      let found = 0;
      for (let i = 0; i < 1000; i++) {
        // Three alike, of which each replication's luck is shared; what is left is skewed as losses are.
        const draw = (n: number): Float64Array[] =>
          [0, 1, 2].map((v) => normals(n, 7 * i + v).map((one, r) => Math.exp(one / 2) + 10 * Math.sin(r + i)));
        const first = bestOf(draw(10), "least", levelOf(1));
        const more = Math.min(400, Math.max(20, first.about ?? 0));
        if (first.isBest || bestOf(draw(more), "least", levelOf(2)).isBest) found += 1;
      }
      return found;
    };
    // 5 % of 1000, and three standard deviations.
    expect(winners(levelOfLook)).toBeLessThanOrEqual(50 + 21);
    expect(winners(levelOfLook)).toBeLessThan(winners(() => 0.95));
    expect([1, 2, 3].map((look) => levelOfLook(look))).toEqual([0.975, 0.9875, 0.99375]);
  }, 60_000);

  test("alike is not told apart by any number; one pair tells nothing; lists must match", () => {
    expect(pairedDifference([1, 2, 3], [1, 2, 3])).toMatchObject({
      verdict: "not told apart",
      about: null,
      gain: null,
    });
    expect(pairedDifference([1], [2])).toMatchObject({ verdict: "not told apart", about: null });
    expect(pairedDifference([1, 2], [2, 3]).verdict).toBe("a is less");
    expect(() => pairedDifference([1, 2], [1])).toThrow(RangeError);
  });

  test("of equals, one is called less in 3 to 7 % of 2000 comparisons", () => {
    let wrong = 0;
    for (let seed = 0; seed < 2000; seed++) {
      if (pairedDifference(normals(8, 2 * seed), normals(8, 2 * seed + 1)).verdict !== "not told apart") wrong++;
    }
    expect(wrong / 2000).toBeGreaterThan(0.03);
    expect(wrong / 2000).toBeLessThan(0.07);
  });
});

describe("the best of several", () => {
  const slow = normals(12, 1, 30, 1);
  const quick = normals(12, 2, 20, 1);
  const middling = normals(12, 3, 25, 1);

  test("is called so when it is told apart from each other one", () => {
    const least = bestOf([slow, quick, middling], "least");
    expect(least).toMatchObject({ leader: 1, isBest: true, notToldApart: [], about: null });
    expect(least.against.map(({ variant }) => variant)).toEqual([0, 2]);
    expect(least.against.every(({ paired }) => paired.verdict === "a is less")).toBe(true);
    expect(bestOf([slow, quick, middling], "most")).toMatchObject({ leader: 0, isBest: true });
  });

  test("is not, when one is too near, and says which and how many would do", () => {
    const near = quick.map((one, i) => one + 0.1 * (normals(12, 9)[i] ?? 0));
    const found = bestOf([slow, quick, near], "least");
    expect(found.isBest).toBe(false);
    expect(found.notToldApart).toEqual([found.leader === 1 ? 2 : 1]);
    expect(found.about).toBe(found.against.find(({ variant }) => variant !== 0)?.paired.about);
    expect(found.about).toBeGreaterThan(12);
  });

  test("two that are the same leave it open for good; one alone is the best", () => {
    expect(bestOf([slow, quick, quick], "least")).toMatchObject({
      leader: 1,
      isBest: false,
      notToldApart: [2],
      about: null,
    });
    expect(bestOf([slow], "least")).toMatchObject({ leader: 0, isBest: true, against: [] });
    expect(() => bestOf([], "least")).toThrow(RangeError);
  });

  test("levels share what may go wrong", () => {
    expect(levelForEach(0.95, 1)).toBe(0.95);
    expect(levelForEach(0.95, 5)).toBeCloseTo(0.99, 12);
    expect(bestOf([slow, quick, middling], "least", 0.9).eachLevel).toBeCloseTo(0.95, 12);
  });

  test("among five equals one is called the best in under 5 % of 2000 studies", () => {
    let wrong = 0;
    for (let study = 0; study < 2000; study++) {
      const variants = Array.from({ length: 5 }, (_, v) => normals(6, study * 5 + v));
      if (bestOf(variants, "least").isBest) wrong++;
    }
    expect(wrong / 2000).toBeLessThan(0.05);
  });
});

describe("how many replications", () => {
  test("s = 1, ± 0.5: t(n − 1) within 0.5 √n, so 18 (tables: t(17) = 2.110, t(16) = 2.120)", () => {
    expect(replicationsNeeded({ n: 5, mean: 10, sd: 1 }, { halfWidth: 0.5 })).toBe(18);
    // ± 5.2632 % of 10 after the adjustment is ± 0.5.
    expect(replicationsNeeded({ n: 5, mean: 10, sd: 1 }, { share: 1 / 19 })).toBe(18);
    expect(replicationsNeeded({ n: 5, mean: -10, sd: 1 }, { share: 1 / 19 })).toBe(18);
  });

  test("is the least that is enough, and not below those made", () => {
    const spread = fc.double({ min: 0.01, max: 20, noNaN: true });
    const wanted = fc.double({ min: 0.1, max: 20, noNaN: true });
    let more = 0;
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 40 }), spread, wanted, (n, sd, halfWidth) => {
        const needed = replicationsNeeded({ n, mean: 1, sd }, { halfWidth }, 0.9) ?? 0;
        expect(needed).toBeGreaterThanOrEqual(n);
        expect(halfWidthOf(sd, needed, 0.9)).toBeLessThanOrEqual(halfWidth);
        if (needed === n) return;
        expect(halfWidthOf(sd, needed - 1, 0.9)).toBeGreaterThan(halfWidth);
        more++;
      }),
    );
    expect(more).toBeGreaterThan(5);
  });

  test("what can't be told is null", () => {
    expect(replicationsNeeded({ n: 1, mean: 10, sd: null }, { share: 0.05 })).toBeNull();
    expect(replicationsNeeded({ n: 9, mean: 0, sd: 1 }, { share: 0.05 })).toBeNull();
    expect(replicationsNeeded({ n: 9, mean: 1, sd: 1e6 }, { halfWidth: 1 })).toBeNull();
    expect(replicationsNeeded({ n: 9, mean: 1, sd: 0 }, { halfWidth: 0 })).toBe(9);
    expect(MOST_NAMED).toBeGreaterThan(1e6);
  });

  test("γ = 0.15 comes down to 0.13 (Law, section 9.4.1)", () => {
    expect(adjustedShare(0.15)).toBeCloseTo(0.13, 2);
    expect(() => adjustedShare(0)).toThrow(RangeError);
  });
});

/** After how many replications, taken in order, the rule stops; `null` if none of these is enough. */
function stopsAfter(figures: ArrayLike<number>, { share, least = 10 }: StoppingRule): number | null {
  const running = runningMoments();
  for (let n = 1; n <= figures.length; n++) {
    running.add(figures[n - 1] ?? Number.NaN);
    const { mean, sd } = running.now();
    const isWithin = sd !== null && halfWidthOf(sd, n, USUAL_LEVEL) <= (share / (1 + share)) * Math.abs(mean);
    if (n >= Math.max(2, least) && isWithin) {
      expect(stoppingState(Array.from(figures).slice(0, n), { share, least }).enough).toBe(true);
      return n;
    }
  }
  expect(stoppingState(Array.from(figures), { share, least }).enough).toBe(false);
  return null;
}

describe("replications until ± x %", () => {
  test("stops at the first number, not below the least, at which the half-width is within γ/(1 + γ) of the mean", () => {
    const rule = { share: 0.05 };
    fc.assert(
      fc.property(fc.integer(), fc.double({ min: 0.1, max: 3, noNaN: true }), (seed, sd) => {
        const figures = normals(400, seed, 20, sd);
        const isEnough = (n: number): boolean => {
          const { halfWidth, mean } = meanInterval(figures.slice(0, n));
          return (halfWidth ?? Number.POSITIVE_INFINITY) <= (0.05 / 1.05) * mean;
        };
        const n = stopsAfter(figures, rule) ?? 0;
        expect(isEnough(n)).toBe(true);
        for (let fewer = 10; fewer < n; fewer++) expect(isEnough(fewer)).toBe(false);
        expect(stoppingState(figures.slice(0, n), rule).enough).toBe(true);
        // However many are made at a time, and whatever comes after.
        expect(stopsAfter(figures.slice(0, n + 7), rule)).toBe(n);
        if (n > 10) expect(stopsAfter(figures.slice(0, n - 1), rule)).toBeNull();
      }),
    );
  });

  test("the least number comes first, two at the fewest", () => {
    const alike = new Array<number>(30).fill(5);
    expect(stopsAfter(alike, { share: 0.01 })).toBe(10);
    expect(stopsAfter(alike, { share: 0.01, least: 25 })).toBe(25);
    expect(stopsAfter(alike, { share: 0.01, least: 1 })).toBe(2);
    expect(stoppingState(alike.slice(0, 9), { share: 0.01 })).toMatchObject({ enough: false, reached: 0, about: 10 });
    expect(stoppingState([5], { share: 0.01 })).toMatchObject({ enough: false, reached: null, about: null });
  });

  test("its intervals hold about as often as is said of them", () => {
    let held = 0;
    for (let i = 0; i < 1000; i++) {
      const figures = normals(400, 5000 + i, 100, 5);
      const n = stopsAfter(figures, { share: 0.02 }) ?? 400;
      const { low, high } = meanInterval(figures.slice(0, n));
      if ((low ?? 0) <= 100 && (high ?? 0) >= 100) held += 1;
    }
    // Three standard deviations of a thousand studies.
    expect(Math.abs(held / 10 - UNTIL_COVERAGE_PERCENT)).toBeLessThan(2.5);
  });

  test("how things stand: what is reached, what is allowed, about how many", () => {
    const figures = normals(20, 8, 10, 3);
    const state = stoppingState(figures, { share: 0.02, level: 0.9 });
    const { halfWidth, mean } = meanInterval(figures, 0.9);
    expect(state).toMatchObject({ n: 20, enough: false, allowed: 0.02 / 1.02 });
    expect(state.reached).toBeCloseTo((halfWidth ?? 0) / mean, 12);
    expect(state.about).toBe(replicationsNeeded(moments(figures), { share: 0.02 }, 0.9));
  });

  test("a mean of 0 never is within a share of itself, unless all are 0", () => {
    expect(
      stopsAfter(
        Float64Array.from({ length: 200 }, (_, i) => (i % 2 === 0 ? 1 : -1)),
        { share: 0.1 },
      ),
    ).toBeNull();
    expect(stopsAfter(new Array<number>(12).fill(0), { share: 0.1 })).toBe(10);
  });

  test("the interval it stops with holds the mean nearly as often as it says, and the mean is within γ of it", () => {
    const samples = 2000;
    let held = 0;
    let within = 0;
    for (let seed = 0; seed < samples; seed++) {
      const figures = normals(250, seed * 31 + 5, 10, 3);
      const { low, high, mean } = meanInterval(figures.slice(0, stopsAfter(figures, { share: 0.08 }) ?? 0));
      if ((low ?? 11) <= 10 && 10 <= (high ?? 0)) held++;
      if (Math.abs(mean - 10) <= 0.08 * 10) within++;
    }
    expect(held / samples).toBeGreaterThan(0.93);
    expect(held / samples).toBeLessThan(0.97);
    expect(within / samples).toBeGreaterThan(0.93);
  });
});
