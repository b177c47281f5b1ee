/**
 * Records in memory, for what most of a run's time goes into. Those of a kind lie one after the other, and refer to one another
 * by address. ../records.ts has the same fields in the same order.
 */

import { Bytes } from "./arrays";

/** An item's place on a belt. */
@unmanaged
export class Place {
  /** The tick from which the item may leave. */
  ready: i32;
  /** The tick at which it was fed or made. */
  born: i32;
  item: i32;
}

/** What never changes comes first. */
@unmanaged
export class Belt {
  /** Its places are a ring, from `ring` to before `end`. */
  ring: Place;
  end: Place;
  capacity: i32;
  room: i32;
  transitTicks: i32;
  /** The interval at its entrance and at its exit. */
  whole: i32;
  rest: i32;
  parts: i32;
  /** Where in `onPlaces` an item that enters or leaves is booked, for the first kind; -1 where it stays where it is. */
  entersAt: i32;
  leavesAt: i32;
  giver: i32;
  taker: i32;
  /** Where the next item leaves, and where the next enters. */
  head: Place;
  next: Place;
  count: i32;
  entryDue: i32;
  entryLag: i32;
  exitDue: i32;
  exitLag: i32;
  /** 1 where an item was refused for want of room. */
  isAwaited: i32;
  low: i32;
  high: i32;
  leftAt: i32;
}

@unmanaged
export class Connection {
  belt: Belt | null;
  /** Which kinds are let in, a byte each; null where all are. */
  allows: Bytes | null;
  toKind: i32;
  toIndex: i32;
  passed: i32;
}

@unmanaged
export class Divider {
  /** The belt of its inlet; null where items are handed over directly. */
  inlet: Belt | null;
  /** Its outlets in `dividerOutlets`. */
  first: i32;
  count: i32;
  rule: i32;
  turn: i32;
}
