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
import type { State } from "./state.ts";

/** Beyond the ticks of any run. */
export const NEVER = 0x7fffffff;

export interface Calendar {
  /** A power of two of ticks ahead, from the present one on; what is later is looked at again at the last of them. */
  readonly ticks: number;
  /** For each tick so many words of 32 places. */
  readonly words: number;
  readonly bits: Int32Array;
  /** The place whose turn it is: those before it have had theirs. BETWEEN_TICKS, all have. */
  place: number;
}

export const BETWEEN_TICKS = NEVER;

const MOST_WORDS = 1 << 15;
const MOST_TICKS = 1024;
const FEWEST_TICKS = 16;

/** Before the first tick, in which all have a turn. */
export function fullCalendar({ sweepKind }: Program): Calendar {
  const words = Math.max(1, Math.ceil(sweepKind.length / 32));
  let ticks = MOST_TICKS;
  while (ticks > FEWEST_TICKS && ticks * words > MOST_WORDS) ticks /= 2;
  const bits = new Int32Array(ticks * words);
  for (let place = 0; place < sweepKind.length; place++) bits[words + (place >> 5)]! |= 1 << (place & 31);
  return { ticks, words, bits, place: BETWEEN_TICKS };
}

/** @param tick from which on the element may be able to act: in this one, if its turn is still to come, else in the next */
export function wake(state: State, place: number, tick: number): void {
  if (tick === NEVER) return;
  const { calendar, tick: now } = state;
  const first = place > calendar.place ? now : now + 1;
  const last = now + calendar.ticks - 1;
  const at = tick < first ? first : tick > last ? last : tick;
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
  return ready > due ? ready : due;
}
