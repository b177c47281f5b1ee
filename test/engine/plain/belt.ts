/** Belts: first-in-first-out delays with room for so many items. */
import type { Program } from "../../../src/network/program.ts";
import { advancePace, isDue, previousIsDue } from "./pace.ts";
import type { State } from "./state.ts";

/**
 * Items travel one interval apart at least, each in a slot of its own. The entrance lets an item wait for the next slot,
 * so that a belt is loaded to its rate however unevenly items come to it: 60/min are taken out of 110/min, though every
 * second item would be 55/min.
 */
export function enterBelt(program: Program, state: State, b: number, item: number, born: number): boolean {
  const { capacity, ring, entryPace, transitTicks } = program.belt;
  const pace = entryPace[b]!;
  const count = state.beltCount[b]!;
  const places = capacity[b]!;
  const slot = state.paceDue[pace]!;
  if (isFull(program, state, b)) return false;
  if (!previousIsDue(state, pace)) return false;
  advancePace(state, pace);
  let offset = state.beltHead[b]! + count;
  if (offset >= places) offset -= places;
  const place = ring[b]! + offset;
  state.placeReady[place] = Math.max(slot, state.tick) + transitTicks[b]!;
  state.placeItem[place] = item;
  state.placeBorn[place] = born;
  state.beltCount[b] = count + 1;
  state.onPlaces[program.belt.at[b]! * program.itemCount + item]! += 1;
  if (count + 1 > state.noted.beltHigh[b]!) state.noted.beltHigh[b] = count + 1;
  return true;
}

function isFull(program: Program, state: State, b: number): boolean {
  return state.beltCount[b] === program.belt.capacity[b] || isHeldUp(program, state, b);
}

/** Full, and its head waits at the end; the place at the entrance is only for a belt that moves. */
export function isHeldUp({ belt: { ring, room } }: Program, state: State, b: number): boolean {
  return state.beltCount[b]! >= room[b]! && state.placeReady[ring[b]! + state.beltHead[b]!]! <= state.tick;
}

/** The place of the item that may leave the belt now, or -1. */
export function readyHead(program: Program, state: State, b: number): number {
  if (state.beltCount[b] === 0) return -1;
  const place = program.belt.ring[b]! + state.beltHead[b]!;
  return state.placeReady[place]! <= state.tick && isDue(state, program.belt.exitPace[b]!) ? place : -1;
}

export function removeHead(program: Program, state: State, b: number): void {
  const head = state.beltHead[b]!;
  const item = state.placeItem[program.belt.ring[b]! + head]!;
  state.onPlaces[program.belt.at[b]! * program.itemCount + item]! -= 1;
  const next = head + 1;
  state.beltHead[b] = next === program.belt.capacity[b] ? 0 : next;
  const count = state.beltCount[b]! - 1;
  state.beltCount[b] = count;
  if (count < state.noted.beltLow[b]!) state.noted.beltLow[b] = count;
  state.noted.beltLeftAt[b] = state.tick;
  advancePace(state, program.belt.exitPace[b]!);
}
