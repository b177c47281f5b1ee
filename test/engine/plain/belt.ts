/** Belts: first-in-first-out delays with room for so many items. */
import type { Program } from "../../../src/network/program.ts";
import { advanceBelt, isDue, momentOf, slotOpens } from "./pace.ts";
import type { State } from "./state.ts";

/**
 * Items travel one interval apart at least, each in a slot of its own. The entrance lets an item wait for the next slot,
 * so that a belt is loaded to its rate however unevenly items come to it: 60/min are taken out of 110/min, though every
 * second item would be 55/min.
 */
export function enterBelt(program: Program, state: State, b: number, item: number, born: number, moment: number): void {
  const { capacity, ring, entryPace, transitTicks, momentParts } = program.belt;
  const count = state.beltCount[b]!;
  const places = capacity[b]!;
  const dueTick = state.paceDue[entryPace[b]!]!;
  const slot = advanceBelt(program, state, entryPace[b]!, moment);
  let offset = state.beltHead[b]! + count;
  if (offset >= places) offset -= places;
  const place = ring[b]! + offset;
  state.placeReady[place] = (momentParts > 0 ? slot.due : Math.max(dueTick, state.tick)) + transitTicks[b]!;
  state.placeReadyLag[place] = slot.lag;
  state.placeItem[place] = item;
  state.placeBorn[place] = born;
  state.beltCount[b] = count + 1;
  state.onPlaces[program.belt.at[b]! * program.itemCount + item]! += 1;
  if (count + 1 > state.marks.beltHigh[b]!) state.marks.beltHigh[b] = count + 1;
}

/** The moment from which the belt takes an item; Infinity if not by the end of this tick. */
export function entranceOpens(program: Program, state: State, b: number): number {
  if (isFull(program, state, b)) return Number.POSITIVE_INFINITY;
  const opens = slotOpens(program, state, program.belt.entryPace[b]!);
  return state.marks.beltLeftAt[b] === state.tick ? Math.max(opens, state.freed.belts[b]!) : opens;
}

export function isFull(program: Program, state: State, b: number): boolean {
  const count = state.beltCount[b]!;
  return count >= program.belt.room[b]! && (count === program.belt.capacity[b] || isHeldUp(program, state, b));
}

/** Whether the head waits at the end; the place at the entrance is only for a belt that moves. */
function isHeldUp({ belt: { ring } }: Program, state: State, b: number): boolean {
  return state.placeReady[ring[b]! + state.beltHead[b]!]! <= state.tick;
}

/** The place of the item that may leave the belt now, or -1. */
export function readyHead(program: Program, state: State, b: number): number {
  if (state.beltCount[b] === 0) return -1;
  const place = program.belt.ring[b]! + state.beltHead[b]!;
  return state.placeReady[place]! <= state.tick && isDue(state, program.belt.exitPace[b]!) ? place : -1;
}

/** The moment from which the head, which may leave by the end of the tick, may. */
export function headComes(program: Program, state: State, b: number): number {
  const exit = program.belt.exitPace[b]!;
  return Math.max(arrival(program, state, b), momentOf(program, state, state.paceDue[exit]!, state.paceLag[exit]!));
}

function arrival(program: Program, state: State, b: number): number {
  const place = program.belt.ring[b]! + state.beltHead[b]!;
  return momentOf(program, state, state.placeReady[place]!, state.placeReadyLag[place]!);
}

export function removeHead(program: Program, state: State, b: number, moment: number): void {
  const { room, capacity, ring, exitPace } = program.belt;
  const count = state.beltCount[b]!;
  // A belt that moves has its place at the entrance; one that is held up, or has not even that, is full until now.
  const wasFull = count === capacity[b]! || (count >= room[b]! && arrival(program, state, b) < moment);
  state.freed.belts[b] = wasFull ? moment : 0;
  const head = state.beltHead[b]!;
  const item = state.placeItem[ring[b]! + head]!;
  state.onPlaces[program.belt.at[b]! * program.itemCount + item]! -= 1;
  state.beltHead[b] = head + 1 === capacity[b] ? 0 : head + 1;
  state.beltCount[b] = count - 1;
  if (count - 1 < state.marks.beltLow[b]!) state.marks.beltLow[b] = count - 1;
  state.marks.beltLeftAt[b] = state.tick;
  advanceBelt(program, state, exitPace[b]!, moment);
}
