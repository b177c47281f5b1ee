/** Plans of shares: exact, and with as few dividers as another search finds. */
import { describe, expect, test } from "vitest";
import { fewestDividers } from "../../src/network/fewest.ts";
import { leastTerms } from "../../src/network/fewest-bound.ts";
import { dividersIn, type Plan } from "../../src/network/plan.ts";
import { sharesOfCounts, type Ways } from "../../src/network/shares.ts";
import { waysIn } from "../../src/quantity/counts.ts";
import { exact, ONE, type Rational, ratio, whole, ZERO } from "../../src/quantity/rational.ts";
import { randomWeights } from "../layouts/weights.ts";
import { cases } from "../plants/cases.ts";

/** By target, its share of the flow, walked out divider by divider; every divider has as many outlets as it may. */
function sharesIn(plan: Plan, ways: Ways): Map<number, Rational> {
  const shares = new Map<number, Rational>();
  const walk = (part: Plan, share: Rational): void => {
    if ("target" in part) {
      shares.set(part.target, (shares.get(part.target) ?? ZERO).add(share));
      return;
    }
    expect(waysIn(ways)).toContain(part.parts.length);
    for (const one of part.parts) walk(one, share.div(whole(part.parts.length)));
  };
  walk(plan, ONE);
  return shares;
}

/** With the spare parts as the last target. */
function filled(weights: readonly number[], ways: Ways): readonly number[] {
  const { counts, parts, total } = sharesOfCounts(weights, ways);
  return parts === total ? counts : [...counts, parts - total];
}

function expectExact(counts: readonly number[], ways: Ways, budget?: number): void {
  const { plan, dividers, lowerBound, proved } = fewestDividers(counts, ways, budget);
  const parts = counts.reduce((sum, count) => sum + count, 0);
  const shares = sharesIn(plan, ways);
  expect(counts.map((_, target) => exact(shares.get(target) ?? ZERO))).toEqual(
    counts.map((count) => exact(ratio(BigInt(count), BigInt(parts)))),
  );
  expect(dividersIn(plan)).toBe(dividers);
  expect(lowerBound).toBeLessThanOrEqual(dividers);
  expect(proved).toBe(lowerBound === dividers);
}

describe("every target has its exact share", () => {
  test.each([2, 3] as const)("equal ones up to 64, dividers of up to %i ways, and the fewest proved", (ways) => {
    for (let count = 1; count <= 64; count++) {
      const counts = filled(
        Array.from({ length: count }, () => 1),
        ways,
      );
      expectExact(counts, ways);
      expect(fewestDividers(counts, ways).proved, `${count}`).toBe(true);
    }
  });

  test.each([2, 3] as const)("random unequal ones, dividers of up to %i ways", (ways) => {
    for (const weights of randomWeights(cases(60))) expectExact(filled(weights, ways), ways);
  });

  test("thousands of targets, and shares down to a billionth, in no time to speak of", () => {
    expectExact(
      filled(
        Array.from({ length: 5000 }, (_, index) => 1 + (index % 7)),
        3,
      ),
      3,
    );
    expectExact(filled([1, 500_000_000, 3, 123_456_789], 3), 3);
    expectExact(filled([1, 500_000_000, 3, 123_456_789], 2), 2);
  });
});

/**
 * Every tree there is whose leaves are single parts or whole numbers of them, without a thought: an outlet's part is any
 * choice of amounts that adds up. The oracle knows neither digits nor bounds, and divides nothing by what it has in common.
 */
function byBrute(counts: readonly number[], ways: Ways, known: Map<string, number>): number {
  const held = counts.filter((count) => count > 0).toSorted((a, b) => a - b);
  if (held.length === 1) return 0;
  const key = held.join(" ");
  const before = known.get(key);
  if (before !== undefined) return before;
  const parts = held.reduce((sum, count) => sum + count, 0);
  let best = Number.POSITIVE_INFINITY;
  for (const fan of ways === 2 ? [2] : [2, 3]) {
    if (parts % fan !== 0) continue;
    for (const outlet of choices(held, parts / fan)) {
      const rest = held.map((count, index) => count - (outlet[index] ?? 0));
      const first = byBrute(outlet, ways, known);
      if (fan === 2) best = Math.min(best, 1 + first + byBrute(rest, ways, known));
      else {
        for (const second of choices(rest, parts / 3)) {
          const third = rest.map((count, index) => count - (second[index] ?? 0));
          best = Math.min(best, 1 + first + byBrute(second, ways, known) + byBrute(third, ways, known));
        }
      }
    }
  }
  known.set(key, best);
  return best;
}

