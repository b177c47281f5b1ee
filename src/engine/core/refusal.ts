/** Until when an item that has just been refused would be refused again. */
import { DIVIDER, MACHINE } from "../../network/kinds";
import { isHeldUp } from "./belt";
import { letsIn } from "./hand-over";
import { dividerNumber, dividerOutlets, itemCount, machineBufferFor } from "./memory";
import { Belt, Connection, Divider } from "./records";
import { NEVER } from "./schedule";

/** For a connection that has just refused an item: the next tick at which it may let it in. */
export function opensAt(connection: Connection, item: i32, now: i32): i32 {
  if (!letsIn(connection, item)) return NEVER;
  const belt = connection.belt;
  if (belt !== null) return entranceOpensAt(belt, now);
  const element = connection.toIndex;
  switch (connection.toKind) {
    case DIVIDER:
      return dividerOpensAt(dividerNumber(element), item, now);
    case MACHINE:
      return machineBufferFor[element * itemCount + item] < 0 ? NEVER : now + 1;
    default:
      return NEVER;
  }
}

export function dividerOpensAt(divider: Divider, item: i32, now: i32): i32 {
  const end = divider.first + divider.count;
  let first = NEVER;
  for (let i = divider.first; i < end; i++) first = min(first, opensAt(dividerOutlets[i], item, now));
  return first;
}

/** For a connection that has just refused an item: whether all that it lacks is the next slot on a belt that moves. */
export function waitsForSlot(connection: Connection, item: i32, now: i32): bool {
  if (!letsIn(connection, item)) return false;
  const belt = connection.belt;
  if (belt !== null) return !isHeldUp(belt, now);
  if (connection.toKind !== DIVIDER) return false;
  const divider = dividerNumber(connection.toIndex);
  const end = divider.first + divider.count;
  for (let i = divider.first; i < end; i++) if (waitsForSlot(dividerOutlets[i], item, now)) return true;
  return false;
}

function entranceOpensAt(belt: Belt, now: i32): i32 {
  const isFull = belt.count >= belt.room;
  if (isFull) belt.isAwaited = 1;
  const lag = belt.entryLag + belt.rest;
  const opens = belt.entryDue - belt.whole - (lag >= belt.parts ? 1 : 0);
  return opens > now ? opens : isFull ? NEVER : now + 1;
}
