/**
 * Handing an item over to whatever a connection leads to: first it is asked from which moment in the tick it would take the
 * item, which changes nothing, then it is given.
 */
import { DIVIDER, EVEN, LAST_FIRST, MACHINE, OUTLET } from "../../network/kinds";
import { enterBelt, entranceLate } from "./belt";
import { enterInfeed, infeedLate } from "./buffer";
import { changeHeld, countStay } from "./held";
import { dividerNumber, dividerOutlets, itemCount, left, machinePlace, outletItem, outletItems } from "./memory";
import { Connection, Divider } from "./records";
import { NEVER, wake } from "./schedule";

/** Nowhere: what is not taken. */
export const REFUSED = -1;

/**
 * Recursion goes one call deeper for each divider met without a belt between; the network's checks bound that.
 * @param late the moment in this tick from which the item may go (pace.ts)
 * @returns that at which it goes, or REFUSED
 */
export function offer(connection: Connection, item: i32, born: i32, now: i32, late: i32): i32 {
  const opens = opensLate(connection, item, now);
  if (opens === NEVER) return REFUSED;
  const moment = max(opens, late);
  give(connection, item, born, now, moment);
  return moment;
}

export function letsIn(connection: Connection, item: i32): bool {
  const allows = connection.allows;
  return allows === null || allows[item] === 1;
}

/** The moment in this tick from which an item is taken; NEVER if it is not. */
export function opensLate(connection: Connection, item: i32, now: i32): i32 {
  if (!letsIn(connection, item)) return NEVER;
  const belt = connection.belt;
  if (belt !== null) return entranceLate(belt, now);
  const element = connection.toIndex;
  switch (connection.toKind) {
    case MACHINE:
      return infeedLate(element, item);
    case DIVIDER:
      return dividerOpensLate(dividerNumber(element), item, now);
    case OUTLET:
      return takesOut(element, item) ? 0 : NEVER;
    default:
      return NEVER;
  }
}

function dividerOpensLate(divider: Divider, item: i32, now: i32): i32 {
  const end = divider.first + divider.count;
  let first = NEVER;
  for (let i = divider.first; i < end; i++) first = min(first, opensLate(dividerOutlets[i], item, now));
  return first;
}

/** To what is open to it at that moment. */
function give(connection: Connection, item: i32, born: i32, now: i32, late: i32): void {
  connection.passed += 1;
  const belt = connection.belt;
  if (belt !== null) {
    enterBelt(belt, item, born, now, late);
    return;
  }
  const element = connection.toIndex;
  switch (connection.toKind) {
    case MACHINE:
      enterInfeed(element, item, born);
      wake(machinePlace[element], now);
      break;
    case DIVIDER:
      divide(dividerNumber(element), item, born, now, late);
      break;
    case OUTLET:
      leavePlant(element, item, born, now);
      break;
  }
}

/**
 * To the first outlet, in the divider's order, of those that are open by then, or else that opens first.
 * @returns as `offer`
 */
export function divide(divider: Divider, item: i32, born: i32, now: i32, late: i32): i32 {
  const count = divider.count;
  const rule = divider.rule;
  let outlet = rule === EVEN ? divider.turn : rule === LAST_FIRST ? count - 1 : 0;
  let chosen = -1;
  let first = NEVER;
  for (let tried = 0; tried < count && first > late; tried++) {
    const opens = opensLate(dividerOutlets[divider.first + outlet], item, now);
    if (opens < first) {
      first = opens;
      chosen = outlet;
    }
    outlet = rule === LAST_FIRST ? outlet - 1 : turnAfter(outlet, count);
  }
  if (chosen < 0) return REFUSED;
  const moment = max(first, late);
  give(dividerOutlets[divider.first + chosen], item, born, now, moment);
  if (rule === EVEN) divider.turn = turnAfter(chosen, count);
  return moment;
}

/** The next of so many. (A division would take as long as all the rest.) */
export function turnAfter(turn: i32, count: i32): i32 {
  return turn + 1 === count ? 0 : turn + 1;
}

function takesOut(outlet: i32, item: i32): bool {
  const taken = outletItem[outlet];
  return taken < 0 || taken === item;
}

export function leavePlant(outlet: i32, item: i32, born: i32, now: i32): bool {
  if (!takesOut(outlet, item)) return false;
  left[item] = left[item] + 1;
  const at = outlet * itemCount + item;
  outletItems[at] = outletItems[at] + 1;
  changeHeld(item, -1);
  countStay(item, now - born);
  return true;
}
