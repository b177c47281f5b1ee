/** Sweeps: their points, what each gives, parts and their joining. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario, scenarioReader } from "../../src/scenario/read.ts";
import { gatherSweep } from "../../src/study/sweep/gather-sweep.ts";
import {
  type PlannedPoint,
  plannedPoints,
  playPoint,
  pointsOfShard,
  sweptQuantity,
} from "../../src/study/sweep/sweep.ts";
import { readSweep } from "../../src/study/sweep/sweep-file.ts";
import type { Sweep, SweptQuantity } from "../../src/study/sweep/sweep-results.ts";

const LINE = `
title: Three fillers
horizon: 2 h
feeds: { silo: { item: can, rate: 72/min } }
machines:
  filler: { count: 3, cycle: 2.5 s, takes: { can: 1 }, makes: { filled: 1 }, infeed: 20 }
lines:
  main: { layout: chain, from: silo, to: filler, belt: { rate: 100/min, capacity: 6 } }
`;

function quantity(text: string): SweptQuantity {
  const found = sweptQuantity(text);
  if (typeof found === "string") throw new Error(found);
  return found;
}

function preparedOf(text: string, point?: PlannedPoint) {
  const outcome = scenarioReader(text)(point?.settings ?? []);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const prepared = prepare(outcome.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return { scenario: outcome.scenario, prepared };
}

function swept(...texts: readonly string[]): Sweep {
  const quantities = texts.map(quantity);
  const planned = plannedPoints(quantities);
  return {
    made_by: "fillfront 0",
    title: "Three fillers",
    scenario: "line",
    scenario_sha256: "0".repeat(64),
    seed: "1",
    horizon_min: 120,
    quantities,
    of_points: planned.length,
    shard: null,
    points: planned.map((point) => {
      const { scenario, prepared } = preparedOf(LINE, point);
      return playPoint(point, scenario, prepared);
    }),
  };
}

test.each([
  ["feeds.silo.rate", "no-value"],
  ["=60/min", "bad-path"],
  ["feeds..rate=60/min", "bad-path"],
  ["feeds.__proto__.rate=60/min", "bad-path"],
  [`${"a.".repeat(20)}b=1`, "bad-path"],
  ["feeds.silo.rate=", "empty"],
  ["feeds.silo.rate=1/min..20000/min:1/min", "too-many"],
])("%s is refused: %s", (text, problem) => expect(sweptQuantity(text)).toBe(problem));

test("the points are all combinations, the first quantity changing slowest", () => {
  const points = plannedPoints([quantity("a=1..2"), quantity("b.c=x,y,z")]);
  expect(points.map(({ settings }) => settings.map(({ value }) => value).join(""))).toEqual([
    "1x",
    "1y",
    "1z",
    "2x",
    "2y",
    "2z",
  ]);
  expect(points.map(({ point }) => point)).toEqual([1, 2, 3, 4, 5, 6]);
  expect(points[5]?.settings[1]).toEqual({ path: ["b", "c"], value: "z" });
  expect(plannedPoints([])).toEqual([]);
});

test("every point is in one part, whatever their number, and parts differ by a point at most", () => {
  fc.assert(
    fc.property(fc.integer({ min: 1, max: 60 }), fc.integer({ min: 1, max: 70 }), (count, of) => {
      const points = plannedPoints([quantity(`a=1..${count}`)]);
      const parts = Array.from({ length: of }, (_, i) => pointsOfShard(points, { part: i + 1, of }));
      expect(parts.flat().toSorted((a, b) => a.point - b.point)).toEqual(points);
      const sizes = parts.map((part) => part.length);
      expect(Math.max(...sizes) - Math.min(...sizes)).toBeLessThanOrEqual(1);
    }),
  );
});

describe("a point", () => {
  test.each(["60/min", "72/min", "90/min"])("is the run of the file with a feed of %s", (rate) => {
    const [point] = plannedPoints([quantity(`feeds.silo.rate=${rate}`)]);
    if (point === undefined) throw new Error("no point");
    const { scenario, prepared } = preparedOf(LINE, point);
    const edited = readScenario(LINE.replace("72/min", rate));
    if (!edited.ok) throw new Error("the file is right");
    const run = preparedOf(LINE.replace("72/min", rate));
    const { result } = analyse(
      simulate(run.prepared.program, { horizonTicks: run.prepared.horizonTicks }),
      edited.scenario,
      solveFlow(run.prepared.network),
    );
    expect(playPoint(point, scenario, prepared)).toEqual({
      point: 1,
      values: [rate],
      proved: true,
      basis: "recurrence",
      settling_min: result.settling.time_min,
      stops_at_min: null,
      within_tolerance_min: result.settling.within_tolerance_min,
      ramp_up_loss: result.output.ramp_up_loss,
      full_per_min: "72",
      settled_per_min: rate === "60/min" ? "60" : "72",
      made: result.output.made,
      hold_up_peak: result.hold_up.peak,
      hold_up_settled: result.hold_up.settled,
    });
  });

  test("that stops never settles and loses against nothing", () => {
    const stopping = LINE.replace(
      "rate: 72/min",
      "profile: [{ from: 0 s, rate: 72/min }, { from: 5 min, rate: 0/min }]",
    );
    const [point] = plannedPoints([quantity("machines.filler.infeed=20")]);
    if (point === undefined) throw new Error("no point");
    const { scenario, prepared } = preparedOf(stopping, point);
    const played = playPoint(point, scenario, prepared);
    expect(played).toMatchObject({
      proved: true,
      settling_min: null,
      within_tolerance_min: null,
      ramp_up_loss: null,
      settled_per_min: "0",
    });
    // A machine takes 24/min, and has 20 in its buffer and two belts of 6 before it when the feed ends.
    expect(played.stops_at_min).toBeGreaterThan(5);
    expect(played.stops_at_min).toBeLessThan(5 + 32 / 24 + 0.1);
  });
});

describe("parts", () => {
  const whole = swept("feeds.silo.rate=60/min,72/min", "machines.filler.infeed=10..30:10");
  const part = (index: number, of = 2): Sweep => ({
    ...whole,
    shard: `${index}/${of}`,
    points: whole.points.filter(({ point }) => (point - index) % of === 0),
  });

  test("joined in any order are the whole, byte for byte", () => {
    for (const parts of [
      [part(1), part(2)],
      [part(2), part(1)],
      [part(3, 3), part(1, 3), part(2, 3)],
      [whole, part(1)],
    ]) {
      const gathered = gatherSweep(parts);
      expect(gathered.ok && JSON.stringify(gathered.sweep)).toBe(JSON.stringify(whole));
    }
  });

  test("more than there are points are no fault", () => {
    const parts = Array.from({ length: 9 }, (_, i) => part(i + 1, 9));
    expect(parts[8]?.points).toEqual([]);
    expect(gatherSweep(parts)).toEqual({ ok: true, sweep: whole });
  });

  test("that are missing are named", () => {
    expect(gatherSweep([part(2, 3)])).toEqual({
      ok: false,
      why: "missing",
      points: [1, 3, 4, 6],
      shards: ["1/3", "3/3"],
    });
    const stopped = { ...whole, points: whole.points.slice(0, 4) };
    expect(gatherSweep([stopped])).toEqual({ ok: false, why: "missing", points: [5, 6], shards: [] });
    expect(gatherSweep([stopped, part(1)])).toMatchObject({ ok: false, points: [6], shards: [] });
    expect(gatherSweep([])).toMatchObject({ ok: false, why: "missing" });
  });

  test.each([
    ["scenario_sha256", "1".repeat(64)],
    ["quantities", [...whole.quantities].reverse()],
    ["horizon_min", 60],
    ["seed", "2"],
    ["made_by", "fillfront 1"],
    ["title", "Other"],
  ] as const)("of another sweep are told by their %s", (what, value) => {
    const other = { ...part(2), [what]: value };
    expect(gatherSweep([part(1), other])).toEqual({ ok: false, why: "differing", part: 1, what });
  });

  test("that contradict each other are refused", () => {
    const other = { ...part(1), points: part(1).points.map((point) => ({ ...point, made: point.made + 1 })) };
    expect(gatherSweep([part(1), part(2), other])).toEqual({ ok: false, why: "contradicting", part: 2, point: 1 });
  });

  describe("read back", () => {
    const text = JSON.stringify(whole);
    test("are what was written, byte for byte", () => {
      expect(JSON.stringify(readSweep(text))).toBe(text);
      expect(JSON.stringify(readSweep(JSON.stringify(part(2))))).toBe(JSON.stringify(part(2)));
    });

    test.each<[string, unknown]>([
      ["no JSON", "{"],
      ["no sweep", "{}"],
      ["a key more", JSON.stringify({ ...whole, more: 1 })],
      ["a name with a folder", JSON.stringify({ ...whole, scenario: "../x" })],
      ["a name of dots", JSON.stringify({ ...whole, scenario: ".." })],
      ["another number of points", JSON.stringify({ ...whole, of_points: 7 })],
      ["a point beyond the last", text.replace('"point":6', '"point":7')],
      ["a point twice", text.replace('"point":6', '"point":5')],
      ["values of another point", text.replace('"values":["72/min","30"]', '"values":["72/min","20"]')],
      ["a rate that is none", text.replace('"full_per_min":"72"', '"full_per_min":"1/0"')],
    ])("%s is refused", (_what, changed) => {
      expect(changed).not.toBe(text);
      expect(readSweep(String(changed))).toBeNull();
    });
  });
});
