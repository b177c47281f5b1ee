/** Flows of free products, away from the machines: nothing can hold them back, so each kind runs on by itself. */
import { letsIn } from "../../network/graph.ts";
import type { MachineElement } from "../../network/network.ts";
import type { FlowGraph } from "./graph.ts";
import { perMin } from "./item-kinds.ts";
import { type Amount, NONE, plus, times } from "./number.ts";
import { share } from "./sharing.ts";

/**
 * @param running share of the time that each machine runs
 * @returns items/min, all kinds together, by index of connection; what no connection collects leaves by itself
 */
export function productFlows(graph: FlowGraph, running: readonly Amount[]): Amount[] {
  const { connections, machines } = graph.network;
  const flows = connections.map(() => NONE);
  if (!graph.free.includes(true)) return flows;
  for (const item of new Set(machines.flatMap(({ makes }) => makes.map((made) => made.item)))) {
    const ofKind = connections.map(() => NONE);
    const open = (index: number) => {
      const connection = connections[index];
      return connection !== undefined && letsIn(connection, item);
    };
    for (const [index, machine] of machines.entries()) {
      const collecting = graph.machines[index]?.outlets.find(open);
      if (collecting !== undefined && graph.free[collecting])
        ofKind[collecting] = times(makesOf(machine, item), running[index] ?? NONE);
    }
    for (const { rule, weights, inlets, outlets } of graph.productJunctions) {
      const arriving = inlets.reduce((sum, inlet) => plus(sum, ofKind[inlet] ?? NONE), NONE);
      const passing = outlets.filter(open);
      const shares = share(
        rule,
        arriving,
        passing.map(() => null),
        weights && passing.map((outlet) => weights[outlets.indexOf(outlet)] ?? 1),
      );
      for (const [position, outlet] of passing.entries()) ofKind[outlet] = shares[position] ?? NONE;
    }
    for (const [index, flow] of ofKind.entries()) flows[index] = plus(flows[index] ?? NONE, flow);
  }
  return flows;
}

function makesOf(machine: MachineElement, item: string): Amount {
  return perMin(machine.makes.find((made) => made.item === item)?.count ?? 0, machine);
}
