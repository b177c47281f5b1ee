/** Until when an item that has just been refused would be refused again. */
import { DIVIDER, MACHINE } from "../../network/kinds";
import { letsIn } from "./hand-over";
import {
  Belt,
  connectionBelt,
  connectionToIndex,
  connectionToKind,
  dividerNumber,
  dividerOutlets,
  itemCount,
  machineBufferFor,
} from "./memory";
import { NEVER, tick } from "./schedule";

/** For a connection that has just refused an item: the next tick at which it may let it in. */
export function opensAt(connection: i32, item: i32): i32 {
  if (!letsIn(connection, item)) return NEVER;
  const b = connectionBelt[connection];
  if (b !== 0) return entranceOpensAt(changetype<Belt>(b));
  const element = connectionToIndex[connection];
  switch (connectionToKind[connection]) {
    case DIVIDER:
      return dividerOpensAt(element, item);
    case MACHINE:
      return machineBufferFor[element * itemCount + item] < 0 ? NEVER : tick + 1;
    default:
      return NEVER;
  }
}

export function dividerOpensAt(d: i32, item: i32): i32 {
  const divider = dividerNumber(d);
  const end = divider.first + divider.count;
  let first = NEVER;
  for (let i = divider.first; i < end; i++) first = min(first, opensAt(dividerOutlets[i], item));
  return first;
}

function entranceOpensAt(belt: Belt): i32 {
  const isFull = belt.count >= belt.room;
  if (isFull) belt.isAwaited = 1;
  const lag = belt.entryLag + belt.rest;
  const opens = belt.entryDue - belt.whole - (lag >= belt.parts ? 1 : 0);
  return opens > tick ? opens : isFull ? NEVER : tick + 1;
}
