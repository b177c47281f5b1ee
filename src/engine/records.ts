/**
 * Belts and dividers as the core holds them: a record of whole numbers each, one after the other, what never changes first.
 * Fields and their order are those of the classes in core/memory.ts.
 */
import type { Program } from "../network/program.ts";

/** Offsets of a belt's fields; core/memory.ts says what they are. */
export const BELT = {
  capacity: 0,
  room: 1,
  transitTicks: 2,
  ring: 3,
  whole: 4,
  rest: 5,
  parts: 6,
  entersAt: 7,
  leavesAt: 8,
  giver: 9,
  taker: 10,
  head: 11,
  count: 12,
  entryDue: 13,
  entryLag: 14,
  exitDue: 15,
  exitLag: 16,
  isAwaited: 17,
  low: 18,
  high: 19,
  leftAt: 20,
} as const;
export const BELT_INTS = 21;

export const DIVIDER = { inlet: 0, first: 1, count: 2, rule: 3, turn: 4 } as const;
export const DIVIDER_INTS = 5;

/** Belts come first in the core's memory, from here on. An address of 0 is none. */
export const FIRST_BYTE = 8;

export function beltAddress(b: number): number {
  return b < 0 ? 0 : FIRST_BYTE + 4 * BELT_INTS * b;
}

/** A field of all belts: a copy. */
export function beltField(belts: Int32Array, field: keyof typeof BELT): Int32Array {
  const values = new Int32Array(belts.length / BELT_INTS);
  for (let b = 0; b < values.length; b++) values[b] = belts[b * BELT_INTS + BELT[field]]!;
  return values;
}

/** A field of all belts set to one value each. */
export function setBeltField(belts: Int32Array, field: keyof typeof BELT, values: Int32Array): void {
  for (let b = 0; b < values.length; b++) belts[b * BELT_INTS + BELT[field]] = values[b]!;
}

/** Belts as they are before the first tick. */
export function beltRecords(program: Program): Int32Array {
  const { belt, pace, itemCount } = program;
  const stays = passedWithin(program);
  const records = new Int32Array(belt.count * BELT_INTS);
  for (let b = 0; b < belt.count; b++) {
    const entry = belt.entryPace[b]!;
    const lies = belt.at[b]! * itemCount;
    const set = (field: keyof typeof BELT, value: number): void => {
      records[b * BELT_INTS + BELT[field]] = value;
    };
    set("capacity", belt.capacity[b]!);
    set("room", belt.room[b]!);
    set("transitTicks", belt.transitTicks[b]!);
    set("ring", belt.ring[b]!);
    set("whole", pace.whole[entry]!);
    set("rest", pace.rest[entry]!);
    set("parts", pace.parts[entry]!);
    set("entersAt", stays.entering[b] === 1 ? -1 : lies);
    set("leavesAt", stays.leaving[b] === 1 ? -1 : lies);
    set("giver", belt.giver[b]!);
    set("taker", belt.taker[b]!);
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

/** Dividers as they are before the first tick. */
export function dividerRecords({ divider }: Program): Int32Array {
  const records = new Int32Array(divider.count * DIVIDER_INTS);
  const { start } = divider.outlets;
  for (let d = 0; d < divider.count; d++) {
    const fields = [beltAddress(divider.inletBelt[d]!), start[d]!, start[d + 1]! - start[d]!, divider.rule[d]!, 0];
    records.set(fields, d * DIVIDER_INTS);
  }
  return records;
}
