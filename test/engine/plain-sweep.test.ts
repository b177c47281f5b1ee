/**
 * The engine passes over elements that cannot act, and books sums over time as levels change. The plain sweep (plain/) does
 * neither: in every tick every element has its turn, and everything is counted. Both must give the same states, tick by tick.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { bookTotals } from "../../src/engine/over-time.ts";
import { intervene } from "../../src/engine/priming.ts";
import { DIVIDER, DIVIDER_INTS, PLACE, PLACE_INTS } from "../../src/engine/record-offsets.ts";
import { beltField } from "../../src/engine/records.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { notedNow, type State } from "../../src/engine/state.ts";
import { sweep } from "../../src/engine/tick.ts";
import { compile } from "../../src/network/compile.ts";
import type { CompiledAction } from "../../src/network/priming.ts";
import { ORDERED, type Program } from "../../src/network/program.ts";
import type { RandomProgram, RandomStream } from "../../src/network/random-program.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { amongOthers } from "../plants/collecting-lines.ts";
import { randomTimings, timed } from "../plants/random-tactics.ts";
import { type State as PlainState, initialState as plainState, reserveCompletions } from "./plain/state.ts";
import { advanceOneTick as advancePlainly } from "./plain/tick.ts";
import { AWKWARD, randomNetwork, randomPlant } from "./random-networks.ts";

const CASES = 80 * Number(process.env.FILLFRONT_CASES ?? 1);

const networks = fc.oneof(randomNetwork(), randomNetwork(AWKWARD), randomPlant(), randomPlant(AWKWARD));
/** Some of them collecting lines, some with profiles or late vehicles. */
const anyNetwork = fc
  .tuple(amongOthers(networks), fc.option(randomTimings))
  .map(([plain, timings]) => (timings === null ? plain : timed(plain, timings)));

/** What may be done to a plant between two ticks: held machines, lowered levels, ordered dividers, and back. */
const anyAction = fc.record({
  tick: fc.integer({ min: 1, max: 1500 }),
  what: fc.constantFrom("hold", "release", "lower", "lift", "order", "restore"),
});

function compiled(what: string, { machine, divider, buffer }: Program): CompiledAction {
  const machines = Array.from({ length: machine.count }, (_, m) => m);
  const infeeds = machines.flatMap((m) => {
    const [from = 0, to = 0] = [machine.infeed[m], machine.outfeed[m]];
    return Array.from({ length: to - from }, (_, i) => from + i);
  });
  const dividers = Array.from({ length: divider.count }, (_, d) => d);
  switch (what) {
    case "hold":
    case "release":
      return { do: what, machines };
    case "lower":
      return { do: "limit", buffers: infeeds, level: Math.max(...infeeds.map((b) => buffer.perCycle[b] ?? 1), 1) };
    case "lift":
      return { do: "limit", buffers: infeeds, level: null };
    default:
      return { do: "divide", dividers, rule: what === "order" ? ORDERED : null };
  }
}

/** The same done to the plain state. */
function perform(action: CompiledAction, program: Program, state: PlainState): void {
  switch (action.do) {
    case "hold":
    case "release":
      for (const m of action.machines) state.machineHeld[m] = action.do === "hold" ? 1 : 0;
      break;
    case "limit":
      for (const b of action.buffers) {
        const room = program.buffer.capacity[b] ?? 0;
        state.bufferLimit[b] = Math.min(action.level ?? room, room);
      }
      break;
    case "divide":
      for (const d of action.dividers) state.dividerRule[d] = action.rule ?? program.divider.rule[d] ?? 0;
  }
}

/** The engine's state with the plain one's arrays in place of belts' and dividers' records. */
function withoutRecords({ belt, divider }: Program, state: State): Omit<PlainState, "chance"> {
  const { belts, dividers, places, paceDue, paceLag } = state;
  const [due, lag] = [paceDue.slice(), paceLag.slice()];
  for (const [b, pace] of belt.entryPace.entries()) {
    due[pace] = beltField(belts, "entryDue")[b] ?? 0;
    lag[pace] = beltField(belts, "entryLag")[b] ?? 0;
  }
  for (const [b, pace] of belt.exitPace.entries()) {
    due[pace] = beltField(belts, "exitDue")[b] ?? 0;
    lag[pace] = beltField(belts, "exitLag")[b] ?? 0;
  }
  const rings = beltField(belts, "ring");
  const placeField = (field: number) =>
    Array.from({ length: belt.places }, (_, place) => places[place * PLACE_INTS + field] ?? 0);
  const dividerField = (field: number) =>
    Array.from({ length: divider.count }, (_, d) => dividers[d * DIVIDER_INTS + field] ?? 0);
  return {
    ...state,
    paceDue: due,
    paceLag: lag,
    beltHead: beltField(belts, "head").map((head, b) => (head - (rings[b] ?? 0)) / (4 * PLACE_INTS)),
    placeReady: Int32Array.from(placeField(PLACE.ready)),
    placeBorn: Int32Array.from(placeField(PLACE.born)),
    placeItem: Uint8Array.from(placeField(PLACE.item)),
    beltCount: beltField(belts, "count"),
    dividerTurn: Int32Array.from(dividerField(DIVIDER.turn)),
    dividerRule: Uint8Array.from(dividerField(DIVIDER.rule)),
    noted: notedNow(state),
  };
}

