/**
 * Belts, dividers and connections as the core holds them: records of whole numbers, one after the other, that refer to one
 * another by address. Fields and their order are those of the classes in core/records.ts.
 */
import type { Program } from "../network/program.ts";
import { FIRST_BYTE, roundedUp } from "./core-memory.ts";

/** Offsets of fields; core/records.ts says what they are. */
export const PLACE = { ready: 0, born: 1, item: 2 } as const;
export const BELT = {
  ring: 0,
  end: 1,
  capacity: 2,
  room: 3,
  transitTicks: 4,
  whole: 5,
  rest: 6,
  parts: 7,
  entersAt: 8,
  leavesAt: 9,
  giver: 10,
  taker: 11,
  head: 12,
  next: 13,
  count: 14,
  entryDue: 15,
  entryLag: 16,
  exitDue: 17,
  exitLag: 18,
  isAwaited: 19,
  low: 20,
  high: 21,
  leftAt: 22,
} as const;
export const CONNECTION = { belt: 0, allows: 1, toKind: 2, toIndex: 3, passed: 4 } as const;
export const DIVIDER = { inlet: 0, first: 1, count: 2, rule: 3, turn: 4 } as const;

export const PLACE_INTS = 3;
export const BELT_INTS = 23;
export const CONNECTION_INTS = 5;
export const DIVIDER_INTS = 5;

/** A field of all belts: a copy. */
export function beltField(belts: Int32Array, field: keyof typeof BELT): Int32Array {
  const values = new Int32Array(belts.length / BELT_INTS);
  for (let b = 0; b < values.length; b++) values[b] = belts[b * BELT_INTS + BELT[field]]!;
  return values;
}

/** Where records lie: the first thing in the core's memory, so that addresses are known before it is laid out. */
export interface Addresses {
  readonly belt: (b: number) => number;
  readonly place: (place: number) => number;
  readonly divider: (d: number) => number;
  readonly connection: (c: number) => number;
  /** Of what connections let in. */
  readonly allows: (c: number) => number;
}

const FIELD_BYTES = 4;

/** One kind after the other, in the order in which they are moved there. */
export function addressesIn({ belt, divider, connection, itemCount }: Program): Addresses {
  const belts = FIRST_BYTE;
  const places = belts + roundedUp(FIELD_BYTES * BELT_INTS * belt.count);
  const dividers = places + roundedUp(FIELD_BYTES * PLACE_INTS * belt.places);
  const connections = dividers + roundedUp(FIELD_BYTES * DIVIDER_INTS * divider.count);
  const allows = connections + roundedUp(FIELD_BYTES * CONNECTION_INTS * connection.count);
  const of = (first: number, ints: number) => (i: number) => (i < 0 ? 0 : first + FIELD_BYTES * ints * i);
  return {
    belt: of(belts, BELT_INTS),
    place: of(places, PLACE_INTS),
    divider: of(dividers, DIVIDER_INTS),
    connection: of(connections, CONNECTION_INTS),
    allows: (c) => allows + itemCount * c,
  };
}

/** Belts as they are before the first tick. */
export function beltRecords(program: Program, address: Addresses): Int32Array {
  const { belt, pace, itemCount } = program;
  const stays = passedWithin(program);
  const records = new Int32Array(belt.count * BELT_INTS);
  for (let b = 0; b < belt.count; b++) {
    const entry = belt.entryPace[b]!;
    const lies = belt.at[b]! * itemCount;
    const ring = address.place(belt.ring[b]!);
    const set = (field: keyof typeof BELT, value: number): void => {
      records[b * BELT_INTS + BELT[field]] = value;
    };
    set("ring", ring);
    set("end", address.place(belt.ring[b]! + belt.capacity[b]!));
    set("capacity", belt.capacity[b]!);
    set("room", belt.room[b]!);
    set("transitTicks", belt.transitTicks[b]!);
    set("whole", pace.whole[entry]!);
    set("rest", pace.rest[entry]!);
    set("parts", pace.parts[entry]!);
    set("entersAt", stays.entering[b] === 1 ? -1 : lies);
    set("leavesAt", stays.leaving[b] === 1 ? -1 : lies);
    set("giver", belt.giver[b]!);
    set("taker", belt.taker[b]!);
    set("head", ring);
    set("next", ring);
    set("leftAt", -1);
  }
  return records;
}

/**
 * By belt: 1 where whatever enters it, or leaves it, only goes from belt to belt of the same place: past a divider or merge
 * all of whose belts lie there. It changes nothing of what lies where, and need not be booked.
 */
function passedWithin({ belt, connection, divider, merge }: Program) {
  const [entering, leaving] = [new Uint8Array(belt.count), new Uint8Array(belt.count)];
  const note = (inlets: readonly number[], outlets: readonly number[]): void => {
    const places = new Set([...inlets, ...outlets].map((b) => (b < 0 ? -1 : belt.at[b]!)));
    if (places.size !== 1 || places.has(-1)) return;
    for (const b of inlets) leaving[b] = 1;
    for (const b of outlets) entering[b] = 1;
  };
  const beltsOf = (connections: Int32Array): number[] => Array.from(connections, (c) => connection.belt[c]!);
  for (let d = 0; d < divider.count; d++) {
    const { start, values } = divider.outlets;
    note([divider.inletBelt[d]!], beltsOf(values.subarray(start[d]!, start[d + 1]!)));
  }
  for (let g = 0; g < merge.count; g++) {
    const { start, values } = merge.inlets;
    note(beltsOf(values.subarray(start[g]!, start[g + 1]!)), beltsOf(merge.outlet.subarray(g, g + 1)));
  }
  return { entering, leaving };
}

export function connectionRecords({ connection, itemCount }: Program, address: Addresses): Int32Array {
  const records = new Int32Array(connection.count * CONNECTION_INTS);
  for (let c = 0; c < connection.count; c++) {
    const letsAllIn = connection.allows.subarray(c * itemCount, (c + 1) * itemCount).every((isLetIn) => isLetIn === 1);
    const allows = letsAllIn ? 0 : address.allows(c);
    const fields = [address.belt(connection.belt[c]!), allows, connection.toKind[c]!, connection.toIndex[c]!, 0];
    records.set(fields, c * CONNECTION_INTS);
  }
  return records;
}

/** Dividers as they are before the first tick. */
export function dividerRecords({ divider }: Program, address: Addresses): Int32Array {
  const records = new Int32Array(divider.count * DIVIDER_INTS);
  const { start } = divider.outlets;
  for (let d = 0; d < divider.count; d++) {
    const fields = [address.belt(divider.inletBelt[d]!), start[d]!, start[d + 1]! - start[d]!, divider.rule[d]!, 0];
    records.set(fields, d * DIVIDER_INTS);
  }
  return records;
}
