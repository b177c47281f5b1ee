/**
 * Everything that changes in a run, in typed arrays addressed by the program's indices. What decides the future (paces,
 * belts, buffers, turns, machines) stands apart from what only counts the past (`Totals`, `Noted`, `Completions`).
 */

import type { Program } from "../../../src/network/program.ts";
import { type FeedChance, feedChance } from "./chance.ts";

/** States of a machine, as indices into `Totals.stateTicks`. */
export const RUNNING = 0;
export const STARVED = 1;
export const BLOCKED = 2;
export const DOWN = 3;
export const HELD = 4;
export const STATE_COUNT = 5;

export interface State {
  /** The last tick done; tick n ends n tick lengths after the start. */
  tick: number;
  /** Index of the next feed step to come into force. */
  nextStep: number;

  /** The tick at which an element may act again: the ideal time rounded up, and by how many parts it was rounded. */
  readonly paceDue: Int32Array;
  readonly paceLag: Int32Array;
  /** Intervals in force; only those of feeds ever change. */
  readonly paceWhole: Int32Array;
  readonly paceRest: Int32Array;
  readonly paceParts: Int32Array;

  /** By feed: place in its sequence of kinds, and what is left on its vehicle. */
  readonly feedTurn: Int32Array;
  readonly vehicleItems: Int32Array;

  /** By feed whose gaps are left to chance: items that wait at its gate. */
  readonly atGate: Int32Array;
  readonly gateTicks: Float64Array;
  readonly chance: FeedChance;

  readonly beltHead: Int32Array;
  readonly beltCount: Int32Array;
  /** Items on the belts of each of the program's places, at `place * itemCount + item`. */
  readonly onPlaces: Int32Array;
  /** By place in the belts' rings: the tick from which the item may leave, its kind, the tick it was fed or made. */
  readonly placeReady: Int32Array;
  readonly placeItem: Uint8Array;
  readonly placeBorn: Int32Array;

  readonly bufferHead: Int32Array;
  readonly bufferCount: Int32Array;
  readonly bufferBorn: Int32Array;

  /** The outlet or inlet whose turn it is, counted from the element's first. */
  readonly dividerTurn: Int32Array;
  readonly mergeTurn: Int32Array;
  /** 1 from the start of a cycle until its product is in the outfeed buffer. */
  readonly machineBusy: Uint8Array;

  /** What interventions change: machines held off, levels up to which infeed buffers take items, dividers' rules. */
  readonly machineHeld: Uint8Array;
  readonly bufferLimit: Int32Array;
  readonly dividerRule: Uint8Array;
  /** By intervention: its tick, or WAITING or DONE (priming.ts). */
  readonly interventionDue: Int32Array;
  interventionsToCome: number;

  readonly totals: Totals;
  readonly noted: Noted;
  readonly completions: Completions;
}

/** Running totals, all in one array, so that whole periods can be added at once. */
export interface Totals {
  readonly all: Float64Array;
  /** Items a feed has released, by feed. */
  readonly fed: Float64Array;
  /** By feed: ticks with an item due that the line did not take, and with a vehicle waiting for the one before it. */
  readonly feedHeldTicks: Float64Array;
  readonly vehicleWaitTicks: Float64Array;
  /** Items that feeds have released, by kind. */
  readonly fedItems: Float64Array;
  /** Items passed, by connection. */
  readonly passed: Float64Array;
  /** Items by kind: placed before the start, taken by cycles, made by cycles, left the plant. */
  readonly placed: Float64Array;
  readonly taken: Float64Array;
  readonly made: Float64Array;
  readonly left: Float64Array;
  /** Items that outlets took, at `outlet * kinds + kind`. */
  readonly outletItems: Float64Array;
  /** Finished cycles, by machine. */
  readonly cycles: Float64Array;
  /** At `machine * STATE_COUNT + state`. */
  readonly stateTicks: Float64Array;
  /** By buffer: ticks for which its machine was starved and it lacked items, or blocked and it lacked room. */
  readonly lackTicks: Float64Array;
  /** Sum over ticks of the items held at the tick's end, by kind. */
  readonly holdUpTicks: Float64Array;
  /** By kind: ticks between feed (or make) and take, summed over items taken. */
  readonly dwellTicks: Float64Array;
  /** By kind: items taken by a machine or an outlet after longer than their limit. */
  readonly overDwell: Float64Array;
  /** By limit on hold-up: ticks for which more was held. One entry: ticks for which any was exceeded. */
  readonly overLimitTicks: Float64Array;
  readonly overAnyTicks: Float64Array;
  /** By limit on hold-up, and by kind for dwell: what is beyond the limit, items times ticks. */
  readonly overLimitItemTicks: Float64Array;
  readonly overDwellTicks: Float64Array;
  /** As `holdUpTicks`, by place and kind as `onPlaces`, and by buffer. */
  readonly placeTicks: Float64Array;
  readonly bufferTicks: Float64Array;
}

