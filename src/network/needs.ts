/** What a machine needs when it never waits. */
import { total } from "../quantity/counts.ts";
import { type Rational, whole } from "../quantity/rational.ts";
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
