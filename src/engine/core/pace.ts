/**
 * Paces: the ideal schedules that rated elements keep. An element is due once its ideal time, rounded up to a tick, has
 * come.
 */
import { paceDue, paceLag, paceParts, paceRest, paceWhole } from "./memory";
import { Belt } from "./records";

export function isDue(pace: i32, now: i32): bool {
  return paceDue[pace] <= now;
}

/** Whether the ideal time one interval before the next one at a belt's entrance has come. */
export function previousIsDue(belt: Belt, now: i32): bool {
  const ticksToGo = belt.entryDue - belt.whole - now;
  // A lag is less than a tick, so that only the last tick to go is in question.
  if (ticksToGo !== 1) return ticksToGo < 1;
  return belt.parts <= belt.entryLag + belt.rest;
}

/**
 * Moves the ideal time of a belt's entrance on by one interval. Kept waiting, it starts a new schedule at the beginning of
 * the tick, since what happens in a tick may have happened at any moment of it: so rounding to ticks never adds up, nor do
 * two elements of the same rate that hand over to each other hold each other up.
 */
export function advanceEntry(belt: Belt, now: i32): void {
  const waited = belt.entryDue < now;
  const lag = (waited ? 0 : belt.entryLag) - belt.rest;
  belt.entryDue = (waited ? now - 1 : belt.entryDue) + belt.whole + (lag < 0 ? 1 : 0);
  belt.entryLag = lag < 0 ? lag + belt.parts : lag;
}

/** The same of its exit. */
export function advanceExit(belt: Belt, now: i32): void {
  const waited = belt.exitDue < now;
  const lag = (waited ? 0 : belt.exitLag) - belt.rest;
  belt.exitDue = (waited ? now - 1 : belt.exitDue) + belt.whole + (lag < 0 ? 1 : 0);
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
