/**
 * Which elements have a turn in a tick. Most elements can do nothing in most ticks, and know until when: an item on the way,
 * an interval that is not over, a cycle under way. Each is entered for the next tick at which it may be able to act, in a
 * calendar of the ticks to come: a bit for each place in the sweep. A turn too many changes nothing; one too few would.
 *
 * What an element waits for without knowing the time enters it again: an item that comes onto its empty belt, and an item that
 * leaves a full belt into which it was refused. Whoever is refused by an element without a belt between asks again in every
 * tick.
 */
import { calendarBits, calendarTicks, calendarWords, sweepLength } from "./memory";

/** Beyond the ticks of any run. */
export const NEVER = i32.MAX_VALUE;

/** The last tick done, or the one under way. */
export let tick: i32 = 0;

/** Ticks are done up to this one, or up to the one in which something comes that the host has waited for. */
export let goal: i32 = 0;
export let isAwaited: bool = false;

/** The place in the sweep whose turn it is: those before it have had theirs. Between ticks, all have. */
let turn: i32 = NEVER;

export function goTo(to: i32): void {
  goal = to;
  isAwaited = false;
}

/** At the end of this tick. */
export function handBack(): void {
  goal = tick;
  isAwaited = true;
}

export function beginTick(): void {
  tick += 1;
  turn = -1;
}

export function endTick(): void {
  turn = NEVER;
}

/** Moves on over ticks in which no element has a turn. @param to at most up to this one */
export function passIdle(to: i32): void {
  while (tick < to && isIdle(tick + 1)) tick += 1;
}

function isIdle(at: i32): bool {
  const first = pageOf(at);
  for (let word = 0; word < calendarWords; word++) if (calendarBits[first + word] !== 0) return false;
  return true;
}

/** The first word of the calendar's page for a tick. */
export function pageOf(at: i32): i32 {
  return (at & (calendarTicks - 1)) * calendarWords;
}

export function beginTurn(place: i32): void {
  turn = place;
}

/** @param at from which on the element may be able to act: in this tick, if its turn is still to come, else in the next */
export function wake(place: i32, at: i32): void {
  if (at === NEVER) return;
  const first = place > turn ? tick : tick + 1;
  enter(place, max(first, min(at, tick + calendarTicks - 1)));
}

/** The same for the element whose turn it is: in the next tick at the earliest. */
export function wakeNext(place: i32, at: i32): void {
  if (at !== NEVER) enter(place, min(max(at, tick + 1), tick + calendarTicks - 1));
}

function enter(place: i32, at: i32): void {
  const word = pageOf(at) + (place >> 5);
  calendarBits[word] = calendarBits[word] | (1 << (place & 31));
}

/** After whatever the elements don't know of: a turn for each as soon as may be. */
export function wakeAll(): void {
  for (let place = 0; place < sweepLength; place++) wake(place, tick);
}

/** At the start, and where the clock has been moved on. @param from the last tick that counts as done */
export function startFrom(from: i32): void {
  tick = from;
  memory.fill(changetype<usize>(calendarBits), 0, (<usize>(calendarTicks * calendarWords)) << 2);
  wakeAll();
}
