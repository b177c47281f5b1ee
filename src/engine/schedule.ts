/**
 * Which elements act in a tick. Most elements can do nothing in most ticks, and know until when: an item on the way, an
 * interval that is not over, a cycle under way. Each has a place in the sweep and, there, the next tick at which it may be
 * able to act; the sweep passes over those whose time has not come. A turn too many changes nothing; one too few would.
 *
 * What an element waits for without knowing the time wakes it: an item that enters its empty belt, and an item that leaves a
 * full belt into which it was refused. Whoever is refused by an element without a belt between asks again in every tick.
 */
import type { Program } from "../network/program.ts";
import type { State } from "./state.ts";

/** Beyond the ticks of any run. */
export const NEVER = 0x7fffffff;

/** @param place in the sweep */
export function wake(state: State, place: number, tick: number): void {
  if (state.wakeTick[place]! > tick) state.wakeTick[place] = tick;
}

/** After whatever the elements don't know of. */
export function wakeAll(state: State): void {
  state.wakeTick.fill(0);
}

/** The tick at which the item at a belt's head may leave; NEVER for an empty belt. */
export function headLeavesAt({ belt }: Program, state: State, b: number): number {
  if (state.beltCount[b] === 0) return NEVER;
  const ready = state.placeReady[belt.ring[b]! + state.beltHead[b]!]!;
  const due = state.paceDue[belt.exitPace[b]!]!;
  return ready > due ? ready : due;
}
