/** Limits on hold-up and dwell, compiled. */
import type { Rational } from "../quantity/rational.ts";
import type { Network } from "./network.ts";
import type { BufferGroup, CompiledLimit } from "./program.ts";
import { ticksWithin } from "./tick.ts";

/** Where each machine's buffers begin: infeeds, then outfeeds up to the next machine's infeeds. */
interface Buffers {
  readonly infeed: Int32Array;
  readonly arrays: { readonly item: Int32Array };
}

export function compileLimits(
  network: Network,
  items: ReadonlyMap<string, number>,
  placeOf: (connection: string) => number,
  { infeed, arrays }: Buffers,
): CompiledLimit[] {
  return network.holdUpLimits.map(({ place, item, most, connections, machines }) => {
    const kind = items.get(item) ?? -1;
    const members = new Set(machines);
    const buffers = network.machines.flatMap(({ id }, m) => {
      if (place === null || !members.has(id)) return [];
      const first = infeed[m] ?? 0;
      return Array.from({ length: (infeed[m + 1] ?? first) - first }, (_, i) => first + i);
    });
    return {
      item: kind,
      most,
      isPlant: place === null,
      place: place === null ? -1 : connections.reduce((found, id) => Math.max(found, placeOf(id)), -1),
      buffers: Int32Array.from(buffers.filter((buffer) => arrays.item[buffer] === kind)),
    };
  });
}

/** By kind: ticks within its limit, the shortest where it has several. */
export function dwellLimits({ items, dwellLimits: limits }: Network, tickS: Rational): Float64Array {
  return Float64Array.from(items, (item) =>
    limits
      .filter((limit) => limit.item === null || limit.item === item)
      .reduce((least, { limitMin }) => Math.min(least, ticksWithin(limitMin, tickS)), Infinity),
  );
}

/** Buffers of a machine group that hold the same kind, infeed and outfeed apart: a place where items lie. */
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
