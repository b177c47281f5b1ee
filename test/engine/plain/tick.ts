/**
 * The plain sweep, which the engine must equal: one tick, one sweep from the outlets back to the feeds, in which every
 * element acts and everything is counted. (The files of this folder are the engine's as they were before it learned to pass
 * over elements; what a tick does is changed here and there together.)
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
 * the network lists them, an even divider's or merge's from the one whose turn it is.
 */
import { DIVIDER, FEED, MACHINE, MERGE, OUTLET, type Program } from "../../../src/network/program.ts";
import { readyHead, removeHead } from "./belt.ts";
import { beginFeedSteps, pullFeed, turnFeed, turnVehicles } from "./feed.ts";
import { divide, leavePlant, offer } from "./hand-over.ts";
import { countOverLimits } from "./limits.ts";
import { turnMachine } from "./machine.ts";
import type { State } from "./state.ts";

export function advanceOneTick(program: Program, state: State): void {
  state.tick++;
  beginFeedSteps(program, state);
  turnVehicles(program, state);
  const { sweepKind, sweepIndex } = program;
  for (let i = 0; i < sweepKind.length; i++) {
    const element = sweepIndex[i]!;
    switch (sweepKind[i]) {
      case OUTLET:
        turnOutlet(program, state, element);
        break;
      case MACHINE:
        turnMachine(program, state, element);
        break;
      case DIVIDER:
        turnDivider(program, state, element);
        break;
      case MERGE:
        turnMerge(program, state, element);
        break;
      case FEED:
        turnFeed(program, state, element);
        break;
    }
  }
  countHeld(program, state);
}

function turnOutlet(program: Program, state: State, outlet: number): void {
  const { start, values } = program.outlet.inletBelts;
  for (let i = start[outlet]!; i < start[outlet + 1]!; i++) {
    const b = values[i]!;
    const place = readyHead(program, state, b);
    if (place >= 0 && leavePlant(program, state, outlet, state.placeItem[place]!, state.placeBorn[place]!)) {
      removeHead(program, state, b);
    }
  }
}

function turnDivider(program: Program, state: State, d: number): void {
  const b = program.divider.inletBelt[d]!;
  if (b < 0) return;
  const place = readyHead(program, state, b);
  if (place >= 0 && divide(program, state, d, state.placeItem[place]!, state.placeBorn[place]!)) {
    removeHead(program, state, b);
  }
}

function turnMerge(program: Program, state: State, g: number): void {
  const { inlets, even } = program.merge;
  const first = inlets.start[g]!;
  const count = inlets.start[g + 1]! - first;
  const turn = state.mergeTurn[g]!;
  for (let i = 0; i < count; i++) {
    const inlet = (turn + i) % count;
    if (passOn(program, state, g, first + inlet) && even[g] === 1) state.mergeTurn[g] = (inlet + 1) % count;
  }
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

function countHeld(program: Program, state: State): void {
  const { noted, totals } = state;
  let held = 0;
  for (let item = 0; item < program.itemCount; item++) {
    held += noted.holdUp[item]!;
    totals.holdUpTicks[item]! += noted.holdUp[item]!;
  }
  addEach(totals.placeTicks, state.onPlaces);
  addEach(totals.bufferTicks, state.bufferCount);
  if (held > noted.peakHoldUp) {
    noted.peakHoldUp = held;
    noted.peakTick = state.tick;
  }
  countOverLimits(program, state);
}

/** A function of its own, for arrays of one type only: it passes every place and buffer in every tick. */
function addEach(sums: Float64Array, counts: Int32Array): void {
  for (let i = 0; i < counts.length; i++) sums[i]! += counts[i]!;
}
