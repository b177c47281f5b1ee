/**
 * One tick: one sweep from the outlets back to the feeds.
 *
 * First feed steps and vehicles whose time has come take effect. Then each element acts once, after all that it feeds, so
 * that room made downstream is usable upstream within the tick. In its turn
 *
 *  - an outlet takes what has reached the head of its belts;
 *  - a machine hands products over, finishes a cycle, starts the next, then lets its infeed take from its belts
 *    (finish before start: a cycle may follow without a gap; start before take: the place it frees is usable at once);
 *  - a divider or merge passes on at most one item from each of its inlets;
 *  - a feed releases an item when its schedule says so and the line takes it.
 *
 * Ties fall in file order: a divider's outlets, a merge's inlets and a machine's belts are tried in the order in which
 * the network lists them, an even divider's or merge's from the one whose turn it is. Elements that cannot act yet are
 * passed over (schedule.ts).
 */
import { DIVIDER, FEED, MACHINE, MERGE, OUTLET, type Program } from "../network/program.ts";
import { readyHead, removeHead } from "./belt.ts";
import { BETWEEN_TICKS, NEVER } from "./calendar.ts";
import { beginFeedSteps, nextRelease, pullFeed, turnFeed, turnVehicles } from "./feed.ts";
import { divide, leavePlant, offer, turnAfter } from "./hand-over.ts";
import { countOverLimits } from "./limits.ts";
import { turnMachine } from "./machine.ts";
import { bookTotals } from "./over-time.ts";
import { dividerOpensAt, opensAt } from "./refusal.ts";
import { headLeavesAt, wake, wakeAll } from "./schedule.ts";
import type { State } from "./state.ts";

/** A tick by itself, with a turn for every element and the totals up to date after it. */
export function advanceOneTick(program: Program, state: State): void {
  wakeAll(program, state);
  sweep(program, state);
  bookTotals(state);
}

/** The next tick. */
export function sweep(program: Program, state: State): void {
  const { calendar } = state;
  const { bits, words } = calendar;
  const tick = state.tick + 1;
  state.tick = tick;
  calendar.place = -1;
  beginFeedSteps(program, state);
  if (program.feed.hasVehicles) turnVehicles(program, state);
  const first = (tick & (calendar.ticks - 1)) * words;
  for (let word = 0; word < words; word++) {
    // Looked at anew after each turn, which may enter others for this tick.
    for (let entered = bits[first + word]!; entered !== 0; entered = bits[first + word]!) {
      const lowest = entered & -entered;
      bits[first + word] = entered ^ lowest;
      const place = 32 * word + 31 - Math.clz32(lowest);
      calendar.place = place;
      wake(state, place, turn(program, state, place));
    }
  }
  calendar.place = BETWEEN_TICKS;
  if (state.heldInAll > state.marks.peakHeld) {
    state.marks.peakHeld = state.heldInAll;
    state.marks.peakTick = tick;
  }
  countOverLimits(program, state);
}

/** @returns the next tick at which the element may be able to act */
function turn(program: Program, state: State, place: number): number {
  const element = program.sweepIndex[place]!;
  switch (program.sweepKind[place]) {
    case OUTLET:
      return turnOutlet(program, state, element);
    case MACHINE:
      return turnMachine(program, state, element);
    case DIVIDER:
      return turnDivider(program, state, element);
    case MERGE:
      return turnMerge(program, state, element);
    case FEED:
      return turnFeed(program, state, element);
    default:
      return NEVER;
  }
}

function turnOutlet(program: Program, state: State, outlet: number): number {
  const { start, values } = program.outlet.inletBelts;
  let next = NEVER;
  for (let i = start[outlet]!; i < start[outlet + 1]!; i++) {
    const b = values[i]!;
    const place = readyHead(program, state, b);
    if (place >= 0) {
      if (!leavePlant(program, state, outlet, state.placeItem[place]!, state.placeBorn[place]!)) continue;
      removeHead(program, state, b);
    }
    next = Math.min(next, headLeavesAt(program, state, b));
  }
  return next;
}

function turnDivider(program: Program, state: State, d: number): number {
  const b = program.divider.inletBelt[d]!;
  if (b < 0) return NEVER;
  const place = readyHead(program, state, b);
  if (place >= 0) {
    const item = state.placeItem[place]!;
    if (!divide(program, state, d, item, state.placeBorn[place]!)) return dividerOpensAt(program, state, d, item);
    removeHead(program, state, b);
  }
  return headLeavesAt(program, state, b);
}

function turnMerge(program: Program, state: State, g: number): number {
  const { inlets, even } = program.merge;
  const first = inlets.start[g]!;
  const count = inlets.start[g + 1]! - first;
  let inlet = state.mergeTurn[g]!;
  for (let tried = 0; tried < count; tried++) {
    const isPassed = passOn(program, state, g, first + inlet);
    inlet = turnAfter(inlet, count);
    if (isPassed && even[g] === 1) state.mergeTurn[g] = inlet;
  }
  let next = NEVER;
  for (let i = first; i < first + count; i++) next = Math.min(next, nextPass(program, state, g, i));
  return next;
}

/** @param inlet index into the merges' list of inlets */
function passOn(program: Program, state: State, g: number, inlet: number): boolean {
  const { inlets, inletFeed, outlet } = program.merge;
  const connection = inlets.values[inlet]!;
  const feed = inletFeed[inlet]!;
  if (feed >= 0) return pullFeed(program, state, feed, connection, outlet[g]!);
  const b = program.connection.belt[connection]!;
  const place = readyHead(program, state, b);
  if (place < 0) return false;
  if (!offer(program, state, outlet[g]!, state.placeItem[place]!, state.placeBorn[place]!)) return false;
  removeHead(program, state, b);
  return true;
}

/** After a turn: the next tick at which an item may pass from the inlet. */
function nextPass(program: Program, state: State, g: number, inlet: number): number {
  const { inlets, inletFeed, outlet } = program.merge;
  const feed = inletFeed[inlet]!;
  if (feed >= 0) return nextRelease(program, state, feed);
  const b = program.connection.belt[inlets.values[inlet]!]!;
  const place = readyHead(program, state, b);
  return place < 0 ? headLeavesAt(program, state, b) : opensAt(program, state, outlet[g]!, state.placeItem[place]!);
}
