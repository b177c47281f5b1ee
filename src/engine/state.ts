/**
 * Everything that changes in a run, in typed arrays addressed by the program's indices. What decides the future (paces,
 * belts, buffers, turns, machines) stands apart from what only counts the past (`Totals`, `Noted`, `Completions`).
 */

import type { CompiledPriming } from "../network/priming.ts";
import type { StopWhat } from "../network/random-program.ts";
import type { Core } from "./core.ts";
import type { Arrays } from "./core-arrays.ts";
import { BELT, BELT_INTS } from "./record-offsets.ts";
import { beltField } from "./records.ts";
import type { Totals } from "./totals.ts";

type Own = Arrays<"records"> &
  Arrays<"counts"> &
  Arrays<"timed"> &
  Arrays<"steered"> &
  Arrays<"booked"> &
  Arrays<"rooms">;

export interface State extends Own, Pick<Arrays<"chance">, "atGate" | "mostAtGate" | "gateTicks"> {
  /** The core's, as of the last time that it handed back: the last tick done; tick n ends n tick lengths after the start. */
  tick: number;
  /** Likewise: index of the next feed step to come into force. */
  nextStep: number;

  /** How many there were, by machine, and outages by feed. */
  readonly stops: Readonly<Record<StopWhat, Int32Array>>;

  /** By intervention: its tick, or WAITING or DONE (priming.ts). */
  readonly interventionDue: Int32Array;
  /** By intervention: how often it has been made. */
  readonly interventionTimes: Int32Array;
  interventionsToCome: number;
  /** By what they are to place: at which buffer hands stand, and what each has had of them. */
  readonly hands: Map<CompiledPriming["stock"], { at: number; readonly placed: number[] }>;

  /** Items held now, of all kinds. */
  readonly holdUpInAll: number;

  readonly totals: Totals;
  readonly noted: Noted;
  readonly completions: Completions;

  /** What steps it. */
  readonly core: Core;
  /** Gives the memory to the next run; nothing in it may be looked at any more. */
  readonly release: () => void;
  /** Samples that the core has taken, until they are taken over (samples.ts). */
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
  readonly holdUp: Int32Array;
  /** Items on belts, at `(sample * places + place) * items + item`. */
  readonly onBelts: Int32Array;
}

export interface Noted extends Arrays<"noted">, Pick<Arrays<"peaks">, "placePeak"> {
  readonly peakHoldUp: number;
  readonly peakTick: number;
  readonly longestDwell: number;
}

/** By belt: lowest count as of buffers, highest count of the whole run; the tick at which an item last left. */
export interface NotedOfBelts {
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

/** A copy of what is noted, and with it those of belts. */
export function notedNow({ noted, belts }: State): Noted & NotedOfBelts {
  return {
    ...noted,
    beltLow: beltField(belts, "low"),
    beltHigh: beltField(belts, "high"),
    beltLeftAt: beltField(belts, "leftAt"),
    firstItem: noted.firstItem.slice(),
    fullAt: noted.fullAt.slice(),
    low: noted.low.slice(),
    high: noted.high.slice(),
    placePeak: noted.placePeak.slice(),
    holdUp: noted.holdUp.slice(),
    limitPeak: noted.limitPeak.slice(),
    limitPeakTick: noted.limitPeakTick.slice(),
    longestStay: noted.longestStay.slice(),
  };
}

/** Lowest and highest levels start over from the present ones. */
export function resetExtremes({ noted, bufferCount, belts, core }: State): void {
  for (let at = 0; at < belts.length; at += BELT_INTS) {
    belts[at + BELT.low] = belts[at + BELT.count]!;
    belts[at + BELT.high] = belts[at + BELT.count]!;
  }
  noted.low.set(bufferCount);
  noted.high.set(bufferCount);
  core.resetHoldUp();
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
