/** Belts: first-in-first-out delays with room for so many items. */
import { Belt, onPlaces, placeBorn, placeItem, placeMoment, placeReady } from "./memory";
import { advanceEntry, advanceExit, previousIsDue } from "./pace";
import { NEVER, tick, wake } from "./schedule";

/**
 * Items travel one interval apart at least, each in a slot of its own. The entrance lets an item wait for the next slot,
 * so that a belt is loaded to its rate however unevenly items come to it: 60/min are taken out of 110/min, though every
 * second item would be 55/min.
 */
export function enterBelt(belt: Belt, item: i32, born: i32): bool {
  const count = belt.count;
  const places = belt.capacity;
  if (count >= belt.room && (count === places || isHeldUp(belt))) return false;
  if (!previousIsDue(belt, tick)) return false;
  const ready = max(belt.entryDue, tick) + belt.transitTicks;
  advanceEntry(belt, tick);
  let offset = belt.head + count;
  if (offset >= places) offset -= places;
  const place = belt.ring + offset;
  placeReady[place] = ready;
  placeItem[place] = item;
  placeBorn[place] = born;
  belt.count = count + 1;
  if (count + 1 > belt.high) belt.high = count + 1;
  if (belt.entersAt >= 0) bookAt(belt.entersAt + item, 1);
  if (count === 0) wake(belt.taker, max(ready, belt.exitDue));
  return true;
}

/** Whether the head waits at the end; the place at the entrance is only for a belt that moves. */
function isHeldUp(belt: Belt): bool {
  return placeReady[headOf(belt)] <= tick;
}

/** The place of the item at a belt's head. */
export function headOf(belt: Belt): i32 {
  return belt.ring + belt.head;
}

/** The tick at which the item at a belt's head may leave; NEVER for an empty belt. */
export function headLeavesAt(belt: Belt): i32 {
  if (belt.count === 0) return NEVER;
  return max(placeReady[headOf(belt)], belt.exitDue);
}

export function removeHead(belt: Belt): void {
  if (belt.leavesAt >= 0) bookAt(belt.leavesAt + placeItem[headOf(belt)], -1);
  const next = belt.head + 1;
  belt.head = next === belt.capacity ? 0 : next;
  const count = belt.count - 1;
  belt.count = count;
  if (count < belt.low) belt.low = count;
  belt.leftAt = tick;
  advanceExit(belt, tick);
  if (belt.isAwaited) {
    belt.isAwaited = 0;
    wake(belt.giver, tick);
  }
}

/** Items come to where belts of a line lie, or leave, where fewer than none. @param at index in `onPlaces` */
function bookAt(at: i32, by: i32): void {
  onPlaces[at] = onPlaces[at] + by;
  placeMoment[at] = placeMoment[at] + <f64>by * <f64>tick;
}
