/**
 * Which elements have a turn in a tick. Most elements can do nothing in most ticks, and know until when: an item on the way,
 * an interval that is not over, a cycle under way. Each is entered for the next tick at which it may be able to act, in a
 * calendar of the ticks to come: a bit for each place in the sweep. A turn too many changes nothing; one too few would.
 *
 * What an element waits for without knowing the time enters it again: an item that comes onto its empty belt, and an item that
 * leaves a full belt into which it was refused. Whoever is refused by an element without a belt between asks again in every
 * tick.
 */
import type { Program } from "../network/program.ts";
import { NEVER } from "./calendar.ts";
import type { State } from "./state.ts";

/** @param tick from which on the element may be able to act: in this one, if its turn is still to come, else in the next */
export function wake(state: State, place: number, tick: number): void {
  if (tick === NEVER) return;
  const { calendar, tick: now } = state;
  const first = place > calendar.place ? now : now + 1;
  const last = now + calendar.ticks - 1;
  const at = Math.max(first, Math.min(tick, last));
  calendar.bits[(at & (calendar.ticks - 1)) * calendar.words + (place >> 5)]! |= 1 << (place & 31);
}

/** After whatever the elements don't know of: a turn for each as soon as may be. */
export function wakeAll({ sweepKind }: Program, state: State): void {
  for (let place = 0; place < sweepKind.length; place++) wake(state, place, state.tick);
}

/** After the clock has been moved on. */
export function startCalendar(program: Program, state: State): void {
  state.calendar.bits.fill(0);
  wakeAll(program, state);
}

/** The tick at which the item at a belt's head may leave; NEVER for an empty belt. */
export function headLeavesAt({ belt }: Program, state: State, b: number): number {
  if (state.beltCount[b] === 0) return NEVER;
  const ready = state.placeReady[belt.ring[b]! + state.beltHead[b]!]!;
  const due = state.paceDue[belt.exitPace[b]!]!;
  return Math.max(ready, due);
}
