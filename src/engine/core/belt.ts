/** Belts: first-in-first-out delays with room for so many items. */
import { onPlaces, placeMoment } from "./memory";
import { advanceEntry, advanceExit, previousIsDue } from "./pace";
import { noteRise } from "./peaks";
import { Belt, Place } from "./records";
import { NEVER, wake } from "./schedule";

/**
 * Items travel one interval apart at least, each in a slot of its own. The entrance lets an item wait for the next slot,
 * so that a belt is loaded to its rate however unevenly items come to it: 60/min are taken out of 110/min, though every
 * second item would be 55/min.
 */
export function enterBelt(belt: Belt, item: i32, born: i32, now: i32): bool {
  const count = belt.count;
  if (isFull(belt, now)) return false;
  if (!previousIsDue(belt, now)) return false;
  const ready = max(belt.entryDue, now) + belt.transitTicks;
  advanceEntry(belt, now);
  const place = belt.next;
  place.ready = ready;
  place.born = born;
  place.item = item;
  belt.next = after(belt, place);
  belt.count = count + 1;
  if (count + 1 > belt.high) belt.high = count + 1;
  if (belt.entersAt >= 0) bookAt(belt.entersAt + item, 1, now);
  if (count === 0) wake(belt.taker, max(ready, belt.exitDue));
  return true;
}

/** A held-up belt does without the place at its entrance, which is only for one that moves. */
function isFull(belt: Belt, now: i32): bool {
  return belt.count === belt.capacity || isHeldUp(belt, now);
}

/** Full, and its head could leave: one that moves lets the next item in once its head is through. */
export function isHeldUp(belt: Belt, now: i32): bool {
  return belt.count >= belt.room && belt.head.ready <= now;
}

/** The tick at which the item at a belt's head may leave; NEVER for an empty belt. */
export function headLeavesAt(belt: Belt): i32 {
  return belt.count === 0 ? NEVER : max(belt.head.ready, belt.exitDue);
}

export function removeHead(belt: Belt, now: i32): void {
  const head = belt.head;
  if (belt.leavesAt >= 0) bookAt(belt.leavesAt + head.item, -1, now);
  belt.head = after(belt, head);
  const count = belt.count - 1;
  belt.count = count;
  if (count < belt.low) belt.low = count;
  belt.leftAt = now;
  advanceExit(belt, now);
  if (belt.isAwaited) {
    belt.isAwaited = 0;
    wake(belt.giver, now);
  }
}

/** The place that follows in the ring. */
export function after(belt: Belt, place: Place): Place {
  const next = changetype<usize>(place) + offsetof<Place>();
  return next === belt.end ? belt.ring : changetype<Place>(next);
}

/** Items come to where belts of a line lie, or leave, where fewer than none. @param at index in `onPlaces` */
function bookAt(at: i32, by: i32, now: i32): void {
  onPlaces[at] = onPlaces[at] + by;
  noteRise(at, onPlaces[at]);
  placeMoment[at] = placeMoment[at] + <f64>by * <f64>now;
}