/** Amounts of each count, any up to all of it, that add up to a sum. */
function choices(counts: readonly number[], sum: number): number[][] {
  const [count, ...others] = counts;
  if (count === undefined) return sum === 0 ? [[]] : [];
  const found: number[][] = [];
  for (let amount = 0; amount <= Math.min(count, sum); amount++) {
    for (const rest of choices(others, sum - amount)) found.push([amount, ...rest]);
  }
  return found;
}

function partitions(total: number, most = total): number[][] {
  if (total === 0) return [[]];
  const found: number[][] = [];
  for (let first = Math.min(total, most); first > 0; first--) {
    for (const rest of partitions(total - first, first)) found.push([first, ...rest]);
  }
  return found;
}

describe("the fewest dividers, against every tree there is", () => {
  test.each<[number, Ways]>([
    [2, 2],
    [4, 2],
    [8, 2],
    [2, 3],
    [3, 3],
    [4, 3],
    [6, 3],
    [8, 3],
    [9, 3],
    [12, 3],
  ])("all shares of %i parts, dividers of up to %i ways", (parts, ways) => {
    const known = new Map<string, number>();
    for (const counts of partitions(parts)) {
      const { dividers, proved } = fewestDividers(counts, ways);
      expect([dividers, proved], counts.join(" ")).toEqual([byBrute(counts, ways, known), true]);
    }
  });

  test.each([
    [6, 2],
    [6, 3],
    [4, 3],
  ])("finer leaves spare none: shares of %i parts, each of them %i", (parts, finer) => {
    const known = new Map<string, number>();
    for (const counts of partitions(parts)) {
      const { dividers } = fewestDividers(counts, 3);
      expect(
        byBrute(
          counts.map((count) => count * finer),
          3,
          known,
        ),
        counts.join(" "),
      ).toBe(dividers);
    }
  });

  test("without a search: never fewer, and still exact", () => {
    for (const counts of partitions(12)) {
      const quick = fewestDividers(counts, 3, 0);
      expect(quick.dividers).toBeGreaterThanOrEqual(fewestDividers(counts, 3).dividers);
      expect(quick.lowerBound).toBeLessThanOrEqual(fewestDividers(counts, 3).dividers);
      expectExact(counts, 3, 0);
    }
  });
});

/** D. Knuth, A. Yao, "The complexity of nonuniform random number generation", 1976; from memory. */
test("by two-way dividers: one less than the shares' binary digits that are 1", () => {
  const ones = (count: number): number => [...count.toString(2)].filter((digit) => digit === "1").length;
  for (const weights of randomWeights(100)) {
    const counts = filled(weights, 2);
    const digits = counts.reduce((sum, count) => sum + ones(count), 0);
    expect(fewestDividers(counts, 2)).toMatchObject({ dividers: digits - 1, proved: true });
  }
});

test("subtrees may divide in another order than their neighbours", () => {
  // Two quarters and three sixths: a half by two, the other by three.
  expect(fewestDividers([3, 3, 2, 2, 2], 3)).toEqual({
    plan: {
      parts: [{ parts: [{ target: 0 }, { target: 1 }] }, { parts: [{ target: 2 }, { target: 3 }, { target: 4 }] }],
    },
    dividers: 3,
    lowerBound: 3,
    proved: true,
  });
});

describe("terms of a share", () => {
  test("5/6 = 1/2 + 1/3; 11/12 = 1/2 + 1/3 + 1/12 is no sum of two", () => {
    const found = [0, 1, 2, 5].map((count) => leastTerms(count, 6));
    expect([...found, leastTerms(11, 12)]).toEqual([0, 1, 1, 2, 3]);
  });

  test("against all pairs of terms down to 1/1000", () => {
    const terms = Array.from({ length: 1000 }, (_, index) => index + 1).filter(smooth);
    for (const parts of [8, 9, 12, 24, 36, 54]) {
      for (let count = 2; count < parts; count++) {
        const isSum = terms.some((u) => terms.some((v) => (u + v) * parts === count * u * v));
        const isOne = terms.some((u) => parts === count * u);
        expect(leastTerms(count, parts), `${count}/${parts}`).toBe(isOne ? 1 : isSum ? 2 : 3);
      }
    }
  });
});

