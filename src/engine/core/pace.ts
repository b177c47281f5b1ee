/**
 * Paces: the ideal schedules that rated elements keep. An element is due once its ideal time, rounded up to a tick, has
 * come.
 *
 * Belts tell moments within a tick apart, since who comes first at a merge, and which outlet is open first, would otherwise
 * hang on the tick: `late` is how many parts of the tick had gone by, from 0, its beginning, to all, its end. All belts count
 * in the same parts (../../network/compile-paces.ts). Machines act at the end of a tick, feeds when they are due in it. Where
 * belts have no parts in common (`momentParts` is 0) everything is at the beginning.
 */
import { momentParts, paceDue, paceLag, paceParts, paceRest, paceWhole } from "./memory";
import { Belt } from "./records";
import { NEVER } from "./schedule";

export function isDue(pace: i32, now: i32): bool {
  return paceDue[pace] <= now;
}

/** The moment in this tick of what is due so much before its end, or earlier. @param due a tick, this one or before */
export function lateOf(due: i32, lag: i32, now: i32): i32 {
  return due === now ? max(momentParts - lag, 0) : 0;
}

/** When a belt's next slot may be entered, one interval early: the moment in this tick, NEVER if not in it. */
export function slotLate(belt: Belt, now: i32): i32 {
  const ticksToGo = belt.entryDue - belt.whole - now;
  if (ticksToGo < 0) return 0;
  // A lag is less than a tick, so that only the last tick to go is in question.
  if (ticksToGo > 1) return NEVER;
  const lag = belt.entryLag + belt.rest - (ticksToGo === 1 ? belt.parts : 0);
  return lag < 0 ? NEVER : lateOf(now, lag, now);
}

/**
 * An item enters: the ideal time of a belt's entrance, if it has waited, is from now on that moment. (Without moments the
 * tick's beginning: so rounding never adds up, nor do two belts of one rate hold each other up.)
 */
export function startSlot(belt: Belt, now: i32, late: i32): void {
  if (belt.entryDue < now) {
    belt.entryDue = late === 0 ? now - 1 : now;
    belt.entryLag = late === 0 ? 0 : momentParts - late;
  } else if (belt.entryDue === now && late > 0 && belt.entryLag > momentParts - late) {
    belt.entryLag = momentParts - late;
  }
}

/** Moves the ideal time on by one interval. */
export function endSlot(belt: Belt): void {
  const lag = belt.entryLag - belt.rest;
  belt.entryDue += belt.whole + (lag < 0 ? 1 : 0);
  belt.entryLag = lag < 0 ? lag + belt.parts : lag;
}

/** An item leaves: the same of a belt's exit, both at once. */
export function advanceExit(belt: Belt, now: i32, late: i32): void {
  let due = belt.exitDue;
  let lag = belt.exitLag;
  if (due < now) {
    due = late === 0 ? now - 1 : now;
    lag = late === 0 ? 0 : momentParts - late;
  } else if (late > 0 && lag > momentParts - late) {
    lag = momentParts - late;
  }
  lag -= belt.rest;
  belt.exitDue = due + belt.whole + (lag < 0 ? 1 : 0);
  belt.exitLag = lag < 0 ? lag + belt.parts : lag;
}

/** The moment in this tick at which a feed is due, or has been; in its own parts of a tick, rounded down. */
export function feedLate(pace: i32, due: i32, now: i32): i32 {
  if (due < now) return 0;
  return momentParts - <i32>((<i64>paceLag[pace] * <i64>momentParts) / <i64>paceParts[pace]);
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
