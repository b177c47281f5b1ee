/** The flow where nothing is held up: against the flow solution, against simulation by recurrence, and where it keeps silent. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { freeFlow } from "../../src/analysis/free-flow.ts";
import { expand } from "../../src/network/expand.ts";
import { exact, type Rational, ratio, sum, whole } from "../../src/quantity/rational.ts";
import { lanesPlant } from "../layouts/lane-plants.ts";
import { networkOf, scenarioOf } from "../layouts/shared-lines.ts";
import { randomWeights } from "../layouts/weights.ts";
import { cases } from "../plants/cases.ts";
import { settle } from "../plants/settled.ts";

const exactly = (rates: ReadonlyMap<string, Rational> | null | undefined): unknown =>
  rates && Object.fromEntries([...rates].map(([id, rate]) => [id, exact(rate)]));

test("trees and lanes: what the flow solution gives, wherever nothing is held up", () => {
  const rate = fc.integer({ min: 1, max: 99 }).map((n) => ratio(BigInt(n), 7n));
  const lanes = fc.array(rate, { minLength: 1, maxLength: 5 });
  fc.assert(
    fc.property(lanes, fc.constantFrom(1, 2, 3, 4, 6, 8), (rates, to) => {
      const network = expand(lanesPlant({ rates, to }));
      const flow = solveFlow(network);
      if (!flow.applies) throw new Error(flow.reason);
      expect(exactly(freeFlow(network))).toEqual(exactly(flow.settled().connections));
    }),
    { numRuns: 100 },
  );
});

test("loops of unequal machines: what passes each belt in a whole period", () => {
  for (const weights of randomWeights(cases(20))) {
    const needs = weights.map(whole);
    for (const part of [ratio(5n, 6n), whole(1)]) {
      const network = networkOf({ layout: "loop", ways: 3, needs, feedPerMin: sum(needs).mul(part) });
      expect(exactly(freeFlow(network))).toEqual(exactly(settle(network)?.passed));
    }
  }
});

const PLANT = `
feeds: { silo: { item: can, rate: 70/min } }
machines:
  m: { count: 5, cycle: 4 s, takes: { can: 1 }, makes: { half: 2 }, infeed: 20 }
  n: { count: 7, cycle: 2.8 s, takes: { half: 1 }, makes: { box: 1 }, infeed: 20 }
lines:
  first: { layout: loop, from: silo, to: m, belt: { rate: 120/min, capacity: 20 } }
  next: { layout: lanes, from: m, to: n, belt: { rate: 120/min, capacity: 20 } }
`;

const flows = (from = "", to = "") => {
  if (!PLANT.includes(from)) throw new Error(`the plant has no ${from}`);
  return freeFlow(expand(scenarioOf(PLANT.replace(from, () => to))));
};

describe("a loop, and lanes after it by loops of their own", () => {
  test("stage by stage, as simulated", () => {
    const found = flows();
    const rates = ["first.return", "next.lane-5-return", "next.out-7"].map((id) => exact(found?.get(id) ?? whole(0)));
    // A sixth of 84, an eighth of 28 and an eighth of 32 for seven.
    expect(rates).toEqual(["14", "4", "20"]);
    expect(exactly(found)).toEqual(exactly(settle(expand(scenarioOf(PLANT)))?.passed));
  });

  test.each([
    ["more is fed than the machines need", "70/min", "76/min"],
    ["more is made than the next machines need", "cycle: 2.8 s", "cycle: 3.1 s"],
    ["a belt is too slow", "belt: { rate: 120/min", "belt: { rate: 83/min"],
    ["the feed changes", "rate: 70/min", "profile: [{ from: 0 min, rate: 70/min }, { from: 9 min, rate: 60/min }]"],
    ["the feed comes in vehicles", "rate: 70/min", "batch: { every: 10 min, items: 100, rate: 70/min }"],
    ["an assembly waits for something", "takes: { half: 1 }", "takes: { half: 1, box: 1 }"],
    ["kinds share a belt", "item: can, rate", "items: { can: 1, half: 1 }, rate"],
  ])("silent where %s", (_, from, to) => {
    expect(flows(from, to)).toBeNull();
  });

  test("a belt at its limit serves but before a merge", () => {
    expect(flows("belt: { rate: 120/min", "belt: { rate: 84/min")).not.toBeNull();
    expect(flows("to: m, belt", "to: m, return: { rate: 14/min, capacity: 20 }, belt")).toBeNull();
  });
});

test("ordered dividers are not reckoned with", () => {
  const text = (rule: string) => `
feeds: { silo: { item: can, rate: 20/min } }
machines: { m: { count: 2, cycle: 4 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 } }
lines:
  main:
    layout: custom
    dividers: { split: ${rule} }
    belts:
      in: { from: silo, to: split, belt: none }
      a: { from: split, to: m-1, belt: none }
      b: { from: split, to: m-2, belt: none }
`;
  expect(exactly(freeFlow(expand(scenarioOf(text("even")))))).toEqual({
    "main.in": "20",
    "main.a": "10",
    "main.b": "10",
  });
  expect(freeFlow(expand(scenarioOf(text("ordered"))))).toBeNull();
});