function smooth(value: number): boolean {
  return value === 1 || (value % 2 === 0 && smooth(value / 2)) || (value % 3 === 0 && smooth(value / 3));
}

/**
 * A tree has every equal share if and only if each prime factor of their number is among the dividers' ways' (E. Aharonson, H.
 * Attiya, "Counting networks with arbitrary fan-out", Distributed Computing 8, 1995).
 */
describe("dividers of any ways", () => {
  test("of 5, 7 and 11: a tree for so many needs one divider; where a factor is missing, none will do", () => {
    for (const fan of [5, 7, 11]) {
      expect(sharesOfCounts(Array(fan).fill(1), [2, fan])).toMatchObject({ odd: 1, total: fan });
      expect(fewestDividers(Array(fan).fill(1), [2, fan])).toMatchObject({ dividers: 1, proved: true });
      expect(sharesOfCounts(Array(fan).fill(1), fan - 1).odd).toBe(fan);
    }
    expect(sharesOfCounts(Array(35).fill(1), 4).odd).toBe(35);
  });

  test.each([[[2, 5]], [[3, 4]], [[4, 6]], [[5]], [[2, 3, 7, 12]], [12]])(
    "%j: exact shares, and as few dividers as every splitting finds",
    (ways) => {
      for (let count = 2; count <= 24; count++) {
        const shares = sharesOfCounts(Array(count).fill(1), ways);
        if (shares.odd === 1) expectExact(shares.counts, ways);
      }
      const all = [...new Set(waysIn(ways).flatMap((fan) => [fan, fan * fan]))].filter((parts) => parts <= 12);
      for (const parts of all) {
        const known = new Map<string, number>();
        for (const counts of sumsOf(parts, 4)) {
          const { dividers, proved } = fewestDividers(counts, ways);
          expect([dividers, proved], counts.join(" ")).toEqual([byEverySplitting(counts, waysIn(ways), known), true]);
        }
      }
    },
  );
});

/** Falling counts, at most so many, that add up to a sum. */
function sumsOf(sum: number, most: number, largest = sum): number[][] {
  if (sum === 0) return [[]];
  if (most === 0) return [];
  return Array.from({ length: Math.min(sum, largest) }, (_, i) => i + 1).flatMap((first) =>
    sumsOf(sum - first, most - 1, first).map((rest) => [first, ...rest]),
  );
}

/** Every way to deal the counts out to a divider's outlets, tried. */
function byEverySplitting(counts: readonly number[], fans: readonly number[], known: Map<string, number>): number {
  // With parts no finer than the shares need.
  const { counts: own, total: parts } = sharesOfCounts(
    counts.filter((count) => count > 0).toSorted((a, b) => b - a),
    fans,
  );
  if (own.length === 1) return 0;
  const key = own.join(" ");
  const before = known.get(key);
  if (before !== undefined) return before;
  let best = Number.POSITIVE_INFINITY;
  for (const fan of fans) {
    if (parts % fan !== 0) continue;
    // What is left for so many outlets comes up again and again.
    const dealt = new Map<string, number>();
    const deal = (some: readonly number[], outlets: number): number => {
      if (outlets === 1) return byEverySplitting(some, fans, known);
      const left = some.toSorted((a, b) => b - a);
      const state = `${outlets}: ${left.join(" ")}`;
      const found = dealt.get(state);
      if (found !== undefined) return found;
      let least = Number.POSITIVE_INFINITY;
      const take = (index: number, room: number, taken: readonly number[]): void => {
        if (index === left.length) {
          if (room > 0) return;
          const rest = left.map((count, i) => count - (taken[i] ?? 0)).filter((count) => count > 0);
          least = Math.min(least, byEverySplitting(taken, fans, known) + deal(rest, outlets - 1));
          return;
        }
        for (let here = Math.min(left[index] ?? 0, room); here >= 0; here--)
          take(index + 1, room - here, [...taken, here]);
      };
      take(0, parts / fan, []);
      dealt.set(state, least);
      return least;
    };
    best = Math.min(best, 1 + deal(own, fan));
  }
  known.set(key, best);
  return best;
}
