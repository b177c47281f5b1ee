/** Handing an item over to whatever a connection leads to, from the moment on at which that would take it. */
import { DIVIDER, EVEN, LAST_FIRST, MACHINE, OUTLET, type Program } from "../../../src/network/program.ts";
import { enterBelt, entranceOpens } from "./belt.ts";
import { enterInfeed, infeedOpens } from "./buffer.ts";
import type { State } from "./state.ts";

/**
 * Recursion goes one call deeper for each divider met without a belt between; the network's checks bound that.
 * @param from the moment from which the item may go
 * @returns the moment at which it went; Infinity if it was not taken
 */
export function offer(
  program: Program,
  state: State,
  connection: number,
  item: number,
  born: number,
  from: number,
): number {
  const opens = opensFrom(program, state, connection, item);
  if (opens === Number.POSITIVE_INFINITY) return opens;
  const moment = Math.max(opens, from);
  const { belt, toKind, toIndex } = program.connection;
  state.totals.passed[connection]! += 1;
  const b = belt[connection]!;
  const element = toIndex[connection]!;
  if (b >= 0) enterBelt(program, state, b, item, born, moment);
  else if (toKind[connection] === MACHINE) enterInfeed(program, state, element, item, born);
  else if (toKind[connection] === DIVIDER) divide(program, state, element, item, born, moment);
  else if (toKind[connection] === OUTLET) leavePlant(program, state, element, item, born);
  return moment;
}

export function letsIn(program: Program, connection: number, item: number): boolean {
  return program.connection.allows[connection * program.itemCount + item] === 1;
}

/** The moment from which an item would be taken; Infinity if not by the end of this tick. */
export function opensFrom(program: Program, state: State, connection: number, item: number): number {
  const { belt, toKind, toIndex } = program.connection;
  if (!letsIn(program, connection, item)) return Number.POSITIVE_INFINITY;
  if (belt[connection]! >= 0) return entranceOpens(program, state, belt[connection]!);
  const element = toIndex[connection]!;
  switch (toKind[connection]) {
    case MACHINE:
      return infeedOpens(program, state, element, item);
    case DIVIDER:
      return firstOpens(program, state, element, item);
    case OUTLET:
      return takesOut(program, element, item) ? 0 : Number.POSITIVE_INFINITY;
    default:
      return Number.POSITIVE_INFINITY;
  }
}

function firstOpens(program: Program, state: State, d: number, item: number): number {
  const { start, values } = program.divider.outlets;
  let first = Number.POSITIVE_INFINITY;
  for (let i = start[d]!; i < start[d + 1]!; i++) {
    first = Math.min(first, opensFrom(program, state, values[i]!, item));
  }
  return first;
}

/** To the first in its order of those that are open when the item comes, or when the first of them opens. */
export function divide(program: Program, state: State, d: number, item: number, born: number, from: number): number {
  const moment = Math.max(from, firstOpens(program, state, d, item));
  if (moment === Number.POSITIVE_INFINITY) return moment;
  const { start, values } = program.divider.outlets;
  const first = start[d]!;
  const count = start[d + 1]! - first;
  const rule = state.dividerRule[d]!;
  const turn = rule === EVEN ? state.dividerTurn[d]! : 0;
  for (let i = 0; i < count; i++) {
    const outlet = rule === LAST_FIRST ? count - 1 - i : (turn + i) % count;
    if (opensFrom(program, state, values[first + outlet]!, item) > moment) continue;
    offer(program, state, values[first + outlet]!, item, born, moment);
    if (rule === EVEN) state.dividerTurn[d] = (outlet + 1) % count;
    break;
  }
  return moment;
}

/** @param ticks between feed or make and now, when a machine or an outlet takes it */
export function countStay(program: Program, state: State, item: number, ticks: number): void {
  if (ticks > program.dwellLimit[item]!) state.totals.overDwell[item]! += 1;
  if (ticks > state.marks.longestStay[item]!) state.marks.longestStay[item] = ticks;
}

function takesOut(program: Program, outlet: number, item: number): boolean {
  const taken = program.outlet.item[outlet]!;
  return taken < 0 || taken === item;
}

export function leavePlant(program: Program, state: State, outlet: number, item: number, born: number): boolean {
  if (!takesOut(program, outlet, item)) return false;
  state.totals.left[item]! += 1;
  state.totals.outletItems[outlet * program.itemCount + item]! += 1;
  state.marks.held[item]! -= 1;
  countStay(program, state, item, state.tick - born);
  return true;
}
