/** What a machine needs when it never waits. */
import { total } from "../quantity/counts.ts";
import { type Rational, whole } from "../quantity/rational.ts";
import type { MachineElement } from "./network.ts";

/** Items of all kinds that one cycle takes. */
export function itemsPerCycle({ takes }: Pick<MachineElement, "takes">): number {
  return total(takes.map(({ count }) => count));
}

/** Items/min, all kinds. */
export function needPerMin(machine: Pick<MachineElement, "takes" | "cycleMin">): Rational {
  return whole(itemsPerCycle(machine)).div(machine.cycleMin);
}
