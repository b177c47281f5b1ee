/** Lines that cannot be laid out in other ways, and why. */
import { describe, expect, test } from "vitest";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { layoutStudy } from "../../src/study/layouts.ts";
import { plant, scenarioOf, studied } from "./layouts-plants.ts";

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
    expect(whyOf(two, "third")).toEqual({ ok: false, why: "outlets", line: "third", outlets: ["out"] });
  });
});
