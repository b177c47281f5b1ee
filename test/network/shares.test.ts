import { describe, expect, test } from "vitest";
import { leastParts, sharesFor, sharesOfCounts } from "../../src/network/shares.ts";
import { withoutFactors } from "../../src/quantity/counts.ts";
import { rational } from "../../src/quantity/rational.ts";

describe("shares in whole parts", () => {
  test("of needs that are fractions", () => {
    const needs = ["7/2", "21/4", "35/4"].map(rational);
    expect(sharesFor(needs, 3)).toEqual({ counts: [2, 3, 5], total: 10, odd: 5, parts: 12 });
    expect(sharesFor(needs, 2)).toEqual({ counts: [2, 3, 5], total: 10, odd: 5, parts: 16 });
  });

  test("of equal machines: one part each", () => {
    expect(sharesOfCounts([15, 15, 15], 3)).toEqual({ counts: [1, 1, 1], total: 3, odd: 1, parts: 3 });
    expect(sharesOfCounts([15, 15, 15], 2)).toEqual({ counts: [1, 1, 1], total: 3, odd: 3, parts: 4 });
    expect(sharesOfCounts([7], 2)).toEqual({ counts: [1], total: 1, odd: 1, parts: 1 });
  });

  test("too fine to count, or of nothing: none", () => {
    expect(sharesFor(["1/99991", "1/99989"].map(rational), 3)?.total).toBe(199980);
    expect(sharesFor(["1/99991", "1/99989", "1/99971"].map(rational), 3)).toBeNull();
    expect(sharesFor([rational("0")], 3)).toBeNull();
  });
});

/** The next number of leaves; from the recirculation table, computed exactly and checked by a second method. */
test("the least number of parts from 2s and 3s", () => {
  const table: [number, number][] = [
    [5, 6],
    [7, 8],
    [10, 12],
    [11, 12],
    [13, 16],
    [17, 18],
    ...[19, 20, 21, 22, 23].map((total): [number, number] => [total, 24]),
    [25, 27],
    [29, 32],
  ];
  for (const [total, parts] of table) expect(leastParts(total, 3), `${total}`).toBe(parts);
});

test("the least number of parts, against counting up", () => {
  for (const ways of [2, 3] as const) {
    for (let total = 1; total <= 2000; total++) {
      let parts = total;
      while (withoutFactors(parts, ways) !== 1) parts++;
      expect(leastParts(total, ways)).toBe(parts);
    }
  }
});