function withoutDraws({ chance, ...all }: PlainState): Omit<PlainState, "chance"> {
  return all;
}

/** Items lie in their rings from the head on; what stands in places left long ago decides nothing and is the same too. */
function seen(state: Omit<PlainState, "chance">) {
  const { completions, ...all } = state;
  const { count, machine, tick } = completions;
  return {
    ...all,
    completions: [machine.slice(0, count), tick.slice(0, count)],
    interventionDue: 0,
    interventionsToCome: 0,
  };
}

/** Gaps drawn at every second feed, lateness at the others. */
function withFeedChance(program: Program): Program {
  const streams: RandomStream[] = program.network.feeds.map(({ id }, f) =>
    f % 2 === 0
      ? { element: id, purpose: "interval", unit: "intervals", distribution: { family: "exponential", mean: 1 } }
      : { element: id, purpose: "jitter", unit: "ticks", distribution: { family: "exponential", mean: 15 } },
  );
  const none = (count: number): Int32Array => new Int32Array(count).fill(-1);
  const { machine, feed } = program;
  const [machines, feeds] = [none(machine.count), none(feed.count)];
  const drawn = (from: number): Int32Array => feeds.map((_, f) => (f % 2 === from ? f : -1));
  const random: RandomProgram = {
    streams,
    stops: [],
    machine: {
      upTime: machines,
      repair: machines,
      countsClock: new Uint8Array(machine.count),
      cyclesToStop: machines,
      stop: machines,
      cycle: machines,
    },
    feed: {
      interval: drawn(0),
      jitter: drawn(1),
      supply: feeds,
      outage: feeds,
      vehicleInterval: feeds,
      vehicleJitter: feeds,
      vehicleItems: feeds,
    },
  };
  return { ...program, random };
}

function sameTickByTick(
  program: Program,
  actions: readonly { readonly tick: number; readonly what: string }[],
  seed = "1",
): number {
  const own = initialState(program, actions.length, seed);
  const plain = plainState(program, 0, seed);
  const interventions = actions.map(({ tick, what }) => {
    return { whenFull: null, afterTicks: tick, actions: [compiled(what, program)], times: 1, tickOf: () => tick };
  });
  own.interventionDue.set(actions.map(({ tick }) => tick));
  let passed = 0;
  while (plain.tick < 1500) {
    reserveCompletions(plain.completions, program.machine.count || program.connection.count + program.feed.count);
    sweep(program, own);
    advancePlainly(program, plain);
    intervene(program, own, interventions);
    for (const { afterTicks, actions: done } of interventions) {
      if (afterTicks === plain.tick) for (const action of done) perform(action, program, plain);
    }
    // Booking is to be right at any moment, so it is done at some of them.
    if (plain.tick % 97 !== 0 && plain.tick !== 1500) continue;
    bookTotals(own);
    expect(seen(withoutRecords(program, own))).toMatchObject(seen(withoutDraws(plain)));
    passed = plain.totals.passed.reduce((sum, one) => sum + one, 0);
  }
  return passed;
}

test("the engine's states are those of the plain sweep", () => {
  let moves = 0;
  fc.assert(
    fc.property(anyNetwork, fc.array(anyAction, { maxLength: 4 }), (line, actions) => {
      moves += sameTickByTick(compile(line, autoTickS(line)), actions);
    }),
    { numRuns: CASES, endOnFailure: true },
  );
  expect(moves).toBeGreaterThan(100 * CASES);
}, 120_000);

test("and where feeds are left to chance, and their items wait at the gate", () => {
  let moves = 0;
  let waits = 0;
  fc.assert(
    fc.property(anyNetwork, fc.array(anyAction, { maxLength: 4 }), fc.string(), (line, actions, seed) => {
      const program = withFeedChance(compile(line, autoTickS(line)));
      moves += sameTickByTick(program, actions, seed);
      waits += simulate(program, { horizonTicks: 1500, seed }).gates.ticks.reduce((sum, one) => sum + one, 0);
    }),
    { numRuns: CASES, endOnFailure: true },
  );
  expect(moves).toBeGreaterThan(100 * CASES);
  expect(waits).toBeGreaterThan(100 * CASES);
}, 120_000);
