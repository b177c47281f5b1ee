/**
 * Belts, dividers and connections as the core holds them: records of whole numbers, one after the other, that refer to one
 * another by address (core-records.ts).
 */
import type { Program } from "../network/program.ts";
import { FIRST_BYTE, roundedUp } from "./core-memory.ts";
import { BELT, BELT_INTS, CONNECTION, CONNECTION_INTS, DIVIDER, DIVIDER_INTS, PLACE_INTS } from "./record-offsets.ts";

/** A value for each field. */
type Fields<Offsets> = { readonly [Name in keyof Offsets]: number };

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

/** So many records as the host has them, one after the other. */
function recordsFrom<Offsets extends Readonly<Record<string, number>>>(
  count: number,
  ints: number,
  offsets: Offsets,
  fieldsOf: (i: number) => Fields<Offsets>,
): Int32Array {
  const records = new Int32Array(count * ints);
  for (let i = 0; i < count; i++) {
    const fields = fieldsOf(i);
    for (const name in offsets) records[i * ints + offsets[name]!] = fields[name];
  }
  return records;
}

/** Belts as they are before the first tick. */
export function beltRecords(program: Program, address: Addresses): Int32Array {
  const { belt, pace, itemCount } = program;
  const stays = passedWithin(program);
  return recordsFrom(belt.count, BELT_INTS, BELT, (b) => {
    const entry = belt.entryPace[b]!;
    const lies = belt.at[b]! * itemCount;
    const ring = address.place(belt.ring[b]!);
    return {
      ring,
      end: address.place(belt.ring[b]! + belt.capacity[b]!),
      capacity: belt.capacity[b]!,
      room: belt.room[b]!,
      transitTicks: belt.transitTicks[b]!,
      whole: pace.whole[entry]!,
      rest: pace.rest[entry]!,
      parts: pace.parts[entry]!,
      entersAt: stays.entering[b] === 1 ? -1 : lies,
      leavesAt: stays.leaving[b] === 1 ? -1 : lies,
      giver: belt.giver[b]!,
      taker: belt.taker[b]!,
      head: ring,
      next: ring,
      count: 0,
      entryDue: 0,
      entryLag: 0,
      exitDue: 0,
      exitLag: 0,
      isAwaited: 0,
      low: 0,
      high: 0,
      leftAt: -1,
    };
  });
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
  return recordsFrom(connection.count, CONNECTION_INTS, CONNECTION, (c) => {
    const letsAllIn = connection.allows.subarray(c * itemCount, (c + 1) * itemCount).every((isLetIn) => isLetIn === 1);
    return {
      belt: address.belt(connection.belt[c]!),
      allows: letsAllIn ? 0 : address.allows(c),
      toKind: connection.toKind[c]!,
      toIndex: connection.toIndex[c]!,
      passed: 0,
    };
  });
}

/** Dividers as they are before the first tick. */
export function dividerRecords({ divider }: Program, address: Addresses): Int32Array {
  const { start } = divider.outlets;
  return recordsFrom(divider.count, DIVIDER_INTS, DIVIDER, (d) => ({
    inlet: address.belt(divider.inletBelt[d]!),
    first: start[d]!,
    count: start[d + 1]! - start[d]!,
    rule: divider.rule[d]!,
    turn: 0,
  }));
}
