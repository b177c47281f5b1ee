/** Sums over time of what changes now and then, brought up to the present from what the core books (core/hold-up.ts). */
import type { Program } from "../network/program.ts";
import { CONNECTION, CONNECTION_INTS } from "./record-offsets.ts";
import type { State } from "./state.ts";
import { STATE_COUNT } from "./states.ts";
import { copyTotals, type Totals } from "./totals.ts";

export function bookTotals(state: State): void {
  const { totals, noted, machineState, stateSince, lackSince } = state;
  const next = state.tick + 1;
  for (let c = 0; c < totals.passed.length; c++) {
    totals.passed[c] = state.connections[c * CONNECTION_INTS + CONNECTION.passed]!;
  }
  bookLevels(totals.holdUpTicks, noted.holdUp, state.holdUpMoment, next);
  bookLevels(totals.placeTicks, state.onPlaces, state.placeMoment, next);
  bookLevels(totals.bufferTicks, state.bufferCount, state.bufferMoment, next);
  for (let m = 0; m < machineState.length; m++) {
    totals.stateTicks[m * STATE_COUNT + machineState[m]!]! += next - stateSince[m]!;
    stateSince[m] = next;
  }
  for (let buffer = 0; buffer < lackSince.length; buffer++) {
    if (lackSince[buffer]! < 0) continue;
    totals.lackTicks[buffer]! += next - lackSince[buffer]!;
    lackSince[buffer] = next;
  }
}

function bookLevels(sums: Float64Array, levels: Float64Array | Int32Array, moments: Float64Array, next: number): void {
  for (let i = 0; i < sums.length; i++) sums[i] = next * levels[i]! - moments[i]!;
}

/** After totals and clock have been moved on together. */
export function unbookTotals(state: State): void {
  const { totals, noted } = state;
  const next = state.tick + 1;
  for (let c = 0; c < totals.passed.length; c++) {
    state.connections[c * CONNECTION_INTS + CONNECTION.passed] = totals.passed[c]!;
  }
  unbookLevels(totals.holdUpTicks, noted.holdUp, state.holdUpMoment, next);
  unbookLevels(totals.placeTicks, state.onPlaces, state.placeMoment, next);
  unbookLevels(totals.bufferTicks, state.bufferCount, state.bufferMoment, next);
  state.stateSince.fill(next);
  for (let buffer = 0; buffer < state.lackSince.length; buffer++) {
    if (state.lackSince[buffer]! >= 0) state.lackSince[buffer] = next;
  }
}

function unbookLevels(
  sums: Float64Array,
  levels: Float64Array | Int32Array,
  moments: Float64Array,
  next: number,
): void {
  for (let i = 0; i < sums.length; i++) moments[i] = next * levels[i]! - sums[i]!;
}

/** A copy of the totals up to the present or, given earlier ones, of what was added since. */
export function totalsNow(program: Program, state: State, since?: Totals): Totals {
  bookTotals(state);
  return copyTotals(program, state.totals, since);
}
