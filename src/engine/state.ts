/**
 * Everything that changes in a run, in typed arrays addressed by the program's indices. What decides the future (paces,
 * belts, buffers, turns, machines) stands apart from what only counts the past (`Totals`, `Marks`, `Completions`).
 */
import type { Program } from "../network/program.ts";
import { calendarSize } from "./calendar.ts";
import { chanceInts } from "./chance-arrays.ts";
import { bytesOf, type Core, CoreMemory } from "./core.ts";
import { programBytes, programInts, programNumbers, programSums } from "./program-arrays.ts";
import { AHEAD, createDraws } from "./random/draws.ts";
import {
  addressesIn,
  BELT,
  BELT_INTS,
  beltField,
  beltRecords,
  connectionRecords,
  dividerRecords,
  FIRST_BYTE,
  PLACE_INTS,
} from "./records.ts";
import { STARVED } from "./states.ts";
import { type Totals, totalsIn, totalsRoom } from "./totals.ts";

export interface State {
  /** The last tick done; tick n ends n tick lengths after the start. */
  tick: number;
  /** Index of the next feed step to come into force. */
  nextStep: number;

  /**
   * The tick at which an element may act again: the ideal time rounded up, and by how many parts it was rounded. Those of
   * belts are in their records, and stand still here.
   */
  readonly paceDue: Int32Array;
  readonly paceLag: Int32Array;
  /** Intervals in force; only those of feeds ever change. */
  readonly paceWhole: Int32Array;
  readonly paceRest: Int32Array;
  readonly paceParts: Int32Array;

  /** By feed: place in its sequence of kinds, and what is left on its vehicle. */
  readonly feedTurn: Int32Array;
  readonly vehicleItems: Int32Array;

  /** A record each (records.ts). */
  readonly belts: Int32Array;
  readonly connections: Int32Array;
  readonly dividers: Int32Array;
  /** The places of all belts' rings, likewise. */
  readonly places: Int32Array;
  /** Items on the belts of each of the program's places, at `place * itemCount + item`. */
  readonly onPlaces: Int32Array;
  readonly bufferHead: Int32Array;
  readonly bufferCount: Int32Array;
  readonly bufferBorn: Int32Array;

  /** The inlet whose turn it is, counted from the merge's first. */
  readonly mergeTurn: Int32Array;
  /** 1 from the start of a cycle until its product is in the outfeed buffer. */
  readonly machineBusy: Uint8Array;

  /** What interventions change: machines held off, levels up to which infeed buffers take items; and dividers' rules. */
  readonly machineHeld: Uint8Array;
  readonly bufferLimit: Int32Array;
  /** By intervention: its tick, or WAITING or DONE (priming.ts). */
  readonly interventionDue: Int32Array;
  interventionsToCome: number;

  /** Items held now, of all kinds. */
  readonly heldInAll: number;
  /** What sums over time are worked out from (over-time.ts), as `heldTicks`, `placeTicks` and `bufferTicks`. */
  readonly heldMoment: Float64Array;
  readonly placeMoment: Float64Array;
  readonly bufferMoment: Float64Array;
  /** By machine: its state, and the first tick of it that `stateTicks` does not count yet. */
  readonly machineState: Uint8Array;
  readonly stateSince: Int32Array;
  /** By buffer: likewise of `lackTicks`; -1 where nothing is lacking. */
  readonly lackSince: Int32Array;

  readonly totals: Totals;
  readonly marks: Marks;
  readonly completions: Completions;

  /** What steps it. */
  readonly core: Core;
  /** Cycles that the core has finished, until they are taken over into `completions`. */
  readonly completionMachine: Int32Array;
  readonly completionTick: Int32Array;
}

/** Firsts and extremes. Ticks of what did not happen are -1. */
export interface Marks {
  /** By buffer: first item in, first time full. */
  readonly firstItem: Int32Array;
  readonly fullAt: Int32Array;
  /** By buffer: lowest and highest level since the last reset; a settled period resets them. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** Items held now, by kind. */
  readonly held: Float64Array;
  /** By limit on hold-up: the most that was held, and when first. */
  readonly limitPeak: Float64Array;
  readonly limitPeakTick: Int32Array;
  readonly peakHeld: number;
  readonly peakTick: number;
  readonly longestDwell: number;
  /** By kind: the longest time until a machine or an outlet took it, ticks. */
  readonly longestStay: Float64Array;
}

