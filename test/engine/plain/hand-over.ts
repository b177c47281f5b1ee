/**
 * Handing an item over to whatever a connection leads to. Each function returns whether the item was taken; what was not
 * taken has changed nothing.
 */
import { DIVIDER, EVEN, LAST_FIRST, MACHINE, OUTLET, type Program } from "../../../src/network/program.ts";
import { enterBelt } from "./belt.ts";
import { enterInfeed } from "./buffer.ts";
import type { State } from "./state.ts";

/** Recursion goes one call deeper for each divider met without a belt between; the network's checks bound that. */
export function offer(program: Program, state: State, connection: number, item: number, born: number): boolean {
  const { belt, toKind, toIndex } = program.connection;
  if (!letsIn(program, connection, item)) return false;
  const b = belt[connection]!;
  const taken =
    b >= 0
      ? enterBelt(program, state, b, item, born)
      : handOver(program, state, toKind[connection]!, toIndex[connection]!, item, born);
  if (taken) state.totals.passed[connection]! += 1;
  return taken;
}

export function letsIn(program: Program, connection: number, item: number): boolean {
  return program.connection.allows[connection * program.itemCount + item] === 1;
}

function handOver(program: Program, state: State, kind: number, element: number, item: number, born: number): boolean {
  switch (kind) {
    case MACHINE:
      return enterInfeed(program, state, element, item, born);
    case DIVIDER:
      return divide(program, state, element, item, born);
    case OUTLET:
      return leavePlant(program, state, element, item, born);
    default:
      return false;
  }
}

export function divide(program: Program, state: State, d: number, item: number, born: number): boolean {
  const { start, values } = program.divider.outlets;
  const first = start[d]!;
  const count = start[d + 1]! - first;
  const rule = state.dividerRule[d]!;
  const turn = rule === EVEN ? state.dividerTurn[d]! : 0;
  for (let i = 0; i < count; i++) {
    const outlet = rule === LAST_FIRST ? count - 1 - i : (turn + i) % count;
    if (!offer(program, state, values[first + outlet]!, item, born)) continue;
    if (rule === EVEN) state.dividerTurn[d] = (outlet + 1) % count;
    return true;
  }
  return false;
}

/** @param ticks between feed or make and now, when a machine or an outlet takes it */
export function countStay(program: Program, state: State, item: number, ticks: number): void {
  if (ticks > program.dwellLimit[item]!) {
    state.totals.overDwell[item]! += 1;
    state.totals.overDwellTicks[item]! += ticks - program.dwellLimit[item]!;
  }
  if (ticks > state.noted.longestStay[item]!) state.noted.longestStay[item] = ticks;
}

/** Where there are no machines, an item that leaves is what they would have made. */
function finishAt(state: State, outlet: number, item: number, dwell: number): void {
  const { completions } = state;
  completions.machine[completions.count] = outlet;
  completions.tick[completions.count] = state.tick;
  completions.count++;
  state.totals.dwellTicks[item]! += dwell;
  if (dwell > state.noted.longestDwell) state.noted.longestDwell = dwell;
}

export function leavePlant(program: Program, state: State, outlet: number, item: number, born: number): boolean {
  const taken = program.outlet.item[outlet]!;
  if (taken >= 0 && taken !== item) return false;
  state.totals.left[item]! += 1;
  state.totals.outletItems[outlet * program.itemCount + item]! += 1;
  state.noted.holdUp[item]! -= 1;
  countStay(program, state, item, state.tick - born);
  if (program.machine.count === 0) finishAt(state, outlet, item, state.tick - born);
  return true;
}
