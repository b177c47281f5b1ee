/** The state before the first tick, laid out in a core's memory. */
import type { Program } from "../network/program.ts";
import { calendarSize } from "./calendar.ts";
import { chanceInts } from "./chance-arrays.ts";
import { startCore } from "./core.ts";
import { bytesForInts, bytesOf, CoreMemory, FIRST_BYTE } from "./core-memory.ts";
import { programArrays, programNumbers } from "./program-arrays.ts";
import { AHEAD, createDraws, startOfStreams } from "./random/draws.ts";
import { type Addresses, addressesIn, beltRecords, connectionRecords, dividerRecords, PLACE_INTS } from "./records.ts";
import { batchLengths } from "./samples.ts";
import type { State } from "./state.ts";
import { STARVED } from "./states.ts";
import { totalsIn, totalsRoom } from "./totals.ts";

/** States that the core keeps to compare with. */
const KEPT = 2;
/** Finished cycles that the core has room for, at least. */
const FEWEST_COMPLETIONS = 4096;
/** Room for all of a run to begin with. */
const FIRST_COMPLETIONS = 512;

/** No more is kept for the next run. */
const MOST_SPARE_BYTES = 1 << 24;

/** A program laid out in a core's memory, for one run after the other. */
interface Laid extends ReturnType<typeof layOut> {
  readonly program: Program;
}

/** The last that is done with: the next run of the same program takes it as it is, one of another its memory. */
let spare: Laid | null = null;

/** @param seed of what is left to chance */
export function initialState(program: Program, interventions = 0, seed = "1"): State {
  const old = spare;
  spare = null;
  const isSame = old?.program === program;
  const laid: Laid = isSame ? old : { program, ...layOut(program, old?.memory ?? null) };
  const { core, memory, arrays, draws, alea } = laid;
  if (isSame) {
    memory.restore(laid.image);
    core.restart();
  }
  const random = program.random ?? { streams: [] };
  startOfStreams(random, seed, alea);
  draws.now = createDraws(random, seed, core.productOf);
  core.startFrom(0);
  if (program.random !== null) core.startChance();
  return {
    tick: 0,
    nextStep: 0,
    ...arrays,
    interventionDue: new Int32Array(interventions),
    interventionTimes: new Int32Array(interventions),
    interventionsToCome: interventions,
    hands: new Map(),
    get heldInAll() {
      return core.heldInAll.value;
    },
    marks: {
      ...arrays.marks,
      get peakHeld() {
        return core.peakHeld.value;
      },
      get peakTick() {
        return core.peakTick.value;
      },
      get longestDwell() {
        return core.longestDwell.value;
      },
    },
    completions: { count: 0, machine: new Int32Array(FIRST_COMPLETIONS), tick: new Int32Array(FIRST_COMPLETIONS) },
    core,
    release: () => {
      if (memory.memory.buffer.byteLength <= MOST_SPARE_BYTES) spare = laid;
    },
  };
}

/** @param old memory that is done with */
function layOut(program: Program, old: CoreMemory | null) {
  const address = addressesIn(program);
  const records = recordsOf(program, address);
  const counts = countsOf(program);
  const timed = { ints: { paceDue: startPaces(program), paceLag: new Int32Array(program.pace.count) } };
  const fixed = programArrays(program, address);
  const steered = steeredBy(program);
  const booked = bookedOf(program);
  const marks = marksOf(program);
  const peaks = peaksOf(program);
  const calendar = calendarSize(program);
  const chance = { ints: chanceInts(program), sums: { gateTicks: new Float64Array(program.feed.count) } };
  const completionsInTick = mostInTick(program);
  const completionRoom = Math.max(FEWEST_COMPLETIONS, completionsInTick);
  const empty = {
    calendarBits: calendar.ticks * calendar.words,
    completionMachine: completionRoom,
    completionTick: completionRoom,
    ...batchLengths(program),
  };

  // What decides the future comes first, records before all since they know their addresses; then what is kept of it.
  const others = [fixed, steered, booked, marks, peaks, chance];
  const decidingBytes = bytesOf(records, counts, timed);
  const memory = new CoreMemory((1 + KEPT) * decidingBytes + bytesOf(...others) + bytesForInts(empty), old);
  memory.move(records);
  const sameAt = memory.nextByte;
  memory.move(counts);
  memory.move(timed);
  memory.skip(KEPT * decidingBytes);
  for (const arrays of others) memory.move(arrays);
  const image = memory.image();
  const room = (name: keyof typeof empty): Int32Array => memory.ints(name, empty[name]);
  room("calendarBits");
  const completionMachine = room("completionMachine");
  const completionTick = room("completionTick");
  const batch = {
    tick: room("sampleTick"),
    level: room("sampleLevel"),
    held: room("sampleHeld"),
    onBelts: room("sampleOnBelts"),
    stateTicks: room("sampleStateTicks"),
  };
  const totals = totalsIn(program, booked.sums.totals);
  const { all, ...each } = totals;
  memory.nameParts(each);
  Object.assign(memory.names, programNumbers(program), {
    decidingAt: FIRST_BYTE,
    decidingBytes,
    sameAt,
    sameBytes: bytesOf(counts),
    calendarTicks: calendar.ticks,
    calendarWords: calendar.words,
    completionRoom,
    completionsInTick,
    hasChance: program.random === null ? 0 : 1,
    drawAhead: AHEAD,
  });
  const draws = { now: createDraws({ streams: [] }, "") };
  const core = startCore(memory, {
    refill: (stream) => draws.now.refill(stream, chance.ints.draws),
    drawOf: (stream, ticks) => draws.now.nextOf(stream, ticks),
  });
  const { heldMoment, placeMoment, bufferMoment } = booked.sums;
  const arrays = {
    ...records.ints,
    ...counts.ints,
    ...counts.bytes,
    ...timed.ints,
    ...steered.ints,
    ...steered.bytes,
    ...booked.ints,
    ...booked.bytes,
    heldMoment,
    placeMoment,
    bufferMoment,
    completionMachine,
    completionTick,
    batch,
    stops: {
      breakdowns: chance.ints.breakdowns,
      "micro-stops": chance.ints.microStops,
      outages: chance.ints.outages,
    },
    atGate: chance.ints.atGate,
    mostAtGate: chance.ints.mostAtGate,
    gateTicks: chance.sums.gateTicks,
    totals,
    marks: { ...marks.ints, ...marks.sums, placePeak: peaks.ints.placePeak },
  };
  return { memory, image, core, draws, alea: chance.ints.alea, arrays };
}

