/** What one run under chance tells: bins, the end of its ramp-up, batch means; and what is never said of it. */
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { chanceIn, madeInBins } from "../../src/analysis/chance.ts";
import type { Events } from "../../src/analysis/events.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";

function eventsAt(ticks: readonly number[], amount = 1): Events {
  return { count: ticks.length, tick: Int32Array.from(ticks), amount: new Float64Array(ticks.length).fill(amount) };
}

test("a tick belongs to the bin that it ends in; what comes after the last bin is left out", () => {
  expect(Array.from(madeInBins(eventsAt([1, 10, 11, 20, 21, 31], 2), 10, 3))).toEqual([4, 4, 2]);
});

const ONE_TICK_A_SECOND = (ticks: number): number => ticks / 60;

describe("one product a second after ten minutes of nothing, for three hours", () => {
  const ticks = Array.from({ length: 170 * 60 }, (_, i) => 600 + i + 1);
  const { chance, fromTick } = chanceIn(eventsAt(ticks), 180 * 60, ONE_TICK_A_SECOND);

  test("the ramp-up ends there, but for the width of five bins", () => {
    const { mser5_min: at, welch_min: welch, welch_why: why } = chance.ramp_up_end;
    expect(at).toBeGreaterThanOrEqual(10);
    expect(at).toBeLessThan(12);
    expect([welch, why]).toEqual([null, "one run"]);
    expect(fromTick / 60).toBeCloseTo(chance.counted_from_min, 9);
  });

  test("the long run makes 60/min, without a doubt", () => {
    expect(chance.settled_output_per_min).toMatchObject({ mean: 60, why: null });
    expect(chance.settled_output_per_min.ci95).toEqual([60, 60]);
    expect(chance.settled_output_per_min.batches).toBeGreaterThanOrEqual(20);
  });
});

test("a run too short to tell says so, and counts its last half where no end of the ramp-up is found", () => {
  const { chance } = chanceIn(eventsAt([10, 20, 30, 40]), 40, ONE_TICK_A_SECOND);
  expect(chance).toMatchObject({
    ramp_up_end: { mser5_min: null, mser5_why: "too few values" },
    settled_output_per_min: { ci95: null, why: "too few values", batches: null },
  });
  expect(chance.counted_from_min).toBeCloseTo(20 / 60, 9);
});

const ALONE = (hours: number) => `
title: One machine
horizon: ${hours} h
seed: renewal
feeds: { silo: { item: can, rate: 30/min } }
machines:
  filler: { cycle: 2 s, takes: { can: 1 }, makes: { filled: 1 }, infeed: 20 }
lines:
  main: { layout: chain, from: silo, to: filler, belt: { rate: 100/min, capacity: 6 } }
random:
  machines:
    filler: { breakdowns: { between: { exponential: 5 min }, repair: { exponential: 1 min } }, cycle: { erlang: 100 %, stages: 4 } }
`;

function analysed(text: string) {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const prepared = prepare(outcome.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, horizonTicks, network } = prepared;
  const run = simulate(program, { horizonTicks, seed: outcome.scenario.seed });
  return { run, ...analyse(run, outcome.scenario, solveFlow(network)) };
}

describe("a machine with more fed than it can take, down a sixth of the time", () => {
  const { run, result } = analysed(ALONE(100));

  test("nothing is proved or solved: the flow of the means is no long run under chance", () => {
    expect(run.recurrence).toBeNull();
    expect(result.flow).not.toBeNull();
    expect(result).toMatchObject({
      settling: { proved: false, basis: "measured", time_min: null, period_min: null, still_changing: [] },
      output: { settled_per_min: null, ramp_up_loss: null },
      bottlenecks: null,
      jams: null,
    });
  });

  test("5/6 of 30/min within the interval by batch means (renewal reward; S. M. Ross, from memory)", () => {
    const [low, high] = result.chance?.settled_output_per_min.ci95 ?? [0, 0];
    expect(low).toBeLessThan(25);
    expect(high).toBeGreaterThan(25);
    expect(high - low).toBeLessThan(1);
  });

  test("measured rates and uptimes are of all that comes after the ramp-up", () => {
    const { chance, output, machines } = result;
    const [machine] = machines;
    expect(output.measured_per_min).toBeCloseTo(chance?.settled_output_per_min.mean ?? 0, 1);
    expect(machine?.measured_per_min).toBe(output.measured_per_min);
    expect(Math.abs((machine?.uptime.settled ?? 0) - 5 / 6)).toBeLessThan(0.01);
    const { running, starved, blocked, down } = machine?.minutes ?? { running: 0, starved: 0, blocked: 0, down: 0 };
    expect(running + starved + blocked + down).toBeCloseTo(100 * 60, 6);
    expect(running / (machine?.uptime.horizon ?? 0)).toBeCloseTo(100 * 60, 6);
  });
});

test("without chance a result says nothing of it", () => {
  const { result } = analysed(ALONE(1).replace(/random:.*/s, ""));
  expect("chance" in result).toBe(false);
  expect(result.settling.proved).toBe(true);
});