/** By belt: lowest count as of buffers, highest count of the whole run; the tick at which an item last left. */
export interface BeltMarks {
  readonly beltLow: Int32Array;
  readonly beltHigh: Int32Array;
  readonly beltLeftAt: Int32Array;
}

/** Every finished cycle in order: which machine, and when. */
export interface Completions {
  count: number;
  machine: Int32Array;
  tick: Int32Array;
}

/** Finished cycles that the core has room for, at least. */
const FEWEST_COMPLETIONS = 4096;
/** States that the core keeps to compare with. */
const KEPT = 2;

/** @param seed of what is left to chance */
export function initialState(program: Program, interventions = 0, seed = "1"): State {
  const { pace, feed, belt, buffer, merge, machine, limits, itemCount } = program;
  // What decides the future: first what has no times in it, then what is compared with the clock or the belts in mind.
  const address = addressesIn(program);
  const records = {
    belts: beltRecords(program, address),
    places: new Int32Array(belt.places * PLACE_INTS),
    dividers: dividerRecords(program, address),
    connections: connectionRecords(program, address),
  };
  const allows = { allows: program.connection.allows };
  const sameInts = {
    feedTurn: new Int32Array(feed.count),
    vehicleItems: new Int32Array(feed.count),
    mergeTurn: new Int32Array(merge.count),
    bufferCount: new Int32Array(buffer.count),
  };
  const sameBytes = { machineBusy: new Uint8Array(machine.count) };
  const timedInts = {
    paceDue: startPaces(program),
    paceLag: new Int32Array(pace.count),
  };

  const calendar = calendarSize(program);
  const completionRoom = Math.max(FEWEST_COMPLETIONS, machine.count);
  const ints = {
    paceWhole: pace.whole,
    paceRest: pace.rest,
    paceParts: pace.parts,
    onPlaces: new Int32Array(program.places.length * itemCount),
    bufferHead: new Int32Array(buffer.count),
    bufferBorn: new Int32Array(buffer.places),
    bufferLimit: buffer.capacity,
    stateSince: new Int32Array(machine.count).fill(1),
    lackSince: new Int32Array(buffer.count).fill(-1),
    calendarBits: new Int32Array(calendar.ticks * calendar.words),
    completionMachine: new Int32Array(completionRoom),
    completionTick: new Int32Array(completionRoom),
  };
  const bytes = {
    machineHeld: new Uint8Array(machine.count),
    machineState: new Uint8Array(machine.count).fill(STARVED),
  };
  const moments = {
    heldMoment: new Float64Array(itemCount),
    placeMoment: new Float64Array(program.places.length * itemCount),
    bufferMoment: new Float64Array(buffer.count),
  };
  const sums = { all: totalsRoom(program) };
  const markInts = {
    firstItem: new Int32Array(buffer.count).fill(-1),
    fullAt: new Int32Array(buffer.count).fill(-1),
    low: new Int32Array(buffer.count),
    high: new Int32Array(buffer.count),
    limitPeakTick: new Int32Array(limits.length),
  };
  const markSums = {
    held: new Float64Array(itemCount),
    limitPeak: new Float64Array(limits.length),
    longestStay: new Float64Array(itemCount),
  };
  const chance = chanceInts(program);
  const fixed = { ints: programInts(program, address), bytes: programBytes(program), sums: programSums(program) };

  const sameLength = bytesOf({ ...sameInts, ...sameBytes });
  const decidingLength = sameLength + bytesOf({ ...records, ...allows, ...timedInts });
  const others = { ...ints, ...bytes, ...moments, ...sums, ...markInts, ...markSums };
  const memory = new CoreMemory(
    (1 + KEPT) * decidingLength + bytesOf({ ...others, ...fixed.ints, ...fixed.bytes, ...fixed.sums, ...chance }),
  );
  memory.moveInts(records);
  memory.moveBytes(allows);
  const sameAt = memory.nextByte;
  memory.moveInts(sameInts);
  memory.moveBytes(sameBytes);
  memory.moveInts(timedInts);
  memory.nextByte += KEPT * decidingLength;
  memory.moveInts(fixed.ints);
  memory.moveInts(chance);
  memory.moveBytes(fixed.bytes);
  memory.moveSums(fixed.sums);
  memory.moveInts(ints);
  memory.moveBytes(bytes);
  memory.moveInts(markInts);
  memory.moveSums(moments);
  memory.moveSums(sums);
  memory.moveSums(markSums);
  const totals = totalsIn(program, sums.all);
  memory.nameArrays({ ...totals });
  memory.name({
    ...programNumbers(program),
    decidingAt: FIRST_BYTE,
    decidingBytes: decidingLength,
    sameAt,
    sameBytes: sameLength,
    calendarTicks: calendar.ticks,
    calendarWords: calendar.words,
    completionRoom,
    hasChance: program.random === null ? 0 : 1,
    drawAhead: AHEAD,
  });
  const draws = createDraws(program.random ?? { streams: [] }, seed);
  const core = memory.start({
    refill: (stream) => draws.refill(stream, chance.draws),
    drawOf: (stream, ticks) => draws.nextOf(stream, ticks),
  });
  core.startCalendar();
  if (program.random !== null) core.startChance();

  return {
    get tick() {
      return core.tick.value;
    },
    set tick(tick) {
      core.tick.value = tick;
    },
    get nextStep() {
      return core.nextStep.value;
    },
    set nextStep(step) {
      core.nextStep.value = step;
    },
    get heldInAll() {
      return core.heldInAll.value;
    },
    ...records,
    ...sameInts,
    ...sameBytes,
    ...timedInts,
    ...ints,
    ...bytes,
    ...moments,
    interventionDue: new Int32Array(interventions),
    interventionsToCome: interventions,
    totals,
    marks: {
      ...markInts,
      ...markSums,
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
    completions: { count: 0, machine: new Int32Array(completionRoom), tick: new Int32Array(completionRoom) },
    core,
  };
}

/** Everything is due from the start, but for the first vehicles. */
function startPaces({ pace, feed }: Program): Int32Array {
  const due = new Int32Array(pace.count);
  due.set(feed.firstVehicle, feed.count);
  return due;
}

/** A copy of the marks, and with them those of belts. */
export function marksNow({ marks, belts }: State): Marks & BeltMarks {
  return {
    ...marks,
    beltLow: beltField(belts, "low"),
    beltHigh: beltField(belts, "high"),
    beltLeftAt: beltField(belts, "leftAt"),
    firstItem: marks.firstItem.slice(),
    fullAt: marks.fullAt.slice(),
    low: marks.low.slice(),
    high: marks.high.slice(),
    held: marks.held.slice(),
    limitPeak: marks.limitPeak.slice(),
    limitPeakTick: marks.limitPeakTick.slice(),
    longestStay: marks.longestStay.slice(),
  };
}

/** Lowest and highest levels start over from the present ones. */
export function resetExtremes({ marks, bufferCount, belts }: State): void {
  for (let at = 0; at < belts.length; at += BELT_INTS) {
    belts[at + BELT.low] = belts[at + BELT.count]!;
    belts[at + BELT.high] = belts[at + BELT.count]!;
  }
  marks.low.set(bufferCount);
  marks.high.set(bufferCount);
}

/** Takes over the cycles that the core has finished. */
export function collectCompletions({ core, completions, completionMachine, completionTick }: State): void {
  const added = core.completions.value;
  const count = completions.count + added;
  if (count > completions.tick.length) {
    completions.machine = grown(completions.machine, 2 * count);
    completions.tick = grown(completions.tick, 2 * count);
  }
  completions.machine.set(completionMachine.subarray(0, added), completions.count);
  completions.tick.set(completionTick.subarray(0, added), completions.count);
  completions.count = count;
  core.completions.value = 0;
}

function grown(array: Int32Array, length: number): Int32Array {
  const longer = new Int32Array(length);
  longer.set(array);
  return longer;
}
