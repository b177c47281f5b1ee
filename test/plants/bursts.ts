/**
 * How far whole items and whole cycles can put a plant off its mean flows, and plants with room for it.
 *
 * What a feed brings is never a whole item off its mean. A machine makes its products all at once, and its cycles are at
 * most one off their mean, and as many more as a burst of what it waits for holds. So, kind by kind from the feeds on,
 * `burst(kind)` items may come at once that in the mean come one by one; and in the same way back from the last
 * machines, `gap(kind)` may be wanted at once. (After R. L. Cruz, "A calculus for network delay", IEEE Transactions on
 * Information Theory 37, 1991, who bounds packets in a network so; from memory.)
 */
import type { Group, Plant } from "./random-plants.ts";

/** Every infeed has room for the bursts of what it takes, every outfeed for the gaps of what it makes. */
export function withRoom(plant: Plant): Plant {
  const burst = new Map<string, number>();
  const gap = new Map<string, number>();
  const off = (by: ReadonlyMap<string, number>, counts: Group["takes"]): number =>
    1 + Math.max(0, ...Object.entries(counts).map(([kind, count]) => Math.ceil((by.get(kind) ?? 0) / count)));
  const add = (to: Map<string, number>, counts: Group["takes"], cycles: number): void => {
    for (const [kind, count] of Object.entries(counts)) to.set(kind, (to.get(kind) ?? 0) + cycles * count);
  };
  for (const { items } of plant.feeds) add(burst, items, 1);
  for (const { takes, makes, machines } of plant.groups) add(burst, makes, machines.length * off(burst, takes));
  for (const { takes, makes, machines } of plant.groups.toReversed())
    add(gap, takes, machines.length * off(gap, makes));
  const most = (by: ReadonlyMap<string, number>, counts: Group["takes"]): number =>
    Math.max(0, ...Object.keys(counts).map((kind) => by.get(kind) ?? 0));
  const groups = plant.groups.map((group) => ({
    ...group,
    machines: group.machines.map(({ cycleS, spareIn, spareOut }) => ({
      cycleS,
      spareIn: spareIn + most(burst, group.takes),
      spareOut: spareOut + most(gap, group.makes),
    })),
  }));
  return { ...plant, groups };
}
