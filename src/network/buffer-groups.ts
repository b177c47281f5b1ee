/** Buffers of a machine group that hold the same kind, infeed and outfeed apart: a place where items lie. */
import type { Network } from "./network.ts";
import type { BufferGroup } from "./program.ts";

export interface BufferGroups {
  readonly groups: readonly BufferGroup[];
  /** By buffer: infeeds of a machine, then its outfeeds, machine by machine. */
  readonly group: Int32Array;
}

export function bufferGroups({ machines }: Pick<Network, "machines">): BufferGroups {
  const numbers = new Map<string, number>();
  const groups: BufferGroup[] = [];
  const group: number[] = [];
  for (const { id, group: place = id, takes, makes } of machines) {
    for (const [part, kinds] of [["infeed", takes] as const, ["outfeed", makes] as const]) {
      for (const { item } of kinds) {
        const key = `${part} ${item} ${place}`;
        const number = numbers.get(key) ?? groups.length;
        if (number === groups.length) groups.push({ place, part, item });
        numbers.set(key, number);
        group.push(number);
      }
    }
  }
  return { groups, group: Int32Array.from(group) };
}
