/** The machines of each line in the order in which its flow comes to them. */
import type { Scenario } from "../scenario/scenario.ts";
import { graphOf } from "./graph.ts";
import type { Network } from "./network.ts";

/** A chain states its order; elsewhere the machine with fewer elements before it comes first, then file order. */
export function feedingOrder(scenario: Scenario, network: Network): string[][] {
  const machines = new Set(network.machines.map(({ id }) => id));
  const depth = depths(network);
  return scenario.lines.map((line) => {
    if (line.layout === "chain") {
      return line.to
        .flatMap((id) => scenario.machines.find((group) => group.id === id)?.members ?? [id])
        .filter((id) => machines.has(id));
    }
    const fed = new Set(network.connections.filter((one) => one.line === line.id).map(({ to }) => to));
    const own = [...machines].filter((id) => fed.has(id));
    return own.toSorted((a, b) => (depth.get(a) ?? 0) - (depth.get(b) ?? 0));
  });
}

/** Whether they are passed one after the other, as along a chain: no two stand as far on, but for the last, at its end. */
export function arePassed(inOrder: readonly string[], network: Network): boolean {
  const depth = depths(network);
  return inOrder.slice(1, -1).every((id, i) => (depth.get(id) ?? 0) > (depth.get(inOrder[i] ?? "") ?? 0));
}

/** The fewest connections from a feed to each element. */
function depths(network: Network): Map<string, number> {
  const graph = graphOf(network);
  const depth = new Map(network.feeds.map(({ id }) => [id, 0]));
  // A Map's keys are visited in order of insertion, those added on the way included: breadth first.
  for (const [node, own] of depth) {
    for (const { to } of graph.outOf(node)) if (!depth.has(to)) depth.set(to, own + 1);
  }
  return depth;
}
