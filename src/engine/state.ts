/**
 * Everything that changes in a run, in typed arrays addressed by the program's indices. What decides the future (paces,
 * belts, buffers, turns, machines) stands apart from what only counts the past (`Totals`, `Marks`, `Completions`).
 */

import type { CompiledPriming } from "../network/priming.ts";
import type { StopWhat } from "../network/random-program.ts";
import type { Core } from "./core.ts";
import { BELT, BELT_INTS, beltField } from "./records.ts";
import type { Totals } from "./totals.ts";

export interface State {
  /** The core's, as of the last time that it handed back: the last tick done; tick n ends n tick lengths after the start. */
  tick: number;
  /** Likewise: index of the next feed step to come into force. */
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

  /** How many there were, by machine, and outages by feed. */
  readonly stops: Readonly<Record<StopWhat, Int32Array>>;
  /** By feed whose gaps are left to chance: items that wait at its gate, the most that ever did, and their sum over ticks. */
  readonly atGate: Int32Array;
  readonly mostAtGate: Int32Array;
  readonly gateTicks: Float64Array;

  /** What interventions change: machines held off, levels up to which infeed buffers take items; and dividers' rules. */
  readonly machineHeld: Uint8Array;
  readonly bufferLimit: Int32Array;
  /** By intervention: its tick, or WAITING or DONE (priming.ts). */
  readonly interventionDue: Int32Array;
  /** By intervention: how often it has been made. */
  readonly interventionTimes: Int32Array;
  interventionsToCome: number;
  /** By what they are to place: at which buffer hands stand, and what each has had of them. */
  readonly hands: Map<CompiledPriming["stock"], { at: number; readonly placed: number[] }>;

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
  /** Gives the memory to the next run; nothing in it may be looked at any more. */
  readonly release: () => void;
  /** Cycles that the core has finished, until they are taken over into `completions`. */
  readonly completionMachine: Int32Array;
  readonly completionTick: Int32Array;
  /** Likewise samples, until they are taken over (samples.ts). */
  readonly batch: SampleArrays;
}

/** Samples one after the other. */
export interface SampleArrays {
  readonly tick: Int32Array;
  /** At `sample * buffers + buffer`. */
  readonly level: Int32Array;
  /** Ticks in each state so far, at `(sample * machines + machine) * STATE_COUNT + state`. */
  readonly stateTicks: Int32Array;
  /** Items held, at `sample * items + item`. */
  readonly held: Int32Array;
  /** Items on belts, at `(sample * places + place) * items + item`. */
  readonly onBelts: Int32Array;
}

/** Firsts and extremes. Ticks of what did not happen are -1. */
export interface Marks {
  /** By buffer: first item in, first time full. */
  readonly firstItem: Int32Array;
  readonly fullAt: Int32Array;
  /** By buffer: lowest and highest level since the last reset; a settled period resets them. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** By hold-up place: the most at the end of a tick, on belts as in `onPlaces`, then by group of buffers. */
  readonly placePeak: Int32Array;
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

/**
 * Every finished cycle in order: which machine, and when. In a plant without machines every item that leaves, and `machine` is
 * the outlet's index.
 */
export interface Completions {
  count: number;
  machine: Int32Array;
  tick: Int32Array;
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
    placePeak: marks.placePeak.slice(),
    held: marks.held.slice(),
    limitPeak: marks.limitPeak.slice(),
    limitPeakTick: marks.limitPeakTick.slice(),
    longestStay: marks.longestStay.slice(),
  };
}

/** Lowest and highest levels start over from the present ones. */
export function resetExtremes({ marks, bufferCount, belts, core }: State): void {
  for (let at = 0; at < belts.length; at += BELT_INTS) {
    belts[at + BELT.low] = belts[at + BELT.count]!;
    belts[at + BELT.high] = belts[at + BELT.count]!;
  }
  marks.low.set(bufferCount);
  marks.high.set(bufferCount);
  core.resetHeld();
}

/** After the core has done ticks: takes over its clock and the cycles that it has finished. */
export function takeOver(state: State): void {
  const { core, completions, completionMachine, completionTick } = state;
  state.tick = core.tick.value;
  state.nextStep = core.nextStep.value;
  const added = core.completions.value;
  if (added === 0) return;
  const count = completions.count + added;
  if (count > completions.tick.length) {
    completions.machine = grown(completions.machine, 2 * count);
    completions.tick = grown(completions.tick, 2 * count);
  }
  for (let i = 0; i < added; i++) {
    completions.machine[completions.count + i] = completionMachine[i]!;
    completions.tick[completions.count + i] = completionTick[i]!;
  }
  completions.count = count;
  core.completions.value = 0;
}

function grown(array: Int32Array, length: number): Int32Array {
  const longer = new Int32Array(length);
  longer.set(array);
  return longer;
}
