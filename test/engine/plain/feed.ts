/** Feeds: what they release, when, and the vehicles they unload. */
import type { Program } from "../../../src/network/program.ts";
import { letsIn, offer } from "./hand-over.ts";
import { advanceFeed, isDue } from "./pace.ts";
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
  if (state.paceParts[f] === 0 || !isDue(state, f)) return false;
  const isBatch = program.feed.batchItems[f]! > 0;
  if (isBatch && state.vehicleItems[f] === 0) return false;
  const item = nextItem(program, state, f);
  if (!letsIn(program, entry, item) || !offer(program, state, connection, item, state.tick)) {
    state.totals.feedHeldTicks[f]! += 1;
    return false;
  }
  advanceFeed(state, f);
  const { start } = program.feed.sequence;
  const next = state.feedTurn[f]! + 1;
  state.feedTurn[f] = next === start[f + 1]! - start[f]! ? 0 : next;
  if (isBatch) state.vehicleItems[f]! -= 1;
  state.totals.fed[f]! += 1;
  state.totals.fedItems[item]! += 1;
  state.marks.held[item]! += 1;
  return true;
}

function nextItem(program: Program, state: State, f: number): number {
  const { start, values } = program.feed.sequence;
  return values[start[f]! + state.feedTurn[f]!]!;
}

/**
 * Before the sweep: a vehicle whose time has come takes the place of an empty one, and its first item is due one interval
 * later. One that was waiting is unloaded in the rhythm of the one before, so that rounding to ticks never adds up; if it
 * has waited less than an interval between vehicles, it does not put off those after it.
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
    advanceFeed(state, vehicle);
    state.vehicleItems[f] = batchItems[f]!;
    if (!hasWaited) startSchedule(state, f, state.tick);
  }
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
    startSchedule(state, step.feed, step.tick);
  }
}
