/** Products that one cycle of a machine adds. */
import { finalMachines } from "../network/graph.ts";
import type { MachineElement, Network } from "../network/network.ts";
import { total } from "../quantity/counts.ts";

export function productsPerCycle({ makes }: MachineElement): number {
  return total(makes.map(({ count }) => count));
}

/** To the plant's output, by machine; 0 for those whose products other machines take. */
export function outputPerCycle(network: Network): number[] {
  const isFinal = finalMachines(network);
  return network.machines.map((machine) => (isFinal.has(machine.id) ? productsPerCycle(machine) : 0));
}
