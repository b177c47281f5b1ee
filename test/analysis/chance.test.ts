/** What one run under chance tells: bins, the end of its ramp-up, batch means; and what is never said of it. */
import { readFileSync } from "node:fs";
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
    expect(chance.counted_from_min).toBeCloseTo(180 / 8, 0);
    expect([welch, why]).toEqual([null, "one run"]);
    expect(fromTick / 60).toBeCloseTo(chance.counted_from_min, 9);
  });

  test("the long run makes 60/min, and an interval of no width is none", () => {
    expect(chance.settled_output_per_min).toEqual({
      mean: 60,
      ci95: null,
      why: "no variation",
      batches: null,
      batch_min: null,
    });
  });
});

test("a run too short to tell says so, how long one may do, and counts its last half", () => {
  const { chance } = chanceIn(eventsAt([10, 20, 30, 40]), 40, ONE_TICK_A_SECOND);
  expect(chance).toMatchObject({
    ramp_up_end: { mser5_min: null, mser5_why: "too few values" },
    settled_output_per_min: { ci95: null, why: "still ramping up", batches: null },
    run_at_least_min: 80 / 60,
  });
  expect(chance.counted_from_min).toBeCloseTo(20 / 60, 9);
});

test("no machine runs for more than all of the time", () => {
  const text = readFileSync(new URL("../../scenarios/unreliable-chain.yaml", import.meta.url), "utf8");
  const read = readScenario(text.replace("horizon: 8 h", "horizon: 72 s"));
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const ready = prepare(read.scenario);
  if (!ready.ok) throw new Error(JSON.stringify(ready.findings));
  const run = simulate(ready.program, { horizonTicks: ready.horizonTicks });
  const { machines } = analyse(run, read.scenario, solveFlow(ready.network)).result;
  expect(Math.max(...machines.flatMap(({ uptime }) => [uptime.settled ?? 0, uptime.horizon]))).toBe(1);
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

const PRESS = (between: string, horizon: string): string =>
  ALONE(1).replace("1 h", horizon).replace("exponential: 5 min", `exponential: ${between}`);

test("stops about as rare as the horizon: they are counted, and there is no interval before fifty", () => {
  for (let i = 1; i <= 40; i++) {
    const { result } = analysed(PRESS("10 h", "8 h").replace("seed: renewal", `seed: rare-${i}`));
    const [stops] = result.chance?.stops ?? [];
    expect(stops).toMatchObject({ what: "breakdowns", of: "filler", enough: false });
    expect(stops?.replications_needed).toBe(Math.ceil(66 * (601 / 480)));
    expect(result.chance?.settled_output_per_min.ci95).toBeNull();
  }
});

test("a first cycle longer than the horizon is no settled output of 0/min", () => {
  const { result } = analysed(ALONE(1).replace("cycle: 2 s", "cycle: 3 h").replace("rate: 30/min", "rate: 1/h"));
  expect(result.chance?.settled_output_per_min).toMatchObject({ ci95: null, why: "still ramping up" });
  expect(result.chance?.run_at_least_min).toBe(150 * 2 * 180);
});

test("what waits at a gate is told of feeds whose gaps are drawn", () => {
  const fluttering = ALONE(10)
    .replace(/random:.*/s, "random: { feeds: { silo: { interval: { exponential: 100 % } } } }")
    .replace("rate: 100/min", "rate: 31/min");
  const { result } = analysed(fluttering);
  const [gate] = result.chance?.gates ?? [];
  expect(gate).toMatchObject({ feed: "silo" });
  expect(gate?.mean).toBeGreaterThan(0.2);
  expect(gate?.most).toBeGreaterThan(4);
  expect(analysed(ALONE(1)).result.chance?.gates).toEqual([]);
});
