/** A chain lengthened machine by machine. */
import { describe, expect, test } from "vitest";
import { rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { growChain, growingGroup } from "../../src/study/growth/grow.ts";
import { chainOf, played } from "./chains.ts";

const belt = (perMin: string) => ({ ratePerMin: rational(perMin), capacity: 6, transitMin: ZERO, metres: null });

function grown(scenario: Scenario, counts: readonly number[]) {
  const growing = growingGroup(scenario);
  if (typeof growing === "string") throw new Error(growing);
  return growChain(scenario, growing, counts);
}

test("every size is the line built so from the start, fed in proportion", () => {
  const { sizes, group, title } = grown(chainOf({ count: 3, room: 20 }), [2, 3, 5, 9]);
  expect([title, group]).toEqual(["Test", "m"]);
  for (const { machines: count, ...size } of sizes) {
    const { result, outcome } = played(chainOf({ count, room: 20 }));
    expect(size).toMatchObject({
      needs_per_min: String(24 * count),
      feed_per_min: String(24 * count),
      settled_per_min: String(24 * count),
      settling_min: outcome.settling_min,
      proved: true,
      within_tolerance_min: result.settling.within_tolerance_min,
      ramp_up_loss: outcome.ramp_up_loss,
      hold_up_settled: outcome.hold_up_settled,
    });
  }
  expect(sizes.map(({ machines }) => machines)).toEqual([2, 3, 5, 9]);
});

test("a surplus stays the same share", () => {
  const { sizes } = grown(chainOf({ count: 4, feed: whole(120) }), [2, 8]);
  expect(sizes.map(({ feed_per_min: feed }) => feed)).toEqual(["60", "240"]);
});

describe("the belt that becomes too small", () => {
  test("does so with the first machine whose need it cannot carry with all the others'", () => {
    const growth = grown(chainOf({ count: 2, room: 10, belt: belt("100") }), [2, 3, 4, 5, 6]);
    expect(growth.too_small).toEqual({ belt: "line.through-1", from_machines: 5, rate_per_min: "100" });
    expect(growth.sizes.map(({ headroom_per_min: headroom }) => headroom)).toEqual(["52", "28", "4", "-20", "-44"]);
    // From there on, the line makes what the belt brings.
    expect(growth.sizes.map(({ settled_per_min: settled }) => settled)).toEqual(["48", "72", "96", "100", "100"]);
  });

  test("is not one that carries just the need, nor one that is none", () => {
    expect(grown(chainOf({ count: 2, room: 10, belt: belt("96") }), [2, 4]).too_small).toBeNull();
    const direct = grown(chainOf({ count: 2, room: 10 }), [2, 20]);
    expect(direct.too_small).toBeNull();
    expect(direct.sizes.map(({ tightest_belt: tightest }) => tightest)).toEqual([null, null]);
  });

  test("is judged by the needs of the machines that it feeds, not of those after them", () => {
    const { sizes, too_small: tooSmall } = grown(read(COLLECTED), [2, 3]);
    expect(sizes.map(({ needs_per_min: needs, feed_per_min: feed }) => [needs, feed])).toEqual([
      ["40", "40"],
      ["60", "60"],
    ]);
    expect(tooSmall).toBeNull();
  });
});

describe("what there is to lengthen", () => {
  test("is the one chain's one group, whole", () => {
    expect(growingGroup(chainOf({ count: 3 }))).toMatchObject({ line: { id: "line" }, group: { id: "m" }, least: 1 });
    const named = COLLECTED.replace("belts: {", "belts: { cans: { from: filler-2, to: bin, belt: none },");
    expect(growingGroup(read(`${named}outlets: { bin: { item: can } }`))).toMatchObject({ least: 2 });
  });

  const plain = chainOf({ count: 3 });
  const [line] = plain.lines;
  const [group] = plain.machines;
  if (line?.layout !== "chain" || group === undefined) throw new Error("the chain has a line and a group");
  const other = { ...group, id: "n", members: ["n"], speeds: [whole(1)] };
  test.each<[string, Scenario]>([
    ["no-chain", { ...plain, lines: [{ id: "line", layout: "custom", dividers: [], merges: [], belts: [] }] }],
    ["several-chains", { ...plain, lines: [line, { ...line, id: "other" }] }],
    ["several-groups", { ...plain, machines: [group, other], lines: [{ ...line, to: ["m", "n"] }] }],
    ["several-groups", { ...plain, lines: [{ ...line, to: ["m-1", "m-2"] }] }],
    ["several-groups", { ...plain, lines: [{ ...line, to: ["m-2"] }] }],
  ])("%s", (refusal, scenario) => expect(growingGroup(scenario)).toBe(refusal));
});

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

/** What the chain's machines make, a packer elsewhere takes from a feed of its own. */
const COLLECTED = `
title: Test
horizon: 1 h
feeds:
  silo: { item: pouch, rate: 40/min }
  store: { item: lid, rate: 30/min }
machines:
  filler: { count: 2, cycle: 3 s, takes: { pouch: 1 }, makes: { can: 1 }, infeed: 10 }
  lidder: { cycle: 2 s, takes: { lid: 1 }, makes: { closed: 1 }, infeed: 10 }
lines:
  main: { layout: chain, from: silo, to: filler, belt: { rate: 65/min, capacity: 6 }, branch: none, dividers: even }
  other: { layout: custom, belts: { lids: { from: store, to: lidder, belt: none } } }
`;
