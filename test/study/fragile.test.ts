/** Shares that hang on the order within a mix, or on a place more or less of room, are said to. */
import { expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Result } from "../../src/analysis/result.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { findings } from "../../src/report/run/findings.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { withFragileShares } from "../../src/study/further/fragile.ts";
import { type CollectingLine, scenarioOf as collectingLine } from "../plants/collecting-lines.ts";

/** Even dividers that part red, blue, red, blue … two ways: whoever comes first goes left every time. */
function mixed(items: string, cycle: string): Result {
  const read = readScenario(`
horizon: 2 h
feeds: { store: { items: ${items}, rate: 40/min } }
machines:
  left:  { cycle: ${cycle}, takes: { red: 1 }, makes: { tin: 1 }, infeed: 10 }
  right: { cycle: ${cycle}, takes: { red: 1 }, makes: { tin: 1 }, infeed: 10 }
  blues: { cycle: 2 s, takes: { blue: 1 }, makes: { pot: 1 }, infeed: 10 }
lines:
  main:
    layout: custom
    dividers: { part: even, pick-1: ordered, pick-2: ordered }
    merges: { join: even }
    belts:
      in: { from: store, to: part, rate: 80/min, capacity: 8, transit: 2 s }
      one: { from: part, to: pick-1, rate: 80/min, capacity: 8, transit: 2 s }
      two: { from: part, to: pick-2, rate: 80/min, capacity: 8, transit: 2 s }
      to-left: { from: pick-1, to: left, only: red, belt: none }
      to-right: { from: pick-2, to: right, only: red, belt: none }
      blue-1: { from: pick-1, to: join, only: blue, rate: 80/min, capacity: 8, transit: 2 s }
      blue-2: { from: pick-2, to: join, only: blue, rate: 80/min, capacity: 8, transit: 2 s }
      blue: { from: join, to: blues, rate: 80/min, capacity: 8, transit: 2 s }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return told(read.scenario);
}

function told(scenario: Scenario): Result {
  const prepared = prepare(scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  const { result } = analyse(run, scenario, solveFlow(prepared.network));
  return withFragileShares(result, scenario, run);
}

test("red first, and all the red goes left; blue first, and all of it goes right", () => {
  const result = mixed("{ red: 1, blue: 1 }", "2 s");
  expect(result.fragile_shares).toEqual([
    { machine: "left", hangs_on: "order", settled_per_min: "20", turned_per_min: "0" },
    { machine: "right", hangs_on: "order", settled_per_min: "0", turned_per_min: "20" },
  ]);
  const text = findings(result).find(({ code }) => code === "fragile")?.text;
  expect(text).toContain("left 20/min or 0/min and right 0/min or 20/min");
});

test("two of three, and both have their part whatever the order", () => {
  const result = mixed("{ red: 2, blue: 1 }", "2 s");
  expect(result.machines.map(({ uptime }) => uptime.settled)).toContain(4 / 9);
  expect(result.fragile_shares).toBeUndefined();
});

/** Products come in twos, and a taker takes four at a time. */
const ON_ROOM: CollectingLine = {
  merges: "joining-first",
  makers: [
    { cycleS: "3", outfeed: 6 },
    { cycleS: "1", outfeed: 8 },
  ],
  made: 2,
  takers: [
    { cycleS: "4", takes: 4, spare: 1 },
    { cycleS: "2", takes: 1, spare: 3 },
  ],
  collect: { lengthM: "0.5", speed: 13, pitchMm: 150 },
  belt: { lengthM: "1.5", speed: 26, pitchMm: 80 },
  branch: { lengthM: "1", speed: 29, pitchMm: 120 },
  dividers: "branch-first",
};

test("one place more in every buffer, and a machine that had nothing has a sixth of it", () => {
  const result = told(collectingLine(ON_ROOM));
  expect(result.fragile_shares).toEqual([
    { machine: "a1", hangs_on: "room", settled_per_min: "0", turned_per_min: "15/2" },
    { machine: "a2", hangs_on: "room", settled_per_min: "45", turned_per_min: "75/2" },
  ]);
  const text = findings(result).find(({ code }) => code === "fragile")?.text;
  expect(text).toContain(
    "one place more or less in every buffer turns it, a1 0/min or 7.5/min and a2 45/min or 37.5/min",
  );
});