/** Firsts and extremes. Ticks of what did not happen are -1. */
export interface Noted {
  /** By buffer: first item in, first time full. */
  readonly firstItem: Int32Array;
  readonly fullAt: Int32Array;
  /** By buffer: lowest and highest level since the last reset; a settled period resets them. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** By belt: lowest count likewise, highest count of the whole run; the tick at which an item last left. */
  readonly beltLow: Int32Array;
  readonly beltHigh: Int32Array;
  readonly beltLeftAt: Int32Array;
  /** Items held now, by kind. */
  readonly holdUp: Float64Array;
  /** By limit on hold-up: the most that was held, and when first. */
  readonly limitPeak: Float64Array;
  readonly limitPeakTick: Int32Array;
  peakHoldUp: number;
  peakTick: number;
  longestDwell: number;
  /** By kind: the longest time until a machine or an outlet took it, ticks. */
  readonly longestStay: Float64Array;
}

/** Every finished cycle in order: which machine, and when. */
export interface Completions {
  count: number;
  machine: Int32Array;
  tick: Int32Array;
}

export function initialState(program: Program, interventions = 0, seed = "1"): State {
  const { pace, feed, belt, buffer, divider, merge, machine, limits, places } = program;
  const firstRoom = 1024;
  return {
    tick: 0,
    nextStep: 0,
    paceDue: startPaces(program),
    paceLag: new Int32Array(pace.count),
    paceWhole: pace.whole.slice(),
    paceRest: pace.rest.slice(),
    paceParts: pace.parts.slice(),
    feedTurn: new Int32Array(feed.count),
    vehicleItems: new Int32Array(feed.count),
    atGate: new Int32Array(feed.count),
    gateTicks: new Float64Array(feed.count),
    chance: feedChance(program, seed),
    beltHead: new Int32Array(belt.count),
    beltCount: new Int32Array(belt.count),
    onPlaces: new Int32Array(places.length * program.itemCount),
    placeReady: new Int32Array(belt.places),
    placeItem: new Uint8Array(belt.places),
    placeBorn: new Int32Array(belt.places),
    bufferHead: new Int32Array(buffer.count),
    bufferCount: new Int32Array(buffer.count),
    bufferBorn: new Int32Array(buffer.places),
    dividerTurn: new Int32Array(divider.count),
    mergeTurn: new Int32Array(merge.count),
    machineBusy: new Uint8Array(machine.count),
    machineHeld: new Uint8Array(machine.count),
    bufferLimit: buffer.capacity.slice(),
    dividerRule: divider.rule.slice(),
    interventionDue: new Int32Array(interventions),
    interventionsToCome: interventions,
    totals: emptyTotals(program),
    noted: {
      firstItem: new Int32Array(buffer.count).fill(-1),
      fullAt: new Int32Array(buffer.count).fill(-1),
      low: new Int32Array(buffer.count),
      high: new Int32Array(buffer.count),
      beltLow: new Int32Array(belt.count),
      beltHigh: new Int32Array(belt.count),
      beltLeftAt: new Int32Array(belt.count).fill(-1),
      holdUp: new Float64Array(program.itemCount),
      limitPeak: new Float64Array(limits.length),
      limitPeakTick: new Int32Array(limits.length),
      peakHoldUp: 0,
      peakTick: 0,
      longestDwell: 0,
      longestStay: new Float64Array(program.itemCount),
    },
    completions: { count: 0, machine: new Int32Array(firstRoom), tick: new Int32Array(firstRoom) },
  };
}

