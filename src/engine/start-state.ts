/** The state before the first tick, laid out in a core's memory. */
import type { Program } from "../network/program.ts";
import { calendarSize } from "./calendar.ts";
import { chanceArrays } from "./chance-arrays.ts";
import { startCore } from "./core.ts";
import type { Arrays, Lengths, Moved, Numbers } from "./core-arrays.ts";
import { bytesForInts, bytesOf, CoreMemory, FIRST_BYTE } from "./core-memory.ts";
import { programArrays, programNumbers } from "./program-arrays.ts";
import { AHEAD, createDraws, startOfStreams } from "./random/draws.ts";
import { PLACE_INTS } from "./record-offsets.ts";
import { type Addresses, addressesIn, beltRecords, connectionRecords, dividerRecords } from "./records.ts";
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
    get holdUpInAll() {
      return core.holdUpInAll.value;
    },
    noted: {
      ...arrays.noted,
      get peakHoldUp() {
        return core.peakHoldUp.value;
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
  const moved: Moved = {
    records: recordsOf(program, address),
    counts: countsOf(program),
    timed: { paceDue: startPaces(program), paceLag: new Int32Array(program.pace.count) },
    program: programArrays(program, address),
    steered: steeredBy(program),
    booked: bookedOf(program),
    noted: notedOf(program),
    peaks: peaksOf(program),
    chance: chanceArrays(program),
  };
  const calendar = calendarSize(program);
  const completionsInTick = mostInTick(program);
  const completionRoom = Math.max(FEWEST_COMPLETIONS, completionsInTick);
  const lengths: Lengths<"rooms"> & Lengths<"samples"> = {
    calendarBits: calendar.ticks * calendar.words,
    completionMachine: completionRoom,
    completionTick: completionRoom,
    ...batchLengths(program),
  };

  // What decides the future comes first, records before all since they know their addresses; then what is kept of it.
  const { records, counts, timed, ...others } = moved;
  const decidingBytes = bytesOf(records, counts, timed);
  const bytes = (1 + KEPT) * decidingBytes + bytesOf(...Object.values(others)) + bytesForInts(lengths);
  const memory = new CoreMemory(bytes, old);
  memory.move(records);
  const sameAt = memory.nextByte;
  memory.move(counts);
  memory.move(timed);
  memory.skip(KEPT * decidingBytes);
  for (const arrays of Object.values(others)) memory.move(arrays);
  const image = memory.image();
  const room = (name: keyof typeof lengths): Int32Array => memory.ints(name, lengths[name]);
  const rooms: Arrays<"rooms"> = {
    calendarBits: room("calendarBits"),
    completionMachine: room("completionMachine"),
    completionTick: room("completionTick"),
  };
  const samples: Arrays<"samples"> = {
    sampleTick: room("sampleTick"),
    sampleLevel: room("sampleLevel"),
    sampleHoldUp: room("sampleHoldUp"),
    sampleOnBelts: room("sampleOnBelts"),
    sampleStateTicks: room("sampleStateTicks"),
  };
  const { steered, booked, noted, peaks, chance } = others;
  const totals = totalsIn(program, booked.allTotals);
  const { all, ...each } = totals;
  memory.nameParts(each);
  const numbers: Numbers = {
    ...programNumbers(program),
    decidingAt: FIRST_BYTE,
    decidingBytes,
    sameAt,
    sameBytes: bytesOf(counts),
    calendarTicks: calendar.ticks,
    calendarWords: calendar.words,
    completionRoom,
    completionsInTick,
    drawAhead: AHEAD,
  };
  const draws = { now: createDraws({ streams: [] }, "") };
  const core = startCore(memory, numbers, {
    refill: (stream) => draws.now.refill(stream, chance.draws),
    drawOf: (stream, ticks) => draws.now.nextOf(stream, ticks),
  });
  const arrays = {
    ...records,
    ...counts,
    ...timed,
    ...steered,
    ...booked,
    ...rooms,
    batch: {
      tick: samples.sampleTick,
      level: samples.sampleLevel,
      holdUp: samples.sampleHoldUp,
      onBelts: samples.sampleOnBelts,
      stateTicks: samples.sampleStateTicks,
    },
    stops: { breakdowns: chance.breakdowns, "micro-stops": chance.microStops, outages: chance.outages },
    atGate: chance.atGate,
    mostAtGate: chance.mostAtGate,
    gateTicks: chance.gateTicks,
    totals,
    noted: { ...noted, placePeak: peaks.placePeak },
  };
  return { memory, image, core, draws, alea: chance.alea, arrays };
}

/** In the order that `addressesIn` has. */
function recordsOf(program: Program, address: Addresses): Moved["records"] {
  return {
    belts: beltRecords(program, address),
    places: new Int32Array(program.belt.places * PLACE_INTS),
    dividers: dividerRecords(program, address),
    connections: connectionRecords(program, address),
    allows: program.connection.allows,
  };
}

function countsOf({ feed, merge, buffer, machine }: Program): Moved["counts"] {
  return {
    feedTurn: new Int32Array(feed.count),
    vehicleItems: new Int32Array(feed.count),
    mergeTurn: new Int32Array(merge.count),
    bufferCount: new Int32Array(buffer.count),
    machineBusy: new Uint8Array(machine.count),
  };
}

function steeredBy({ pace, buffer, machine }: Program): Moved["steered"] {
  return {
    paceWhole: pace.whole,
    paceRest: pace.rest,
    paceParts: pace.parts,
    bufferHead: new Int32Array(buffer.count),
    bufferBorn: new Int32Array(buffer.places),
    bufferLimit: buffer.capacity,
    bufferAwaited: new Uint8Array(buffer.count),
    machineHeld: new Uint8Array(machine.count),
  };
}

/** Cycles that can finish in one tick; without machines, items that leave, each of which comes from a belt or a feed of its own. */
function mostInTick({ machine, connection, feed }: Program): number {
  return machine.count > 0 ? machine.count : connection.count + feed.count;
}

function bookedOf(program: Program): Moved["booked"] {
  const { places, buffer, machine, itemCount } = program;
  return {
    onPlaces: new Int32Array(places.length * itemCount),
    machineState: new Uint8Array(machine.count).fill(STARVED),
    stateSince: new Int32Array(machine.count).fill(1),
    lackSince: new Int32Array(buffer.count).fill(-1),
    holdUpMoment: new Float64Array(itemCount),
    placeMoment: new Float64Array(places.length * itemCount),
    bufferMoment: new Float64Array(buffer.count),
    allTotals: totalsRoom(program),
  };
}

function notedOf({ buffer, limits, itemCount }: Program): Moved["noted"] {
  return {
    firstItem: new Int32Array(buffer.count).fill(-1),
    fullAt: new Int32Array(buffer.count).fill(-1),
    low: new Int32Array(buffer.count),
    high: new Int32Array(buffer.count),
    holdUp: new Float64Array(itemCount),
    limitPeak: new Float64Array(limits.length),
    limitPeakTick: new Int32Array(limits.length),
    longestStay: new Float64Array(itemCount),
  };
}

/** All hold-up places are looked at after the first tick (core/peaks.ts). */
function peaksOf({ places, itemCount, buffer }: Program): Moved["peaks"] {
  const count = places.length * itemCount + buffer.groups.length;
  return {
    groupCount: new Int32Array(buffer.groups.length),
    placePeak: new Int32Array(count),
    isRisen: new Uint8Array(count).fill(1),
    risen: Int32Array.from({ length: count }, (_, place) => place),
    risenCount: Int32Array.of(count),
  };
}

/** Everything is due from the start, but for the first vehicles. */
function startPaces({ pace, feed }: Program): Int32Array {
  const due = new Int32Array(pace.count);
  due.set(feed.firstVehicle, feed.count);
  return due;
}
