/**
 * Weighted dividers: exact shares over a whole round of turns, and within it as near to them as whole items allow (R. Tijdeman, "The
 * chairman assignment problem", Discrete Mathematics 32, 1980, from memory: 1 − 1/(2(n − 1)), and no rule does better).
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expand } from "../../src/network/expand.ts";
import { turnsOf, wholeWeights } from "../../src/network/turns.ts";
import { exact, ratio, whole } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { findingsOf, scenarioOf } from "../layouts/shared-lines.ts";
import { settle } from "../plants/settled.ts";

const weightLists = fc.array(fc.integer({ min: 1, max: 60 }), { minLength: 2, maxLength: 9 });

describe("turns", () => {
  test("by hand", () => {
    expect(turnsOf([1, 1, 1])).toEqual([0, 1, 2]);
    expect(turnsOf([3, 1])).toEqual([0, 0, 1, 0]);
    expect(turnsOf([2, 3])).toEqual([1, 0, 1, 0, 1]);
  });

  test("of any weights: each its weight in a round, and no prefix off by more than 1 − 1/(2(n − 1))", () => {
    fc.assert(
      fc.property(weightLists, (weights) => {
        const all = weights.reduce((sum, weight) => sum + weight, 0);
        const had = weights.map(() => 0);
        for (const [before, turn] of turnsOf(weights).entries()) {
          had[turn] = (had[turn] ?? 0) + 1;
          for (const [one, weight] of weights.entries()) {
            // |had − t w/W| ≤ 1 − 1/(2(n − 1)), in whole numbers.
            const off = Math.abs((had[one] ?? 0) * all - (before + 1) * weight) * 2 * (weights.length - 1);
            expect(off).toBeLessThanOrEqual(all * (2 * (weights.length - 1) - 1));
          }
        }
        expect(had).toEqual(weights);
      }),
    );
  });

  test("weights from exact needs, or none where there are too many turns or no need", () => {
    expect(wholeWeights([ratio(5n, 2n), ratio(15n, 4n)])).toEqual([2, 3]);
    expect(wholeWeights([ratio(1n, 9973n), ratio(1n, 9967n)])).toBeNull();
    expect(wholeWeights([whole(0), whole(1)])).toBeNull();
  });
});

const chain = (speeds: string, rate: string, more = "") => `horizon: 2 h
feeds: { silo: { item: can, rate: ${rate} } }
machines: { m: { count: 4, cycle: 2 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 30, speed: ${speeds} } }
lines: { main: { layout: chain, from: silo, to: m, belt: { rate: 240/min, capacity: 8 }, dividers: weighted${more} } }`;

describe("a chain of weighted dividers", () => {
  test.each([
    ["[100 %, 40 %, 70 %, 90 %]", "90/min"],
    ["[100 %, 40 %, 70 %, 90 %]", "45/min"],
    ["[30 %, 110 %, 10 %, 50 %]", "35/min"],
  ])("gives each machine its part of all for good: speeds %s, fed %s", (speeds, rate) => {
    const settled = settle(expand(scenarioOf(chain(speeds, rate))));
    const needs = [...speeds.matchAll(/(\d+) %/g)].map(([, share]) => (Number(share) * 30) / 100);
    const all = needs.reduce((sum, need) => sum + need, 0);
    const fed = Number(rate.replace("/min", ""));
    const shares = ["m-1", "m-2", "m-3", "m-4"].map((id) => exact(settled?.running.get(id) ?? whole(0)));
    expect(shares).toEqual(needs.map(() => exact(ratio(BigInt(Math.round(fed * 10)), BigInt(Math.round(all * 10))))));
  });

  test("dividers in a file of their own", () => {
    const text = `feeds: { silo: { item: can, rate: 50/min } }
machines: { m: { count: 2, cycle: 2 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 30 } }
lines:
  main:
    layout: custom
    dividers: { d: { weighted: { left: 4, right: 6 } } }
    belts:
      in: { from: silo, to: d, rate: 90/min, capacity: 9 }
      left: { from: d, to: m-1, rate: 90/min, capacity: 9 }
      right: { from: d, to: m-2, rate: 90/min, capacity: 9 }`;
    const scenario = scenarioOf(text);
    expect(expand(scenario).dividers).toEqual([{ id: "main.d", line: "main", rule: "even", weights: [2, 3] }]);
    const passed = settle(expand(scenario))?.passed;
    expect(["main.left", "main.right"].map((id) => exact(passed?.get(id) ?? whole(0)))).toEqual(["20", "30"]);
  });

  test("nothing to share by, or too fine", () => {
    const codes = (text: string) => findingsOf(text).map(({ code }) => code);
    const yard = chain("100 %", "30/min").replace("to: m", "to: [m, yard]");
    expect(codes(`${yard}\noutlets: { yard: { item: can } }`)).toContain("weights-outlet");
    expect(codes(chain("[9973/100 %, 9967/100 %, 9949/100 %, 1 %]", "30/min"))).toContain("weights-too-fine");
  });
});

test("outlets alone end a tree and a loop, all with the same share", () => {
  const split = (layout: string, outlets: number): string => `feeds: { silo: { item: can, rate: 60/min } }
machines: { m: { cycle: 1/2 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 30 } }
lines:
  can: { layout: chain, from: silo, to: m, belt: none }
  out: { layout: ${layout}, from: m, to: [${Array.from({ length: outlets }, (_, i) => `o${i + 1}`)}], belt: { rate: 120/min, capacity: 9 } }
outlets: { ${Array.from({ length: outlets }, (_, i) => `o${i + 1}: { item: box }`).join(", ")} }`;
  for (const [layout, outlets] of [
    ["tree", 6],
    ["loop", 5],
  ] as const) {
    const settled = settle(expand(scenarioOf(split(layout, outlets))));
    const out = scenarioOf(split(layout, outlets)).outlets.map(
      (_, i) => settled?.passed.get(`out.branch-${i + 1}`) ?? whole(0),
    );
    expect(out.map(exact)).toEqual(Array.from({ length: outlets }, () => String(60 / outlets)));
  }
  const mixed = split("tree", 3)
    .replace("to: [o1,o2,o3]", "to: [o1, n]")
    .replace("m: {", "n: { cycle: 1 s, takes: { box: 1 }, makes: { x: 1 }, infeed: 9 }, m: {");
  expect(readScenario(mixed).ok).toBe(true);
  expect(findingsOf(mixed).map(({ code }) => code)).toContain("shared-outlet");
});
