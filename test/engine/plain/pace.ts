/**
 * Paces: the ideal schedules that rated elements keep. An element is due once its ideal time, rounded up to a tick, has
 * come.
 */
import type { State } from "./state.ts";

export function isDue(state: State, pace: number): boolean {
  return state.paceDue[pace]! <= state.tick;
}

/** Whether the ideal time one interval before the next one has come. */
export function previousIsDue(state: State, pace: number): boolean {
  const ticksToGo = state.paceDue[pace]! - state.paceWhole[pace]! - state.tick;
  return ticksToGo * state.paceParts[pace]! <= state.paceLag[pace]! + state.paceRest[pace]!;
}

/**
 * Moves the ideal time of a belt's entrance or exit on by one interval. Kept waiting, it starts a new
 * schedule at the beginning of the tick, since what happens in a tick may have happened at any moment of it: so
 * rounding to ticks never adds up, nor do two elements of the same rate that hand over to each other hold each other up.
 */
export function advancePace(state: State, pace: number): void {
  if (state.paceDue[pace]! < state.tick) restartPace(state, pace, state.tick - 1);
  addInterval(state, pace);
}

/** A feed that was held up for less than an interval catches up, so that it loses nothing where it joins another. */
export function advanceFeed(state: State, pace: number): void {
  const late = state.tick - state.paceDue[pace]!;
  const whole = state.paceWhole[pace]!;
  const isInterval = late > whole || (late === whole && state.paceLag[pace]! >= state.paceRest[pace]!);
  if (isInterval) restartPace(state, pace, state.tick - 1);
  addInterval(state, pace);
}

/** A machine cannot make up for waiting: a cycle takes its time from the tick in which it starts. */
export function advanceCycle(state: State, pace: number): void {
  if (state.paceDue[pace]! < state.tick) restartPace(state, pace, state.tick);
  addInterval(state, pace);
}

function restartPace(state: State, pace: number, tick: number): void {
  state.paceDue[pace] = tick;
  state.paceLag[pace] = 0;
}

export function addInterval(state: State, pace: number): void {
  state.paceDue[pace]! += state.paceWhole[pace]!;
  const lag = state.paceLag[pace]! - state.paceRest[pace]!;
  if (lag < 0) {
    state.paceDue[pace]! += 1;
    state.paceLag[pace] = lag + state.paceParts[pace]!;
  } else {
    state.paceLag[pace] = lag;
  }
}
