import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import type { Result } from "../../src/analysis/result.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { findings } from "../../src/report/run/findings.ts";
import { plain } from "../../src/report/text/figures.ts";
import type { FindingCode } from "../../src/report/text/finding.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { withCures } from "../../src/study/further/cures.ts";

function curedResult(text: string): Result {
  const read = readScenario(text);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  const { result } = analyse(run, read.scenario, { applies: false, reason: "a test" });
  return withCures(result, read.scenario, run);
}

function said(result: Result, code: FindingCode): string[] {
  return findings(result).flatMap((one) => (one.code === code ? [plain(one.text)] : []));
}

/** x makes parts for y, which could take 60/min of them. */
const serial = ({ fed = 42, x = "cycle: 1.5 s" }): string => `
horizon: 2 h
feeds: { bin: { item: raw, rate: ${fed}/min } }
machines:
  x: { ${x}, takes: { raw: 1 }, makes: { part: 1 }, infeed: 10 }
  y: { cycle: 1 s, takes: { part: 1 }, makes: { good: 1 }, infeed: 10 }
lines:
  a:
    layout: custom
    belts:
      in: { from: bin, to: x, belt: none }
      mid: { from: x, to: y, rate: 120/min, capacity: 5, transit: 2 s }
`;

describe("what the cure of a bottleneck brings", () => {
  test("less than is lost to it, where the next limit is near", () => {
    const result = curedResult(serial({}));
    expect(result.bottlenecks).toMatchObject([
      {
        code: "slow-machine",
        element: "x",
        lost_per_min: 20,
        cure: {
          change: "half-more",
          settled_per_min: "42",
          gain_per_min: "2",
          next: { code: "short-feed", element: "bin" },
        },
      },
    ]);
    expect(said(result, "cure")).toEqual([
      "Tried by itself, x half as fast again brings 2/min more: the next limit is feed bin, which gives all the raw it has.",
    ]);
  });

  test("all of it, where nothing else holds the plant up", () => {
    const [one] = curedResult(serial({ fed: 60 })).bottlenecks ?? [];
    expect(one?.cure).toEqual({ change: "half-more", settled_per_min: "60", gain_per_min: "20", next: null });
  });

  test("a part of it, where half as fast again is not enough", () => {
    const result = curedResult(serial({ fed: 60, x: "cycle: 3 s" }));
    expect(result.bottlenecks).toMatchObject([{ cure: { gain_per_min: "10", next: { element: "x" } } }]);
    expect(said(result, "cure")).toEqual([
      "Tried by itself, x half as fast again brings 10/min more: it is still the limit.",
    ]);
  });

  test("at a machine that the file slows down: its full speed, which is named", () => {
    const result = curedResult(serial({ fed: 60, x: "cycle: 1 s, speed: 75 %" }));
    expect(result.bottlenecks).toMatchObject([{ cure: { change: "full-speed", gain_per_min: "15", next: null } }]);
    expect(said(result, "cure")).toEqual([
      "Tried by itself, x at 100 % of its speed brings 15/min more: then nothing holds the last machines up.",
    ]);
    expect(said(result, "wait")).toEqual([
      "y waits for part 25 % of the time, because x runs all the time, set to 75 % of its speed, and makes no more.",
    ]);
  });

  test("of a belt, of a feed, and not where more speed is no remedy", () => {
    const belt = curedResult(serial({ fed: 60, x: "cycle: 1 s" }).replace("rate: 120/min", "rate: 30/min"));
    expect(belt.bottlenecks).toMatchObject([{ code: "belt", element: "a.mid", cure: { gain_per_min: "15" } }]);
    const feed = curedResult(serial({ fed: 30, x: "cycle: 1 s" }));
    expect(feed.bottlenecks).toMatchObject([
      { code: "short-feed", cure: { gain_per_min: "15", next: { element: "bin" } } },
    ]);
    const mix = curedResult(`
horizon: 1 h
feeds: { mix: { items: { red: 1, blue: 1 }, rate: 50/min } }
machines:
  redder: { cycle: 2 s, takes: { red: 1 }, makes: { r: 1 }, infeed: 10 }
  bluer: { cycle: 3 s, takes: { blue: 1 }, makes: { b: 1 }, infeed: 10 }
lines: { main: { layout: chain, from: mix, to: [redder, bluer], belt: { rate: 60/min, capacity: 10 } } }
`);
    expect(mix.bottlenecks?.map(({ code, cure }) => [code, cure])).toEqual([["mix", undefined]]);
  });
});

