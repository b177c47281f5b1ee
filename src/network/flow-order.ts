/** The order in which machines are told: stage by stage, line by line, and along each line. */
import type { Scenario } from "../scenario/scenario.ts";
import { type Graph, graphOf, letsIn, sweepOf } from "./graph.ts";
import type { Connection, MachineElement, Network } from "./network.ts";

/**
 * The stage of each machine: 1 where all it takes comes from feeds, else one more than the latest stage among those whose
 * products can come to it. (Machines that supply one another in a circle are refused elsewhere; here they just end.)
 */
export function stagesOf(network: Network): Map<string, number> {
  const latest = latestSuppliers(network);
  return new Map(network.machines.map(({ id }) => [id, 1 + (latest.get(id) ?? 0)]));
}

/** Along a chain, written out or not, as it passes them; elsewhere, on a tree or in groups, as the file states them. */
export function inFlowOrder(scenario: Scenario, network: Network): MachineElement[] {
  const stages = stagesOf(network);
  const lines = new Map(network.lines.map((line, index) => [line, index]));
  const places = feedingOrder(scenario, network).map((ids, index) => {
    const layout = scenario.lines[index]?.layout;
    const isChain = layout === "chain" || (layout === "custom" && arePassed(ids, network));
    return new Map((isChain ? ids : []).map((id, place) => [id, place]));
  });
  const rank = ({ id, line }: MachineElement): readonly number[] => {
    const own = lines.get(line ?? "") ?? places.length;
    return [stages.get(id) ?? 0, own, places[own]?.get(id) ?? 0];
  };
  const ranks = new Map(network.machines.map((machine) => [machine, rank(machine)]));
  return network.machines.toSorted((a, b) => {
    const [ofA = [], ofB = []] = [ranks.get(a), ranks.get(b)];
    const first = ofA.findIndex((value, i) => value !== ofB[i]);
    return first < 0 ? 0 : (ofA[first] ?? 0) - (ofB[first] ?? 0);
  });
}

/** A kind at an element that passes it on, or at a machine all that it takes. */
interface Place {
  readonly node: string;
  readonly item: string | null;
}

/** By machine, the latest stage among those that supply it; 0 for none. */
function latestSuppliers(network: Network): Map<string, number> {
  const graph = graphOf(network);
  // What comes back by a return belt has been at its head before.
  const returns = new Set(sweepOf(graph).cuts);
  const machines = new Map(network.machines.map((machine) => [machine.id, machine]));
  const latest = new Map<string, number>();
  for (const { id } of network.machines) {
    // An own stack, since a chain may be ten thousand dividers long; a place on it is visited, but has no stage yet.
    const stack: { key: string; suppliers: Place[]; next: number; most: number }[] = [];
    const enter = (place: Place): void => {
      const key = keyOf(place);
      if (latest.has(key)) return;
      latest.set(key, 0);
      stack.push({ key, suppliers: suppliersOf(place, graph, machines, returns), next: 0, most: 0 });
    };
    enter({ node: id, item: null });
    for (let top = stack.at(-1); top; top = stack.at(-1)) {
      const supplier = top.suppliers[top.next];
      if (supplier === undefined) {
        latest.set(top.key, top.most);
        stack.pop();
        continue;
      }
      const known = latest.get(keyOf(supplier));
      if (known === undefined) {
        enter(supplier);
        continue;
      }
      top.most = Math.max(top.most, supplier.item === null ? known + 1 : known);
      top.next++;
    }
  }
  return latest;
}

function suppliersOf(
  { node, item }: Place,
  graph: Graph,
  machines: ReadonlyMap<string, MachineElement>,
  returns: ReadonlySet<Connection>,
): Place[] {
  const wanted = item === null ? (machines.get(node)?.takes.map((taken) => taken.item) ?? []) : [item];
  return wanted.flatMap((kind) =>
    graph.into(node).flatMap((connection): Place[] => {
      if (returns.has(connection) || !letsIn(connection, kind)) return [];
      const { from } = connection;
      const machine = machines.get(from);
      if (machine === undefined) return [{ node: from, item: kind }];
      return machine.makes.some((made) => made.item === kind) ? [{ node: from, item: null }] : [];
    }),
  );
}

function keyOf({ node, item }: Place): string {
  return item === null ? node : `${node} ${item}`;
}

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
function arePassed(inOrder: readonly string[], network: Network): boolean {
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
