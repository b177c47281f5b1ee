/** Max-min fairness: D. Bertsekas, R. Gallager, Data Networks, 2nd ed., 1992, section 6.5. */
import fc from "fast-check";
import { expect, test } from "vitest";
import {
  type Amount,
  compare,
  countOf,
  equal,
  type Limit,
  NONE,
  over,
  plus,
  total,
} from "../../src/analysis/flow/number.ts";
import { inletLimits, share } from "../../src/analysis/flow/sharing.ts";

const amount = fc
  .tuple(fc.integer({ min: 0, max: 40 }), fc.integer({ min: 1, max: 6 }))
  .map(([n, d]) => over(countOf(n), countOf(d)));
const limit: fc.Arbitrary<Limit> = fc.option(amount, { nil: null, freq: 3 });
const limits = fc.array(limit, { minLength: 1, maxLength: 5 });
const text = ({ n, d }: Amount) => `${n}/${d}`;

test("even: everything is shared out, and a share below another is at its limit", () => {
  let less = 0;
  let sharedOut = 0;
  fc.assert(
    fc.property(amount, limits, (offered, most) => {
      const shares = share("even", offered, most);
      for (const [index, own] of shares.entries()) {
        const atLimit = most[index] !== null && equal(own, most[index] ?? NONE);
        expect(atLimit || (most[index] ?? null) === null || compare(own, most[index] ?? NONE) < 0).toBe(true);
        if (!shares.some((other) => compare(other, own) > 0)) continue;
        expect(atLimit).toBe(true);
        less++;
      }
      const allAtLimit = shares.every((own, index) => most[index] !== null && equal(own, most[index] ?? NONE));
      expect(compare(total(shares), offered)).toBeLessThanOrEqual(0);
      if (allAtLimit) return;
      expect(text(total(shares))).toBe(text(offered));
      sharedOut++;
    }),
  );
  expect(less).toBeGreaterThan(10);
  expect(sharedOut).toBeGreaterThan(15);
});

test("even: of all ways to share whole items the sorted shares are lexicographically greatest", () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 0, max: 4 }),
      fc.array(fc.integer({ min: 0, max: 8 }), { minLength: 1, maxLength: 3 }),
      (perOutlet, most) => {
        // Six times as fine as an item each, so that the fair shares among up to three outlets are whole.
        const offered = 6 * perOutlet;
        const capacities = most.map((each) => 6 * each);
        const shares = share("even", countOf(offered), capacities.map(countOf)).map(({ n }) => Number(n));
        expect(shares.toSorted((a, b) => a - b)).toEqual(bestByTrial(offered, capacities));
      },
    ),
    { numRuns: 60 },
  );
});

function bestByTrial(offered: number, capacities: number[]): number[] {
  let best: number[] = [];
  const isBetter = (a: number[], b: number[]) => {
    const index = a.findIndex((value, position) => value !== b[position]);
    return index >= 0 && (a[index] ?? 0) > (b[index] ?? -1);
  };
  const tryAll = (chosen: number[], left: number) => {
    const capacity = capacities[chosen.length];
    if (capacity === undefined) {
      const sorted = chosen.toSorted((a, b) => a - b);
      if (isBetter(sorted, best)) best = sorted;
      return;
    }
    for (let own = 0; own <= Math.min(left, capacity); own++) tryAll([...chosen, own], left - own);
  };
  tryAll([], offered);
  return best;
}

test("ordered: nobody gets anything before all in front are at their limit", () => {
  let below = 0;
  fc.assert(
    fc.property(amount, limits, (offered, most) => {
      const shares = share("ordered", offered, most);
      let before = NONE;
      for (const [index, own] of shares.entries()) {
        const ownLimit = most[index] ?? null;
        before = plus(before, own);
        if (ownLimit !== null && compare(own, ownLimit) >= 0) continue;
        expect(text(before)).toBe(text(offered));
        below++;
      }
    }),
  );
  expect(below).toBeGreaterThan(100);
});

test("a merge's limits admit its own sharing and nothing more", () => {
  fc.assert(
    fc.property(
      fc.constantFrom("even" as const, "ordered" as const),
      amount,
      fc.array(amount, { minLength: 2, maxLength: 4 }),
      (rule, room, offers) => {
        const shares = share(rule, room, offers);
        const admitted = inletLimits(rule, room, shares);
        for (const [index, own] of shares.entries()) {
          const most = admitted[index] ?? NONE;
          const offer = offers[index] ?? NONE;
          expect(text(own)).toBe(text(compare(offer, most) <= 0 ? offer : most));
        }
      },
    ),
  );
});
