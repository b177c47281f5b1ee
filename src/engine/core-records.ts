/**
 * Records in the core's memory, told once: for what most of a run's time goes into. Those of a kind lie one after the other, and
 * refer to one another by address, 0 for none. From here core/build.mjs makes the core's classes (core/records.ts) and the
 * offsets for the host (record-offsets.ts).
 */

type FieldKind = "int" | "address" | "bytes by kind or none" | Address;
export type Address = `to ${RecordName}` | `to ${RecordName} or none`;
export type RecordName = "Place" | "Belt" | "Connection" | "Divider";

export const RECORDS = {
  /** An item's place on a belt. */
  Place: {
    /** The tick from which the item may leave. */
    ready: "int",
    /** The tick at which it was fed or made. */
    born: "int",
    item: "int",
  },
  /** What never changes comes first. */
  Belt: {
    /** Its places are a ring, from `ring` to before `end`. */
    ring: "to Place",
    end: "address",
    capacity: "int",
    room: "int",
    transitTicks: "int",
    /** The interval at its entrance and at its exit. */
    whole: "int",
    rest: "int",
    parts: "int",
    /** Where in `onPlaces` an item that enters or leaves is booked, for the first kind; -1 where it stays where it is. */
    entersAt: "int",
    leavesAt: "int",
    giver: "int",
    taker: "int",
    /** Where the next item leaves, and where the next enters. */
    head: "to Place",
    next: "to Place",
    count: "int",
    entryDue: "int",
    entryLag: "int",
    exitDue: "int",
    exitLag: "int",
    /** 1 where an item was refused for want of room. */
    isAwaited: "int",
    low: "int",
    high: "int",
    leftAt: "int",
  },
  Connection: {
    belt: "to Belt or none",
    /** Which kinds are let in; none where all are. */
    allows: "bytes by kind or none",
    toKind: "int",
    toIndex: "int",
    passed: "int",
  },
  Divider: {
    /** The belt of its inlet; none where items are handed over directly. */
    inlet: "to Belt or none",
    /** Its outlets in `dividerOutlets`. */
    first: "int",
    count: "int",
    rule: "int",
    turn: "int",
  },
} as const satisfies Readonly<Record<RecordName, Readonly<Record<string, FieldKind>>>>;
