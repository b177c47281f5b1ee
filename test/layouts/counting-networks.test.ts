/**
 * Even dividers and merges as balancers: a bitonic network of them is a counting network (J. Aspnes, M. Herlihy, N. Shavit,
 * "Counting Networks", Journal of the ACM 41(5), 1994), so that whatever enters on whichever wire, at rest after m items
 * outlet i of w has passed ceil((m - i) / w) items.
 */
import { describe, expect, test } from "vitest";
import { type Balancers, bitonic, butterfly, countsAfter, depthOf } from "./balancers.ts";
import { random } from "./random.ts";

const step = (items: number, width: number): number[] =>
  Array.from({ length: width }, (_, outlet) => Math.max(0, Math.ceil((items - outlet) / width)));

test.each([
  [2, 1, 1],
  [4, 3, 6],
  [8, 6, 24],
  [16, 10, 80],
  [32, 15, 240],
])("a bitonic network of width %i is %i deep and has %i balancers", (width, depth, balancers) => {
  const network = bitonic(width);
  expect([depthOf(network), network.balancers.length]).toEqual([depth, balancers]);
  const log = Math.log2(width);
  expect(depth).toBe((log * (log + 1)) / 2);
  expect(network.outputs.toSorted((a, b) => a - b)).toEqual(Array.from({ length: width }, (_, wire) => wire));
});

describe("a bitonic network counts", () => {
  test("21 items on any one of eight wires: 3, 3, 3, 3, 3, 2, 2, 2", () => {
    for (let wire = 0; wire < 8; wire++) {
      const entering = Array.from({ length: 8 }, (_, one) => (one === wire ? 21 : 0));
      expect(countsAfter(bitonic(8), entering)).toEqual([3, 3, 3, 3, 3, 2, 2, 2]);
    }
  });

  test.each([4, 8, 16])("width %i: few items on random wires", (width) => {
    const next = random(width);
    for (let run = 0; run < 12; run++) {
      const most = 1 + next(9);
      const entering = Array.from({ length: width }, () => next(3) * next(most));
      const items = entering.reduce((sum, one) => sum + one, 0);
      expect(countsAfter(bitonic(width), entering), `${entering}`).toEqual(step(items, width));
    }
  });

  test.each([4, 8, 16])("width %i: twenty thousand items on random wires", (width) => {
    const next = random(7 * width);
    const entering = Array.from({ length: width }, () => 0);
    for (let item = 0; item < 20_000; item++) {
      const wire = next(width);
      entering[wire] = (entering[wire] ?? 0) + 1;
    }
    expect(countsAfter(bitonic(width), entering)).toEqual(step(20_000, width));
  });
});

describe("a butterfly does not", () => {
  const differs = (network: Balancers, entering: readonly number[]): boolean => {
    const items = entering.reduce((sum, one) => sum + one, 0);
    return countsAfter(network, entering).join() !== step(items, network.width).join();
  };

  test("though it does with all items on its first wire", () => {
    for (const items of [1, 7, 21]) {
      expect(differs(butterfly(8), [items, 0, 0, 0, 0, 0, 0, 0])).toBe(false);
    }
  });

  test.each([4, 8, 16])("width %i: out of step with one item on each of its first two wires", (width) => {
    const entering = Array.from({ length: width }, (_, wire) => (wire < 2 ? 1 : 0));
    expect(differs(butterfly(width), entering)).toBe(true);
    expect(differs(bitonic(width), entering)).toBe(false);
  });
});