/** In the order that `addressesIn` has. */
function recordsOf(program: Program, address: Addresses) {
  return {
    ints: {
      belts: beltRecords(program, address),
      places: new Int32Array(program.belt.places * PLACE_INTS),
      dividers: dividerRecords(program, address),
      connections: connectionRecords(program, address),
    },
    bytes: { allows: program.connection.allows },
  };
}

/** What decides the future and has no times in it. */
function countsOf({ feed, merge, buffer, machine }: Program) {
  return {
    ints: {
      feedTurn: new Int32Array(feed.count),
      vehicleItems: new Int32Array(feed.count),
      mergeTurn: new Int32Array(merge.count),
      bufferCount: new Int32Array(buffer.count),
    },
    bytes: { machineBusy: new Uint8Array(machine.count) },
  };
}

/** What feed steps and interventions change, and where buffers' rings stand. */
function steeredBy({ pace, buffer, machine }: Program) {
  return {
    ints: {
      paceWhole: pace.whole,
      paceRest: pace.rest,
      paceParts: pace.parts,
      bufferHead: new Int32Array(buffer.count),
      bufferBorn: new Int32Array(buffer.places),
      bufferLimit: buffer.capacity,
    },
    bytes: { machineHeld: new Uint8Array(machine.count) },
  };
}

/** Totals, and what sums over time are worked out from. */
/** Cycles that can finish in one tick; without machines, items that leave, each of which comes from a belt or a feed of its own. */
function mostInTick({ machine, connection, feed }: Program): number {
  return machine.count > 0 ? machine.count : connection.count + feed.count;
}

function bookedOf(program: Program) {
  const { places, buffer, machine, itemCount } = program;
  return {
    ints: {
      onPlaces: new Int32Array(places.length * itemCount),
      stateSince: new Int32Array(machine.count).fill(1),
      lackSince: new Int32Array(buffer.count).fill(-1),
    },
    bytes: { machineState: new Uint8Array(machine.count).fill(STARVED) },
    sums: {
      heldMoment: new Float64Array(itemCount),
      placeMoment: new Float64Array(places.length * itemCount),
      bufferMoment: new Float64Array(buffer.count),
      totals: totalsRoom(program),
    },
  };
}

function marksOf({ buffer, limits, itemCount }: Program) {
  return {
    ints: {
      firstItem: new Int32Array(buffer.count).fill(-1),
      fullAt: new Int32Array(buffer.count).fill(-1),
      low: new Int32Array(buffer.count),
      high: new Int32Array(buffer.count),
      limitPeakTick: new Int32Array(limits.length),
    },
    sums: {
      held: new Float64Array(itemCount),
      limitPeak: new Float64Array(limits.length),
      longestStay: new Float64Array(itemCount),
    },
  };
}

/** All hold-up places are looked at after the first tick (core/peaks.ts). */
function peaksOf({ places, itemCount, buffer }: Program) {
  const count = places.length * itemCount + buffer.groups.length;
  return {
    ints: {
      groupCount: new Int32Array(buffer.groups.length),
      placePeak: new Int32Array(count),
      risen: Int32Array.from({ length: count }, (_, place) => place),
      risenCount: Int32Array.of(count),
    },
    bytes: { isRisen: new Uint8Array(count).fill(1) },
  };
}

/** Everything is due from the start, but for the first vehicles. */
function startPaces({ pace, feed }: Program): Int32Array {
  const due = new Int32Array(pace.count);
  due.set(feed.firstVehicle, feed.count);
  return due;
}
