/**
 * Paces: the ideal schedules that rated elements keep. An element is due once its ideal time, rounded up to a tick, has
 * come.
 */
import type { Program } from "../../../src/network/program.ts";
import type { State } from "./state.ts";

export function isDue(state: State, pace: number): boolean {
  return state.paceDue[pace]! <= state.tick;
}

/**
 * Moments count in parts of a tick from the start of the run: tick 3 begins after 2 ticks and ends after 3. Where belts have
 * no parts in common, all that happens in a tick is at its beginning.
 */
export function beginning({ belt }: Program, state: State): number {
  return (state.tick - 1) * belt.momentParts;
}

export function end({ belt }: Program, state: State): number {
  return belt.momentParts === 0 ? 0 : state.tick * belt.momentParts;
}

/** What is due at a tick, less a lag, or at the beginning of this tick if it was due before. */
export function momentOf(program: Program, state: State, due: number, lag: number): number {
  return Math.max(due * program.belt.momentParts - lag, beginning(program, state));
}

/** When a belt's next slot may be entered, one interval early; Infinity if not by the end of this tick. */
export function slotOpens(program: Program, state: State, pace: number): number {
  const { momentParts } = program.belt;
  const ticksToGo = state.paceDue[pace]! - state.paceWhole[pace]! - state.tick;
  const lag = state.paceLag[pace]! + state.paceRest[pace]!;
  if (ticksToGo * state.paceParts[pace]! > lag) return Number.POSITIVE_INFINITY;
  return momentParts === 0 ? 0 : momentOf(program, state, state.paceDue[pace]! - state.paceWhole[pace]!, lag);
}

/**
 * A belt's entrance or exit acts at a moment: its next ideal time is an interval after that, or after when it was due, if that
 * comes later.
 * @returns from when the interval counts: a tick, less a lag
 */
export function advanceBelt(
  program: Program,
  state: State,
  pace: number,
  moment: number,
): { due: number; lag: number } {
  const { momentParts } = program.belt;
  const ideal = state.paceDue[pace]! * momentParts - state.paceLag[pace]!;
  if (momentParts === 0) {
    if (state.paceDue[pace]! < state.tick) restartPace(state, pace, state.tick - 1);
  } else if (moment > ideal) {
    state.paceDue[pace] = Math.ceil(moment / momentParts);
    state.paceLag[pace] = state.paceDue[pace]! * momentParts - moment;
  }
  const from = { due: state.paceDue[pace]!, lag: state.paceLag[pace]! };
  addInterval(state, pace);
  return from;
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
