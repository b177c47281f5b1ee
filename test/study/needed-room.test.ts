/** The surge room that a line needs: found by further runs, and the least that does. */
import { expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import type { BatchResult } from "../../src/analysis/plant-results.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { withNeededRooms } from "../../src/study/further/needed-room.ts";

/** 600 pieces every 10 min, unloaded at 120/min into two packers that take 30/min each. */
function scenario(surge: string, cycle = "2 s"): Scenario {
  const read = readScenario(`
title: Quay (invented)
horizon: 6 h
feeds:
  quay: { item: piece, batch: { every: 10 min, items: 600, rate: 120/min }${surge} }
machines:
  packer: { count: 2, cycle: ${cycle}, takes: { piece: 1 }, makes: { pack: 1 }, infeed: 10 }
lines:
  main:
    layout: chain
    from: quay
    to: packer
    belt: { rate: 100/min, capacity: 10, transit: 4 s }
    branch: { rate: 100/min, capacity: 4, transit: 2 s }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return read.scenario;
}

function batchOf(given: Scenario, isAsked: boolean): BatchResult | undefined {
  const prepared = prepare(given);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks });
  const { result } = analyse(run, given, { applies: false, reason: "it is not asked" });
  return (isAsked ? withNeededRooms(result, given) : result).batches[0];
}

test("is found where the buffer is too small or there is none, and is the least", () => {
  const needed = batchOf(scenario(", surge: 100"), true)?.needed_room ?? 0;
  // The lot formula (E. W. Taft, Iron Age 101, 1918; from memory) has 600 (1 − 60/120) = 300, of which some lie beyond it.
  expect(needed).toBeLessThanOrEqual(300);
  expect(needed).toBeGreaterThan(300 - 10 - 4 - 4 - 20 - 1);
  expect(batchOf(scenario(""), true)?.needed_room).toBe(needed);
  expect(batchOf(scenario(`, surge: ${needed}`), false)?.cycle?.held_up_min).toBe(0);
  expect(batchOf(scenario(`, surge: ${needed - 1}`), false)?.cycle?.held_up_min).toBeGreaterThan(0);
});

test("is none where the line takes less than is brought, and what a run knows is left as it is", () => {
  const slow = batchOf(scenario(", surge: 100", "3 s"), true);
  expect(slow?.brings_too_much).toBe(true);
  expect(slow?.needed_room).toBeNull();
  const roomy = scenario(", surge: 500");
  expect(batchOf(roomy, true)).toEqual(batchOf(roomy, false));
});
