/**
 * The engine passes over elements that cannot act, and books sums over time as levels change. The plain sweep (plain/) does
 * neither: in every tick every element has its turn, and everything is counted. Both must give the same states, tick by tick.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { bookTotals } from "../../src/engine/over-time.ts";
import { intervene } from "../../src/engine/priming.ts";
import { beltField, DIVIDER, DIVIDER_INTS, PLACE, PLACE_INTS } from "../../src/engine/records.ts";
import { initialState } from "../../src/engine/start.ts";
import { marksNow, type State } from "../../src/engine/state.ts";
import { sweep } from "../../src/engine/tick.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import type { CompiledAction } from "../../src/network/priming.ts";
import { ORDERED, type Program } from "../../src/network/program.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { type State as PlainState, initialState as plainState, reserveCompletions } from "./plain/state.ts";
import { advanceOneTick as advancePlainly } from "./plain/tick.ts";
import { AWKWARD, randomNetwork, randomPlant } from "./random-networks.ts";

const CASES = 150 * Number(process.env.FILLFRONT_CASES ?? 1);

const anyNetwork = fc.oneof(randomNetwork(), randomNetwork(AWKWARD), randomPlant(), randomPlant(AWKWARD));

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
function withoutRecords({ belt, divider }: Program, state: State): PlainState {
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
    marks: marksNow(state),
  };
}

/** Items lie in their rings from the head on; what stands in places left long ago decides nothing and is the same too. */
function seen(state: PlainState) {
  const { completions, ...all } = state;
  const { count, machine, tick } = completions;
  return {
    ...all,
    completions: [machine.slice(0, count), tick.slice(0, count)],
    interventionDue: 0,
    interventionsToCome: 0,
  };
}

function sameTickByTick(line: Network, actions: readonly { readonly tick: number; readonly what: string }[]): number {
  const program = compile(line, autoTickS(line));
  const own = initialState(program, actions.length);
  const plain = plainState(program);
  const interventions = actions.map(({ tick, what }) => {
    return { whenFull: null, afterTicks: tick, actions: [compiled(what, program)] };
  });
  own.interventionDue.set(actions.map(({ tick }) => tick));
  let passed = 0;
  while (plain.tick < 1500) {
    reserveCompletions(plain.completions, program.machine.count);
    sweep(program, own);
    advancePlainly(program, plain);
    intervene(program, own, interventions);
    for (const { afterTicks, actions: done } of interventions) {
      if (afterTicks === plain.tick) for (const action of done) perform(action, program, plain);
    }
    // Booking is to be right at any moment, so it is done at some of them.
    if (plain.tick % 97 !== 0 && plain.tick !== 1500) continue;
    bookTotals(own);
    expect(seen(withoutRecords(program, own))).toMatchObject(seen(plain));
    passed = plain.totals.passed.reduce((sum, one) => sum + one, 0);
  }
  return passed;
}

test("the engine's states are those of the plain sweep", () => {
  let moves = 0;
  fc.assert(
    fc.property(anyNetwork, fc.array(anyAction, { maxLength: 4 }), (line, actions) => {
      moves += sameTickByTick(line, actions);
    }),
    { numRuns: CASES },
  );
  expect(moves).toBeGreaterThan(100 * CASES);
}, 120_000);