/** Everything is due from the start, but for the first vehicles. */
function startPaces({ pace, feed }: Program): Int32Array {
  const due = new Int32Array(pace.count);
  due.set(feed.firstVehicle, feed.count);
  return due;
}

function emptyTotals({ feed, connection, machine, buffer, outlet, limits, places, itemCount }: Program): Totals {
  const lengths = {
    fed: feed.count,
    feedHeldTicks: feed.count,
    vehicleWaitTicks: feed.count,
    fedItems: itemCount,
    passed: connection.count,
    placed: itemCount,
    taken: itemCount,
    made: itemCount,
    left: itemCount,
    outletItems: outlet.count * itemCount,
    cycles: machine.count,
    stateTicks: machine.count * STATE_COUNT,
    lackTicks: buffer.count,
    holdUpTicks: itemCount,
    dwellTicks: itemCount,
    overDwell: itemCount,
    overLimitTicks: limits.length,
    overAnyTicks: 1,
    overLimitItemTicks: limits.length,
    overDwellTicks: itemCount,
    placeTicks: places.length * itemCount,
    bufferTicks: buffer.count,
  };
  const all = new Float64Array(Object.values(lengths).reduce((sum, length) => sum + length, 0));
  let next = 0;
  const view = (length: number): Float64Array => {
    next += length;
    return all.subarray(next - length, next);
  };
  return {
    all,
    fed: view(lengths.fed),
    feedHeldTicks: view(lengths.feedHeldTicks),
    vehicleWaitTicks: view(lengths.vehicleWaitTicks),
    fedItems: view(lengths.fedItems),
    passed: view(lengths.passed),
    placed: view(lengths.placed),
    taken: view(lengths.taken),
    made: view(lengths.made),
    left: view(lengths.left),
    outletItems: view(lengths.outletItems),
    cycles: view(lengths.cycles),
    stateTicks: view(lengths.stateTicks),
    lackTicks: view(lengths.lackTicks),
    holdUpTicks: view(lengths.holdUpTicks),
    dwellTicks: view(lengths.dwellTicks),
    overDwell: view(lengths.overDwell),
    overLimitTicks: view(lengths.overLimitTicks),
    overAnyTicks: view(lengths.overAnyTicks),
    overLimitItemTicks: view(lengths.overLimitItemTicks),
    overDwellTicks: view(lengths.overDwellTicks),
    placeTicks: view(lengths.placeTicks),
    bufferTicks: view(lengths.bufferTicks),
  };
}

/** A copy of the totals, or, given earlier ones, what was added since. */
export function copyTotals(program: Program, totals: Totals, since?: Totals): Totals {
  const copy = emptyTotals(program);
  copy.all.set(totals.all);
  if (since) for (let i = 0; i < copy.all.length; i++) copy.all[i]! -= since.all[i]!;
  return copy;
}

/** Lowest and highest levels start over from the present ones. */
export function resetExtremes({ noted, bufferCount, beltCount }: State): void {
  noted.beltLow.set(beltCount);
  noted.beltHigh.set(beltCount);
  noted.low.set(bufferCount);
  noted.high.set(bufferCount);
}

/** Called between ticks, so that no tick allocates: room for one more cycle of every machine. */
export function reserveCompletions(completions: Completions, machines: number): void {
  if (completions.count + machines <= completions.tick.length) return;
  const room = 2 * (completions.tick.length + machines);
  const grown = (old: Int32Array): Int32Array => {
    const array = new Int32Array(room);
    array.set(old);
    return array;
  };
  completions.machine = grown(completions.machine);
  completions.tick = grown(completions.tick);
}
