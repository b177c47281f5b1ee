/**
 * Paces: the ideal schedules that rated elements keep. An element is due once its ideal time, rounded up to a tick, has
 * come.
 *
 * Belts also tell moments within a tick apart, since who comes first at a merge, and which outlet is open first, would
 * otherwise hang on the tick: `late` is how many parts of the tick had gone by, from 0 at its beginning to all of them. All
 * belts count in the same parts (../../network/compile-paces.ts); where these would be too many, all is at the beginning.
 * Machines and feeds act at the beginning.
 */
import { keepsMoments, paceDue, paceLag, paceParts, paceRest, paceWhole } from "./memory";
import { Belt } from "./records";
import { NEVER } from "./schedule";

export function isDue(pace: i32, now: i32): bool {
  return paceDue[pace] <= now;
}

/** When a belt's next slot may be entered, one interval early: the moment in this tick, NEVER if not in it. */
export function slotLate(belt: Belt, now: i32): i32 {
  const ticksToGo = belt.entryDue - belt.whole - now;
  if (ticksToGo < 0) return 0;
  // A lag is less than a tick, so that only the last tick to go is in question.
  if (ticksToGo > 1) return NEVER;
  const lag = belt.entryLag + belt.rest - (ticksToGo === 1 ? belt.parts : 0);
  if (lag < 0) return NEVER;
  return keepsMoments ? max(belt.parts - lag, 0) : 0;
}

/** The moment at which a belt's exit is due, if it is by this tick's end. */
export function exitLate(belt: Belt, now: i32): i32 {
  return keepsMoments && belt.exitDue === now ? belt.parts - belt.exitLag : 0;
}

/**
 * Moves the ideal time of a belt's entrance on by one interval. Kept waiting, it starts a new schedule at the moment at which
 * it was set free.
 */
export function advanceEntry(belt: Belt, now: i32, late: i32): void {
  let due = belt.entryDue;
  let lag = belt.entryLag;
  if (due < now) {
    due = now - 1;
    lag = 0;
  }
  // The moment is that of the next tick's beginning, less a lag.
  if (late > 0 && (due < now || (due === now && lag > belt.parts - late))) {
    due = now;
    lag = belt.parts - late;
  }
  lag -= belt.rest;
  belt.entryDue = due + belt.whole + (lag < 0 ? 1 : 0);
  belt.entryLag = lag < 0 ? lag + belt.parts : lag;
}

/** The same of its exit. */
export function advanceExit(belt: Belt, now: i32, late: i32): void {
  let due = belt.exitDue;
  let lag = belt.exitLag;
  if (due < now) {
    due = now - 1;
    lag = 0;
  }
  if (late > 0 && (due < now || (due === now && lag > belt.parts - late))) {
    due = now;
    lag = belt.parts - late;
  }
  lag -= belt.rest;
  belt.exitDue = due + belt.whole + (lag < 0 ? 1 : 0);
  belt.exitLag = lag < 0 ? lag + belt.parts : lag;
}

/** A feed that was held up for less than an interval catches up, so that it loses nothing where it joins another. */
export function advanceFeed(pace: i32, now: i32): void {
  if (heldFrom(pace, now) !== paceDue[pace]) restart(pace, now - 1);
  addInterval(pace);
}

/** The tick from which the next interval counts: where the item was held up for an interval or more, a new schedule's. */
function heldFrom(pace: i32, now: i32): i32 {
  const late = now - paceDue[pace];
  const whole = paceWhole[pace];
  const isHeldUp = late > whole || (late === whole && paceLag[pace] >= paceRest[pace]);
  return isHeldUp ? now - 1 : paceDue[pace];
}

/** A machine cannot make up for waiting: a cycle takes its time from the tick in which it starts. */
export function advanceCycle(pace: i32, now: i32): void {
  if (paceDue[pace] < now) restart(pace, now);
  addInterval(pace);
}

/** A feed's schedule begins anew: its first item is due one interval later. */
export function startSchedule(feed: i32, from: i32): void {
  const rest = paceRest[feed];
  paceDue[feed] = from + paceWhole[feed] + (rest > 0 ? 1 : 0);
  paceLag[feed] = rest > 0 ? paceParts[feed] - rest : 0;
}

/** All that is still to come comes so much later. */
export function putOff(pace: i32, ticks: i32): void {
  paceDue[pace] = paceDue[pace] + ticks;
}

function restart(pace: i32, now: i32): void {
  paceDue[pace] = now;
  paceLag[pace] = 0;
}

export function addInterval(pace: i32): void {
  let due = paceDue[pace] + paceWhole[pace];
  let lag = paceLag[pace] - paceRest[pace];
  if (lag < 0) {
    due += 1;
    lag += paceParts[pace];
  }
  paceDue[pace] = due;
  paceLag[pace] = lag;
}
