/**
 * Handing an item over to whatever a connection leads to. Each function returns whether the item was taken; what was not
 * taken has changed nothing.
 */
import { DIVIDER, EVEN, LAST_FIRST, MACHINE, OUTLET } from "../../network/kinds";
import { enterBelt } from "./belt";
import { enterInfeed } from "./buffer";
import { countLeft } from "./completions";
import { changeHoldUp, countStay } from "./hold-up";
import { dividerNumber, dividerOutlets, itemCount, left, machinePlace, outletItem, outletItems } from "./memory";
import { Connection, Divider } from "./records";
import { wake } from "./schedule";

/** Recursion goes one call deeper for each divider met without a belt between; the network's checks bound that. */
export function offer(connection: Connection, item: i32, born: i32, now: i32): bool {
  if (!letsIn(connection, item)) return false;
  const belt = connection.belt;
  const taken = belt !== null ? enterBelt(belt, item, born, now) : handOver(connection, item, born, now);
  if (taken) connection.passed += 1;
  return taken;
}

export function letsIn(connection: Connection, item: i32): bool {
  const allows = connection.allows;
  return allows === null || allows[item] === 1;
}

function handOver(connection: Connection, item: i32, born: i32, now: i32): bool {
  const element = connection.toIndex;
  switch (connection.toKind) {
    case MACHINE:
      if (!enterInfeed(element, item, born)) return false;
      wake(machinePlace[element], now);
      return true;
    case DIVIDER:
      return divide(dividerNumber(element), item, born, now);
    case OUTLET:
      return leavePlant(element, item, born, now);
    default:
      return false;
  }
}

export function divide(divider: Divider, item: i32, born: i32, now: i32): bool {
  const count = divider.count;
  const rule = divider.rule;
  let outlet = rule === EVEN ? divider.turn : rule === LAST_FIRST ? count - 1 : 0;
  for (let tried = 0; tried < count; tried++) {
    const isTaken = offer(dividerOutlets[divider.first + outlet], item, born, now);
    outlet = rule === LAST_FIRST ? outlet - 1 : turnAfter(outlet, count);
    if (!isTaken) continue;
    if (rule === EVEN) divider.turn = outlet;
    return true;
  }
  return false;
}

/** The next of so many. (A division would take as long as all the rest.) */
export function turnAfter(turn: i32, count: i32): i32 {
  return turn + 1 === count ? 0 : turn + 1;
}

export function leavePlant(outlet: i32, item: i32, born: i32, now: i32): bool {
  const taken = outletItem[outlet];
  if (taken >= 0 && taken !== item) return false;
  left[item] = left[item] + 1;
  const at = outlet * itemCount + item;
  outletItems[at] = outletItems[at] + 1;
  changeHoldUp(item, -1);
  countStay(item, now - born);
  countLeft(outlet, item, born);
  return true;
}
