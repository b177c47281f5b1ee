/**
 * Who makes a plant's output, a product a cycle or more: its machines, of which those count whose products none takes; in a plant
 * without machines its outlets, each item that leaves being a cycle of one product.
 */
import type { Totals } from "../engine/totals.ts";
import { offeredPerMin } from "../network/feeds.ts";
import { finalMachines } from "../network/graph.ts";
import type { MachineElement, Network } from "../network/network.ts";
import type { Program } from "../network/program.ts";
import { total } from "../quantity/counts.ts";
import { approximate, type Rational, sum, whole } from "../quantity/rational.ts";

export function hasMachines({ machines }: Pick<Network, "machines">): boolean {
  return machines.length > 0;
}

export function makerCount({ network }: Pick<Program, "network">): number {
  return hasMachines(network) ? network.machines.length : network.outlets.length;
}

export function productsPerCycle({ makes }: MachineElement): number {
  return total(makes.map(({ count }) => count));
}

/** By maker: products of one cycle. */
export function eachPerCycle(network: Network): number[] {
  return hasMachines(network) ? network.machines.map(productsPerCycle) : network.outlets.map(() => 1);
}

/** By maker: what one cycle adds to the plant's output; 0 for machines whose products others take. */
export function outputPerCycle(network: Network): number[] {
  const isFinal = finalMachines(network);
  const each = eachPerCycle(network);
  return hasMachines(network) ? network.machines.map(({ id }, m) => (isFinal.has(id) ? (each[m] ?? 0) : 0)) : each;
}

/** By maker: cycles per minute if none ever waits. Of outlets all that is fed, in equal parts: what each gets is the line's to say. */
export function fullCyclesOf(network: Network): Rational[] {
  if (hasMachines(network)) return network.machines.map(({ cycleMin }) => cycleMin.inverse());
  const fed = sum(network.feeds.map(offeredPerMin));
  return network.outlets.map(() => fed.div(whole(network.outlets.length)));
}

/** By maker: cycles among these totals. */
export function cyclesDone({ network, itemCount }: Program, totals: Totals): Float64Array {
  if (hasMachines(network)) return totals.cycles;
  return Float64Array.from(network.outlets, (_, o) =>
    total(totals.outletItems.subarray(o * itemCount, (o + 1) * itemCount)),
  );
}

/** Minutes of the longest cycle; 0 without machines. */
export function longestCycleMin({ machines }: Pick<Network, "machines">): number {
  return Math.max(0, ...machines.map(({ cycleMin }) => approximate(cycleMin)));
}
