/**
 * Lanes, simulated until their whole state recurs: fractions are equal, not near. Evening out is arithmetic. That what can
 * pass does pass is checked against the greatest flow, which by the least cut is the smaller of what comes in and what the
 * outgoing lanes take (L. Ford, D. Fulkerson, "Maximal flow through a network", Canadian Journal of Mathematics 8, 1956; from
 * memory).
 */
import { describe, expect, test } from "vitest";
import { freeFlow } from "../../src/analysis/free-flow.ts";
import { expand } from "../../src/network/expand.ts";
import { leastParts } from "../../src/network/shares.ts";
import { exact, type Rational, smaller, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import { cases } from "../plants/cases.ts";
import { type Settled, settle } from "../plants/settled.ts";
import { type LanesGiven, lanesPlant } from "./lane-plants.ts";
import { random } from "./random.ts";

const settled = (given: LanesGiven): Settled => {
  const found = settle(expand(lanesPlant(given)));
  if (found === null) throw new Error("no recurrence");
  return found;
};

const exactly = (rates: ReadonlyMap<string, Rational>): [string, string][] =>
  [...rates].map(([id, rate]) => [id, exact(rate)]);

test.each([
  ["30/60/120 to three", [30, 60, 120], 3, "70"],
  ["60/120/240/720 to four", [60, 120, 240, 720], 4, "285"],
  ["one of 90 to four", [90], 4, "45/2"],
  ["90 and 45 to one", [90, 45], 1, "135"],
  ["20 and 30 to five, by loops", [20, 30], 5, "10"],
])("%s (common practice, no source)", (_, perMin, to, each) => {
  const rates = perMin.map(whole);
  const { passed, fed } = settled({ rates, to });
  expect([...fed.values()].map(exact)).toEqual(rates.map(exact));
  const last = expand(lanesPlant({ rates, to })).connections.filter((one) => one.to.startsWith("out"));
  expect(last.map(({ id }) => exact(passed.get(id) ?? ZERO))).toEqual(Array.from({ length: to }, () => each));
});

describe.each([2, 3] as const)("dividers of up to %i ways", (ways) => {
  test("random lanes: exactly an even part of all, and every belt as reckoned beforehand", () => {
    const next = random(ways);
    for (let run = 0; run < cases(20); run++) {
      const [m, n] = [1 + next(12), 1 + next(12)];
      const rates = Array.from({ length: m }, () => whole(5 * (1 + next(12))));
      const given = { rates, to: n, ways };
      const { passed } = settled(given);
      const network = expand(lanesPlant(given));
      const each = exact(sum(rates).div(whole(n)));
      const last = network.connections.filter((one) => one.to.startsWith("out"));
      const found = last.map(({ id }) => exact(passed.get(id) ?? ZERO));
      expect(found, `${rates.map(exact)} to ${n}`).toEqual(Array.from({ length: n }, () => each));
      expect(exactly(passed)).toEqual(exactly(freeFlow(network) ?? new Map()));
      const parts = leastParts(n, ways);
      for (const [index, rate] of rates.entries()) {
        const root = passed.get(`main.lane-${index + 1}-through-1`) ?? passed.get("main.out-1") ?? ZERO;
        expect(exact(root)).toBe(exact(rate.mul(whole(parts)).div(whole(n))));
      }
    }
  });
});

test("with outgoing lanes slow or closed: all that comes in or all that they take, whichever is less", () => {
  const next = random(1956);
  let [known, full] = [0, 0];
  const runs = cases(20);
  for (let run = 0; run < runs; run++) {
    const n = [2, 3, 4, 6, 8, 9][next(6)] ?? 2;
    const rates = Array.from({ length: 1 + next(4) }, () => whole(6 * (1 + next(8))));
    // On average about as much as comes in.
    const share = Math.ceil(Number(sum(rates)) / n / 6);
    const needs = Array.from({ length: n }, () => whole(6 * (next(4) === 0 ? 0 : next(2 * share + 3))));
    if (needs.every((need) => need.equals(ZERO))) continue;
    const found = settle(expand(lanesPlant({ rates, to: needs })));
    // A buffer that creeps may take longer than anyone waits here.
    if (found === null) continue;
    known++;
    const made = sum(needs.map((need, index) => need.mul(found.running.get(`out${index + 1}`) ?? ZERO)));
    const most = smaller(sum(rates), sum(needs));
    expect(exact(made), `${rates.map(exact)} to ${needs.map(exact)}`).toBe(exact(most));
    if (most.equals(sum(needs))) full++;
  }
  expect(known).toBeGreaterThan(runs / 2);
  expect(full).toBeGreaterThan(known / 5);
  expect(full).toBeLessThan((4 * known) / 5);
});

test("what that takes: belts across that carry more than a lane, and no loop", () => {
  // Three of four outgoing lanes are closed, and the fourth takes all.
  const closed = { rates: [whole(60)], to: [whole(60), ZERO, ZERO, ZERO] };
  const made = (given: LanesGiven): number => Number(settled(given).running.get("out1") ?? ZERO);
  expect(made(closed)).toBe(1);
  const two = { rates: [whole(30), whole(30)], to: closed.to };
  expect(made(two)).toBe(1);
  expect(made({ ...two, more: "    branch: { rate: 20/min, capacity: 40, transit: 0 s }" })).toBeCloseTo(2 / 3, 6);
  // Of five outgoing lanes one takes all: as much goes back as goes out, so that a lane passes half of what its belt carries.
  const five = { rates: [whole(60)], to: [...closed.to, ZERO] };
  expect(made({ ...five, beltPerMin: whole(120) })).toBe(1);
  expect(made({ ...five, beltPerMin: whole(100) })).toBeCloseTo(50 / 60, 9);
  expect(made({ ...closed, beltPerMin: whole(60) })).toBe(1);
});
