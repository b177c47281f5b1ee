/** Lines that cannot be laid out in other ways, and why. */
import { describe, expect, test } from "vitest";
import { leastBelts } from "../../src/network/least-belts.ts";
import { exact } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { layoutStudy } from "../../src/study/layouts/layouts.ts";
import { layoutOf, plant, scenarioOf, studied } from "./layouts-plants.ts";

describe("what cannot be laid out", () => {
  const whyOf = (scenario: Scenario, line?: string) => layoutStudy(scenario, { priority: "fast", line });

  test("lines that are not there, or not the right ones", () => {
    expect(whyOf(plant({}), "other")).toEqual({ ok: false, why: "unknown-line", line: "other", lines: ["main"] });
    expect(whyOf(plant({ count: 1, feed: "15/min" }))).toEqual({ ok: false, why: "one-machine", line: "main" });
    expect(whyOf(plant({ end: "    end: return" }))).toEqual({ ok: false, why: "far-end", line: "main" });
    const custom = [...studied(plant({ count: 2, feed: "30/min" })).scenarios.values()][0];
    if (custom === undefined) throw new Error("a chain of two can be built");
    expect(whyOf(custom)).toEqual({ ok: false, why: "no-line" });
    expect(whyOf(custom, "main")).toEqual({ ok: false, why: "custom", line: "main" });
    expect(whyOf(custom, "mian")).toEqual({ ok: false, why: "unknown-line", line: "mian", lines: ["main"] });
  });

  test("lanes", () => {
    const scenario = scenarioOf(`horizon: 1 h
feeds: { a: { item: can, rate: 20/min }, b: { item: can, rate: 10/min } }
machines: { m: { count: 2, cycle: 4 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 10 } }
lines: { main: { layout: lanes, from: [a, b], to: m, belt: { rate: 60/min, capacity: 9 } } }`);
    expect(whyOf(scenario)).toEqual({ ok: false, why: "no-line" });
    expect(whyOf(scenario, "main")).toEqual({ ok: false, why: "lanes", line: "main" });
  });

  test("several lines, outlets, several kinds", () => {
    const two = scenarioOf(`horizon: 1 h
feeds: { silo: { item: can, rate: 30/min }, both: { items: { lid: 1, rim: 1 }, rate: 30/min } }
machines:
  m: { count: 2, cycle: 4 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 10 }
  n: { count: 2, cycle: 4 s, takes: { lid: 1, rim: 1 }, makes: { top: 1 }, infeed: 10 }
lines:
  first: { layout: chain, from: silo, to: m, belt: none }
  second: { layout: chain, from: both, to: n, belt: none }
  third: { layout: chain, from: m, to: out, belt: none, collect: { rate: 60/min, capacity: 9 }, branch: { rate: 60/min, capacity: 9 } }
outlets: { out: { item: box } }`);
    expect(whyOf(two)).toEqual({ ok: false, why: "several-lines", lines: ["first", "second", "third"] });
    expect(whyOf(two, "second")).toEqual({ ok: false, why: "several-kinds", line: "second", kinds: ["lid", "rim"] });
    expect(whyOf(two, "third")).toEqual({ ok: false, why: "one-machine", line: "third" });
  });
});

describe("a line that leads to outlets alone", () => {
  const docks = (to: string, more = "") =>
    scenarioOf(`horizon: 1 h
feeds: { silo: { item: can, rate: 60/min } }
machines: { m: { count: 1, cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 10, outfeed: 10 } }
lines:
  main: { layout: chain, from: silo, to: m, belt: { rate: 90/min, capacity: 9 } }
  docks: { layout: chain, from: m, to: [${to}], belt: { rate: 90/min, capacity: 9 }${more} }
outlets: { a: { item: box }, b: { item: box }, c: { item: box }, d: { item: box } }`);

  test("can be laid out: a tree shares alike, a chain halves at each divider", () => {
    const done = layoutStudy(docks("a, b, c, d"), { priority: "even", line: "docks" });
    if (!done.ok) throw new Error(done.why);
    expect(done.study).toMatchObject({ leads_to: "outlets", machines: 4, feed_per_min: 60, recommended: "tree" });
    expect(layoutOf(done, "tree").evenness_at_half_feed).toBe(1);
    // Shares of 1/2, 1/4, 1/8, 1/8: 1/(4 (1/4 + 1/16 + 2/64)) = 8/11.
    expect(layoutOf(done, "chain").evenness_at_half_feed).toBeCloseTo(8 / 11, 12);
    expect(layoutOf(done, "tree").one_more).toMatchObject({ layout: "loop" });
    const outlets = done.scenarios.get("tree")?.outlets.map(({ id }) => id);
    expect(outlets).toEqual(["a", "b", "c", "d"]);
  });

  test("three are shared by a divider of three, or two with one outlet more or fewer", () => {
    const done = layoutStudy(docks("a, b, c"), { priority: "even", line: "docks", ways: 2 });
    if (!done.ok) throw new Error(done.why);
    const assuming = { what: "one-more", of: "outlet" };
    expect(layoutOf(done, "tree-if")).toMatchObject({ assuming, evenness_at_half_feed: 1 });
  });

  test("weighted dividers share alike; the least belts are those of what passes", () => {
    const done = layoutStudy(docks("a, b, c, d", ", dividers: weighted"), { priority: "even", line: "docks" });
    if (!done.ok) throw new Error(done.why);
    expect(layoutOf(done, "chain")).toMatchObject({
      does: { as: "chain", dividers: "weighted" },
      evenness_at_half_feed: 1,
    });
    const told = (more: string) =>
      leastBelts(docks("a, b, c, d", more))
        .filter(({ line }) => line === "docks")
        .map(({ key, leastPerMin }) => `${key} ${exact(leastPerMin)}`);
    expect(told("")).toEqual(["belt 60", "branch 30"]);
    // Of three quarters a third, and of half a half.
    expect(told(", dividers: weighted")).toEqual(["belt 60", "branch 15"]);
  });

  test("not beside machines", () => {
    const scenario = scenarioOf(`horizon: 1 h
feeds: { silo: { item: can, rate: 60/min } }
machines: { m: { count: 1, cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 10 } }
lines: { main: { layout: chain, from: silo, to: [m, a], belt: { rate: 90/min, capacity: 9 } } }
outlets: { a: { item: can } }`);
    expect(layoutStudy(scenario, { priority: "fast" })).toMatchObject({ ok: false, why: "outlets", outlets: ["a"] });
  });
});
