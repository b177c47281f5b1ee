/**
 * What the engine makes of its draws. The streams themselves are tested in random/; here each is drawn from once more, and what
 * a plant does must follow from those draws, to the tick. Plants are handed items over directly, an item a tick, unless they
 * say otherwise; a tick is a second.
 */
import { describe, expect, test } from "vitest";
import { sampler } from "../../src/engine/random/distributions.ts";
import { wholeDraws } from "../../src/engine/random/draws.ts";
import { namedStream } from "../../src/engine/random/stream.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { DOWN, RUNNING, STARVED, STATE_COUNT } from "../../src/engine/states.ts";
import { prepare } from "../../src/network/prepare.ts";
import type { Program } from "../../src/network/program.ts";
import type { StreamPurpose } from "../../src/network/random-program.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { advanceOneTick } from "./one-tick.ts";

const HORIZON = 20_000;

interface Given {
  readonly machine?: string;
  readonly feed?: string;
  readonly cycle?: string;
  readonly rate?: string;
  readonly batch?: string;
}

function plant({ machine = "{}", feed = "{}", cycle = "3 s", rate = "rate: 60/min", batch = "" }: Given): Program {
  const read = readScenario(`
title: One machine (invented)
horizon: ${HORIZON} s
tick: 1 s
feeds: { source: { item: part, ${batch || rate} } }
machines: { press: { cycle: ${cycle}, takes: { part: 1 }, makes: { plate: 1 }, infeed: 4 } }
lines: { main: { layout: chain, from: source, to: press, belt: none, branch: none } }
random: { machines: { press: ${machine} }, feeds: { source: ${feed} } }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return prepared.program;
}

const run = (program: Program, seed = "7"): Run => simulate(program, { horizonTicks: HORIZON, seed, check: true });

/** Draws of a stream, as many as are asked for, by a generator of their own. */
function drawsOf({ random }: Program, purpose: StreamPurpose, seed = "7"): (scale?: number) => number {
  const stream = random?.streams.find((one) => one.purpose === purpose);
  if (!stream) throw new Error(`nothing draws ${purpose}`);
  const draws = wholeDraws(sampler(stream.distribution, namedStream(seed, stream.element, purpose)));
  return (scale = 1) => draws.next(scale);
}

/** Tick by tick, with a turn for every element: what the machine is in, and what has been fed. */
function watch(program: Program, seed = "7") {
  const state = initialState(program, 0, seed);
  const states: number[] = [];
  const fedAt: number[] = [];
  while (state.tick < HORIZON) {
    const fed = state.totals.fed[0] ?? 0;
    advanceOneTick(program, state);
    states.push(state.machineState[0] ?? -1);
    for (let n = fed; n < (state.totals.fed[0] ?? 0); n++) fedAt.push(state.tick);
  }
  return { states, fedAt, totals: state.totals };
}

const ticksIn = ({ totals }: Pick<Run, "totals">, state: number): number => totals.stateTicks[state] ?? Number.NaN;

describe("breakdowns", () => {
  const FAILS = "between: { exponential: 40 s }, repair: { triangular: [2 s, 5 s, 20 s] }";

  test("in clock time: up and down by turns, as drawn, whatever the machine does", () => {
    const program = plant({ machine: `{ breakdowns: { ${FAILS}, counted: clock } }`, rate: "rate: 6/min" });
    const [up, repair] = [drawsOf(program, "up-time"), drawsOf(program, "repair")];
    const isDown: boolean[] = [];
    while (isDown.length < HORIZON) {
      for (let n = Math.max(1, up()); n > 0; n--) isDown.push(false);
      for (let n = repair(); n > 0; n--) isDown.push(true);
    }
    const { states } = watch(program);
    expect(states.map((state) => state === DOWN)).toEqual(isDown.slice(0, HORIZON));
    expect(states).toContain(STARVED);
  });

  test("in running time: only what it runs uses it up", () => {
    const program = plant({ machine: `{ breakdowns: { ${FAILS}, counted: running } }`, rate: "rate: 6/min" });
    const [up, repair] = [drawsOf(program, "up-time"), drawsOf(program, "repair")];
    const { states } = watch(program);
    let [left, toRepair, breakdowns] = [Math.max(1, up()), 0, 0];
    for (const state of states) {
      if (state === DOWN) {
        if (toRepair === 0) toRepair = repair();
        toRepair--;
        expect(left).toBe(0);
        if (toRepair === 0) [left, breakdowns] = [Math.max(1, up()), breakdowns + 1];
      } else {
        expect(toRepair).toBe(0);
        if (state === RUNNING) left--;
        expect(left).toBeGreaterThanOrEqual(0);
      }
    }
    expect(breakdowns).toBeGreaterThan(80);
  });

  test("a machine that is blocked doesn't break down, in running time", () => {
    const read = readScenario(`
title: Blocked after four cycles of a second, of ten to a breakdown (invented)
horizon: 100 s
tick: 100 ms
feeds: { source: { item: part, rate: 120/min } }
machines:
  press: { cycle: 1 s, takes: { part: 1 }, makes: { plate: 1 }, infeed: 2, outfeed: 1 }
  oven: { cycle: 1000 s, takes: { plate: 1 }, makes: { tile: 1 }, infeed: 1 }
lines:
  first: { layout: chain, from: source, to: press, belt: none }
  then: { layout: chain, from: press, to: oven, belt: none }
random: { machines: { press: { breakdowns: { between: 10 s, repair: 2 s } } } }
`);
    if (!read.ok) throw new Error(JSON.stringify(read.findings));
    const prepared = prepare(read.scenario);
    if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
    const { program, horizonTicks } = prepared;
    const blocked = simulate(program, { horizonTicks, check: true });
    const press = program.network.machines.findIndex(({ id }) => id === "press");
    expect(blocked.totals.stateTicks[press * STATE_COUNT + RUNNING]).toBe(40);
    expect(blocked.totals.stateTicks[press * STATE_COUNT + DOWN]).toBe(0);
  });

  test("put a cycle off, and lose none of it", () => {
    for (const counted of ["clock", "running"]) {
      const found = run(plant({ machine: `{ breakdowns: { ${FAILS}, counted: ${counted} } }` }));
      const underWay = ticksIn(found, RUNNING) - 3 * (found.totals.cycles[0] ?? 0);
      expect([0, 1, 2, 3]).toContain(underWay);
      expect(ticksIn(found, DOWN)).toBeGreaterThan(HORIZON / 10);
    }
  });
});

test("short stops come at the start of cycles, as many cycles apart and as long as drawn", () => {
  const program = plant({ machine: "{ micro-stops: { chance: 20 %, lasting: { uniform: [2 s, 9 s] } } }" });
  const [apart, lasting] = [drawsOf(program, "cycles-to-stop"), drawsOf(program, "stop")];
  const finished: number[] = [];
  let [tick, toStop] = [1, apart()];
  // The first item comes in the first tick, when the machine has had its turn.
  for (tick = 2; tick < HORIZON; ) {
    if (--toStop === 0) [tick, toStop] = [tick + lasting(), apart()];
    tick += 3;
    if (tick <= HORIZON) finished.push(tick);
  }
  const { completions } = run(program);
  expect(Array.from(completions.tick.subarray(0, completions.count))).toEqual(finished);
});

test("cycles last as long as drawn, and those of no tick at all are made up for", () => {
  for (const [cycle, shares] of [
    ["6 s", "lognormal: 100 %, spread: 30 %"],
    ["2 s", "exponential: 100 %"],
  ] as const) {
    const program = plant({ cycle, machine: `{ cycle: { ${shares} } }` });
    const draw = drawsOf(program, "cycle");
    const finished: number[] = [];
    let ideal = 2;
    for (let tick = 2; tick <= HORIZON; ) {
      ideal += draw();
      tick = Math.max(tick + 1, ideal);
      if (tick <= HORIZON) finished.push(tick);
    }
    const { completions } = run(program);
    expect(Array.from(completions.tick.subarray(0, completions.count))).toEqual(finished);
  }
});

describe("a feed's items", () => {
  const SLOW = { cycle: "1 s", rate: "rate: 6/min" };

  test("come at drawn intervals; those of one tick one after the other", () => {
    const program = plant({ ...SLOW, feed: "{ interval: { exponential: 100 % } }" });
    const draw = drawsOf(program, "interval");
    const expected: number[] = [];
    let due = draw(10);
    for (let tick = 1; tick <= HORIZON; tick++) {
      if (due > tick) continue;
      expected.push(tick);
      due += draw(10);
    }
    expect(watch(program).fedAt).toEqual(expected);
    // Poisson arrivals: as many in the mean as stated, and the variance is the mean (within four standard errors).
    expect(Math.abs(expected.length - HORIZON / 10)).toBeLessThan(4 * Math.sqrt(HORIZON / 10));
  });

  test("come again as drawn after a pause", () => {
    const rate = "profile: [{ from: 0 s, rate: 6/min }, { from: 5000 s, rate: 0/min }, { from: 9000 s, rate: 6/min }]";
    const program = plant({ ...SLOW, rate, feed: "{ interval: { exponential: 100 % } }" });
    const draw = drawsOf(program, "interval");
    const expected: number[] = [];
    for (const [from, to] of [
      [0, 5000],
      [9000, HORIZON],
    ] as const) {
      for (let due = from + draw(10); due <= to; due += draw(10)) expected.push(due);
    }
    const { fedAt } = watch(program);
    expect(fedAt.length).toBe(expected.length);
    expect(fedAt.filter((tick) => tick > 5000 && tick < 9000)).toEqual([]);
  });

  test("come late by what is drawn, and that never adds up", () => {
    const program = plant({ ...SLOW, feed: "{ jitter: { uniform: [0 s, 8 s] } }" });
    const draw = drawsOf(program, "jitter");
    const { fedAt } = watch(program);
    expect(fedAt.length).toBeGreaterThan(HORIZON / 10 - 3);
    expect(fedAt).toEqual(fedAt.map((_, n) => 10 * (n + 1) + draw()));
  });

  test("stay away in outages, and come later by as much", () => {
    const program = plant({ ...SLOW, feed: "{ outages: { between: { exponential: 90 s }, lasting: 7 s } }" });
    const supply = drawsOf(program, "supply");
    const out = new Set<number>();
    for (let tick = 1; tick <= HORIZON; ) {
      tick += Math.max(1, supply());
      for (let n = 0; n < 7; n++) out.add(tick++);
    }
    const { fedAt } = watch(program);
    expect(fedAt.filter((tick) => out.has(tick))).toEqual([]);
    const supplied = Array.from({ length: HORIZON }, (_, n) => n + 1).filter((tick) => !out.has(tick));
    // The hundredth second of supply brings the tenth item, if none was due just as an outage began.
    expect(Math.abs(fedAt.length - Math.floor(supplied.length / 10))).toBeLessThanOrEqual(1);
  });

  test("are brought by vehicles that come, and carry, as drawn", () => {
    const program = plant({
      cycle: "1 s",
      batch: "batch: { every: 100 s, items: 20, rate: 30/min }",
      feed: "{ batch: { every: { uniform: [60 %, 140 %] }, items: { uniform: [50 %, 150 %] } } }",
    });
    const [every, items] = [drawsOf(program, "vehicle-interval"), drawsOf(program, "vehicle-items")];
    const { fedAt } = watch(program);
    const expected: number[] = [];
    let comes = 0;
    while (comes < HORIZON - 100) {
      const load = items();
      for (let n = 1; n <= load; n++) expected.push(comes + 2 * n);
      comes += every();
    }
    expect(fedAt.slice(0, expected.length)).toEqual(expected);
  });
});

test("without a machine's draws, the others' are what they were", () => {
  const both =
    "{ breakdowns: { between: { exponential: 40 s }, repair: 6 s, counted: clock }, cycle: { exponential: 100 % } }";
  const downs = (machine: string) => watch(plant({ machine })).states.map((state) => state === DOWN);
  expect(downs(both)).toEqual(downs(both.replace(", cycle: { exponential: 100 % }", "")));
});

test("another seed, another run; the same seed, the same", () => {
  const program = plant({ machine: "{ cycle: { exponential: 100 % } }" });
  const made = (seed: string) => Array.from(run(program, seed).completions.tick);
  expect(made("a")).toEqual(made("a"));
  expect(made("a")).not.toEqual(made("b"));
});

test("states add up to the horizon", () => {
  const { totals } = run(plant({ machine: "{ micro-stops: { chance: 5 %, lasting: { exponential: 20 s } } }" }));
  expect(totals.stateTicks.subarray(0, STATE_COUNT).reduce((sum, ticks) => sum + ticks, 0)).toBe(HORIZON);
});
