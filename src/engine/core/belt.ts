/** Belts: first-in-first-out delays with room for so many items. */
import { momentParts, onPlaces, placeMoment } from "./memory";
import { advanceExit, endSlot, lateOf, slotLate, startSlot } from "./pace";
import { Belt, Place } from "./records";
import { NEVER, wake } from "./schedule";

/**
 * Items travel one interval apart at least, each in a slot of its own. The entrance lets an item wait for the next slot,
 * so that a belt is loaded to its rate however unevenly items come to it: 60/min are taken out of 110/min, though every
 * second item would be 55/min.
 */
export function enterBelt(belt: Belt, item: i32, born: i32, now: i32, late: i32): void {
  const count = belt.count;
  startSlot(belt, now, late);
  const slot = momentParts > 0 ? belt.entryDue : max(belt.entryDue, now);
  const ready = slot + belt.transitTicks;
  const place = belt.next;
  place.ready = ready;
  place.readyLag = belt.entryLag;
  endSlot(belt);
  place.born = born;
  place.item = item;
  belt.next = after(belt, place);
  belt.count = count + 1;
  if (count + 1 > belt.high) belt.high = count + 1;
  if (belt.entersAt >= 0) bookAt(belt.entersAt + item, 1, now);
  if (count === 0) wake(belt.taker, max(ready, belt.exitDue));
}

/** The moment in this tick from which a belt takes an item (pace.ts); NEVER if not in it. */
export function entranceLate(belt: Belt, now: i32): i32 {
  if (isFull(belt, now)) return NEVER;
  const late = slotLate(belt, now);
  return belt.leftAt === now ? max(late, belt.roomLate) : late;
}

/** A held-up belt does without the place at its entrance, which is only for one that moves. */
export function isFull(belt: Belt, now: i32): bool {
  return belt.count >= belt.room && (belt.count === belt.capacity || belt.head.ready <= now);
}

/** The tick at which the item at a belt's head may leave; NEVER for an empty belt. */
export function headLeavesAt(belt: Belt): i32 {
  return belt.count === 0 ? NEVER : max(belt.head.ready, belt.exitDue);
}

/** The moment in this tick from which an item that may leave by its end may. */
export function headLate(belt: Belt, now: i32): i32 {
  if (momentParts === 0) return 0;
  return max(lateOf(belt.head.ready, belt.head.readyLag, now), lateOf(belt.exitDue, belt.exitLag, now));
}

export function removeHead(belt: Belt, now: i32, late: i32): void {
  const head = belt.head;
  // It had room before unless it was full, or its head came to lie still.
  const layStill = belt.count >= belt.room && late > lateOf(head.ready, head.readyLag, now);
  belt.roomLate = belt.count === belt.capacity || layStill ? late : 0;
  if (belt.leavesAt >= 0) bookAt(belt.leavesAt + head.item, -1, now);
  belt.head = after(belt, head);
  const count = belt.count - 1;
  belt.count = count;
  if (count < belt.low) belt.low = count;
  belt.leftAt = now;
  advanceExit(belt, now, late);
  if (belt.isAwaited) {
    belt.isAwaited = 0;
    wake(belt.giver, now);
  }
}

/** The place that follows in the ring. */
export function after(belt: Belt, place: Place): Place {
  const next = changetype<usize>(place) + offsetof<Place>();
  return next === changetype<usize>(belt.end) ? belt.ring : changetype<Place>(next);
}

/** Items come to where belts of a line lie, or leave, where fewer than none. @param at index in `onPlaces` */
function bookAt(at: i32, by: i32, now: i32): void {
  onPlaces[at] = onPlaces[at] + by;
  placeMoment[at] = placeMoment[at] + <f64>by * <f64>now;
}
