/** Feeds: what they release, when, and the vehicles they unload. */
import type { Program } from "../../../src/network/program.ts";
import { DIVIDER } from "../../../src/network/program.ts";
import { isHeldUp } from "./belt.ts";
import { letsIn, offer } from "./hand-over.ts";
import { addInterval, advanceFeed, isDue } from "./pace.ts";
import type { State } from "./state.ts";

export function turnFeed(program: Program, state: State, f: number): void {
  const connection = program.feed.connection[f]!;
  if (connection >= 0 && program.feed.pulled[f] === 0) release(program, state, f, connection, connection);
}

/** @param entry a connection without a belt by which the merge takes from the feed */
export function pullFeed(program: Program, state: State, f: number, entry: number, outlet: number): boolean {
  const isReleased = release(program, state, f, entry, outlet);
  if (isReleased) state.totals.passed[entry]! += 1;
  return isReleased;
}

/** Paces of feeds come first, so a feed's index is its pace's. */
function release(program: Program, state: State, f: number, entry: number, connection: number): boolean {
  if (state.chance.isGated(f)) return admit(program, state, f, entry, connection);
  if (state.paceParts[f] === 0 || !isDue(state, f)) return false;
  const isBatch = program.feed.batchItems[f]! > 0;
  if (isBatch && state.vehicleItems[f] === 0) return false;
  const item = nextItem(program, state, f);
  if (!letsIn(program, entry, item) || !offer(program, state, connection, item, state.tick)) {
    state.totals.feedHeldTicks[f]! += 1;
    return false;
  }
  advanceFeed(state, f);
  send(program, state, f, item);
  return true;
}

/**
 * Where gaps are left to chance, items come as they will and wait at the gate for the belt's next slots. Only a line that is
 * held up holds the feed: what is still to come is then put off, tick by tick.
 */
function admit(program: Program, state: State, f: number, entry: number, connection: number): boolean {
  const { chance, totals, atGate, gateTicks } = state;
  const most = program.feed.batchItems[f]! > 0 ? state.vehicleItems[f]! : Number.POSITIVE_INFINITY;
  while (state.paceParts[f]! > 0 && state.paceDue[f]! + chance.late[f]! <= state.tick && atGate[f]! < most) {
    atGate[f]! += 1;
    nextGap(state, f, state.paceDue[f]!);
    chance.late[f] = chance.lateness(f);
  }
  if (atGate[f] === 0) return false;
  const item = nextItem(program, state, f);
  const isAdmitted = letsIn(program, entry, item) && offer(program, state, connection, item, state.tick);
  if (isAdmitted) {
    atGate[f]! -= 1;
    send(program, state, f, item);
  } else if (!letsIn(program, entry, item) || !waitsForSlot(program, state, connection, item)) {
    totals.feedHeldTicks[f]! += 1;
    state.paceDue[f]! += 1;
    if (isDue(state, program.feed.count + f)) chance.vehicleHeld[f]! += 1;
  }
  gateTicks[f]! += atGate[f]!;
  return isAdmitted;
}

/** The next item comes a drawn gap, or else an interval, after `from`. */
function nextGap(state: State, f: number, from: number): void {
  const gap = state.chance.gap(f, state.paceWhole[f]! + state.paceRest[f]! / state.paceParts[f]!);
  if (gap === null) addInterval(state, f);
  else {
    state.paceDue[f] = from + gap;
    state.paceLag[f] = 0;
  }
}

/** For a refused item: whether some belt that moves would take it in its next slot. */
function waitsForSlot(program: Program, state: State, connection: number, item: number): boolean {
  if (!letsIn(program, connection, item)) return false;
  const { belt, toKind, toIndex } = program.connection;
  if (belt[connection]! >= 0) return !isHeldUp(program, state, belt[connection]!);
  if (toKind[connection] !== DIVIDER) return false;
  const { start, values } = program.divider.outlets;
  const d = toIndex[connection]!;
  return [...values.subarray(start[d], start[d + 1])].some((outlet) => waitsForSlot(program, state, outlet, item));
}

function send(program: Program, state: State, f: number, item: number): void {
  const isBatch = program.feed.batchItems[f]! > 0;
  const { start } = program.feed.sequence;
  const next = state.feedTurn[f]! + 1;
  state.feedTurn[f] = next === start[f + 1]! - start[f]! ? 0 : next;
  if (isBatch) state.vehicleItems[f]! -= 1;
  state.totals.fed[f]! += 1;
  state.totals.fedItems[item]! += 1;
  state.noted.holdUp[item]! += 1;
}

function nextItem(program: Program, state: State, f: number): number {
  const { start, values } = program.feed.sequence;
  return values[start[f]! + state.feedTurn[f]!]!;
}

/**
 * Before the sweep: a vehicle whose time has come takes the place of an empty one, and its first item is due one interval
 * later. One that was waiting is unloaded in the rhythm of the one before, so that rounding to ticks never adds up; if it
 * has waited less than an interval between vehicles, it does not put off those after it. Where chance has a part in the feed,
 * only what the line held up meanwhile does.
 */
export function turnVehicles(program: Program, state: State): void {
  const { count, batchItems } = program.feed;
  for (let f = 0; f < count; f++) {
    const vehicle = count + f;
    if (batchItems[f] === 0 || !isDue(state, vehicle)) continue;
    const hasWaited = state.paceDue[vehicle]! < state.tick;
    if (state.vehicleItems[f]! > 0) {
      if (hasWaited) state.totals.vehicleWaitTicks[f]! += 1;
      continue;
    }
    if (state.chance.isGated(f)) {
      state.paceDue[vehicle]! += state.chance.vehicleHeld[f]!;
      state.chance.vehicleHeld[f] = 0;
      addInterval(state, vehicle);
    } else advanceFeed(state, vehicle);
    state.vehicleItems[f] = batchItems[f]!;
    if (!hasWaited) begin(state, f, state.tick);
  }
}

function begin(state: State, f: number, from: number): void {
  if (state.chance.hasGaps(f) && state.paceParts[f]! > 0) nextGap(state, f, from);
  else startSchedule(state, f, from);
}

function startSchedule(state: State, f: number, from: number): void {
  const rest = state.paceRest[f]!;
  state.paceDue[f] = from + state.paceWhole[f]! + (rest > 0 ? 1 : 0);
  state.paceLag[f] = rest > 0 ? state.paceParts[f]! - rest : 0;
}

/**
 * A step begins the feed's schedule anew, at a whole tick: its first item is due one interval later, and whatever part of an
 * item was under way is dropped.
 */
export function beginFeedSteps(program: Program, state: State): void {
  const { steps } = program.feed;
  for (let step = steps[state.nextStep]; step && step.tick < state.tick; step = steps[state.nextStep]) {
    state.nextStep++;
    state.paceWhole[step.feed] = step.whole;
    state.paceRest[step.feed] = step.rest;
    state.paceParts[step.feed] = step.parts;
    begin(state, step.feed, step.tick);
  }
}
