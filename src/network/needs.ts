/** What a machine needs when it never waits. */
import { total } from "../quantity/counts.ts";
import { ONE, type Rational, whole, ZERO } from "../quantity/rational.ts";
import type { Plant } from "./collect.ts";
import type { MachineElement } from "./network.ts";

/** Items of all kinds that one cycle takes. */
export function itemsPerCycle({ takes }: Pick<MachineElement, "takes">): number {
  return total(takes.map(({ count }) => count));
}

/**
 * What a cycle counts for where a machine has a single figure: items where it takes one kind; where it takes several, which
 * are not to be added up, products.
 */
export function countedPerCycle({ takes, makes }: Pick<MachineElement, "takes" | "makes">): number {
  return total((takes.length === 1 ? takes : makes).map(({ count }) => count));
}

/** Items/min, all kinds. */
export function needPerMin(machine: Pick<MachineElement, "takes" | "cycleMin">): Rational {
  return whole(itemsPerCycle(machine)).div(machine.cycleMin);
}

/** Items of some kinds that a machine takes per minute when it never waits. */
export function needOf(consumer: string, kinds: readonly string[], { groups, speeds }: Plant): Rational {
  const group = groups.get(consumer);
  const speed = speeds.get(consumer);
  if (group === undefined || speed === undefined) return ZERO;
  const taken = group.takes.filter(({ item }) => kinds.includes(item)).reduce((sum, { count }) => sum + count, 0);
  return whole(taken).mul(speed).div(group.cycleMin);
}

/** Of the kinds that a line carries, by consumer, for shares: outlets alone, which take whatever comes, share alike, 1 each. */
export function needsFor(consumers: readonly string[], kinds: readonly string[], plant: Plant): Rational[] {
  const areOutlets = leadsToOutlets(consumers, plant);
  return consumers.map((consumer) => (areOutlets ? ONE : needOf(consumer, kinds, plant)));
}

/** And to nothing else. */
export function leadsToOutlets(consumers: readonly string[], { outlets }: Plant): boolean {
  return consumers.every((consumer) => outlets.has(consumer));
}