test("equal machines are named, and cured, together", () => {
  const result = curedResult(`
horizon: 2 h
feeds: { bin: { item: raw, rate: 120/min } }
machines:
  x: { count: 2, cycle: 1.5 s, takes: { raw: 1 }, makes: { part: 1 }, infeed: 10 }
  y: { count: 2, cycle: 1 s, takes: { part: 1 }, makes: { good: 1 }, infeed: 10 }
lines:
  a: { layout: chain, from: bin, to: x, belt: { rate: 120/min, capacity: 10 } }
  b:
    layout: custom
    belts: { one: { from: x-1, to: y-1, belt: none }, two: { from: x-2, to: y-2, belt: none } }
`);
  expect(result.bottlenecks).toMatchObject([
    { element: "x-1", alike: ["x-2"], machines: ["y-1", "y-2"], lost_per_min: 40, cure: { gain_per_min: "40" } },
  ]);
  expect(said(result, "cure")).toEqual([
    "Tried by itself, x-1 and x-2 half as fast again brings 40/min more: then nothing holds the last machines up.",
  ]);
});

test("every part that a machine waits for is named, and the cure of one shows the other", () => {
  const result = curedResult(`
horizon: 2 h
feeds: { jars: { item: jar, rate: 40/min }, lids: { item: lid, rate: 40/min } }
machines: { cap: { cycle: 1 s, takes: { jar: 1, lid: 1 }, makes: { capped: 1 }, infeed: 10 } }
lines:
  a: { layout: custom, belts: { one: { from: jars, to: cap, belt: none } } }
  b: { layout: custom, belts: { two: { from: lids, to: cap, belt: none } } }
`);
  expect(said(result, "wait").map((text) => /waits for (\w+)/.exec(text)?.[1])).toEqual(["jar", "lid"]);
  expect(result.bottlenecks).toMatchObject([
    { element: "jars", cure: { gain_per_min: "0", next: { element: "lids" } } },
  ]);
});

describe("an order that decides who goes short is named", () => {
  test("of dividers", () => {
    const result = curedResult(`
horizon: 2 h
feeds: { bin: { item: raw, rate: 75/min } }
machines: { x: { count: 3, cycle: 2 s, takes: { raw: 1 }, makes: { part: 1 }, infeed: 10 } }
lines: { a: { layout: chain, from: bin, to: x, belt: { rate: 120/min, capacity: 10 }, dividers: through-first } }
`);
    expect(said(result, "wait")).toEqual([
      "x-1 waits for raw 50 % of the time, because feed bin gives all the raw it has, and x-3 and x-2 take theirs first by the order of a.divider-1.",
    ]);
  });

  test("of merges, and not of those that take turns", () => {
    const collected = (merges: string): Result =>
      curedResult(`
horizon: 2 h
feeds: { bin: { item: raw, rate: 90/min } }
machines:
  x: { count: 3, cycle: 2 s, takes: { raw: 1 }, makes: { part: 1 }, infeed: 10 }
  pack: { cycle: 1 s, takes: { part: 1 }, makes: { box: 1 }, infeed: 10 }
lines:
  a: { layout: chain, from: bin, to: x, belt: { rate: 120/min, capacity: 10 } }
  b: { layout: chain, from: x, to: pack, belt: { rate: 120/min, capacity: 10 }, collect: { rate: 120/min, capacity: 10 }, merges: ${merges} }
`);
    const cause = (result: Result) =>
      result.machines.flatMap(({ id, waits }) =>
        waits.flatMap(({ cause: why }) => (why ? [[id, why.decided_by]] : [])),
      );
    expect(cause(collected("belt-first"))).toEqual([["x-3", ["b.merge-3"]]]);
    for (const [, decided] of cause(collected("even"))) expect(decided).toBeUndefined();
  });
});
