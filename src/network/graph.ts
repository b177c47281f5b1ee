/** Who feeds whom: neighbours, reach and the order of the sweep. */
import { groupBy } from "../quantity/counts.ts";
import { once } from "../quantity/once.ts";
import type { Connection, MachineElement, Network } from "./network.ts";

export interface Graph {
  /** Element ids: feeds, machines, dividers, merges, outlets, each group in file order. */
  readonly nodes: readonly string[];
  readonly machines: ReadonlySet<string>;
  readonly outOf: (node: string) => readonly Connection[];
  readonly into: (node: string) => readonly Connection[];
}

export const graphOf = once((network: Network): Graph => {
  const outOf = groupBy(network.connections, (connection) => connection.from);
  const into = groupBy(network.connections, (connection) => connection.to);
  const groups = [network.feeds, network.machines, network.dividers, network.merges, network.outlets];
  return {
    nodes: groups.flatMap((group) => group.map(({ id }) => id)),
    machines: new Set(network.machines.map(({ id }) => id)),
    outOf: (node) => outOf.get(node) ?? [],
    into: (node) => into.get(node) ?? [],
  };
});

/** Whether a connection is open to a kind. */
export function letsIn({ only }: Pick<Connection, "only">, item: string): boolean {
  return only === null || only.includes(item);
}

/** Whether a machine makes a kind that no line collects from it. */
export function leavesByItself({ outOf }: Graph, { id, makes }: MachineElement, item: string): boolean {
  return makes.some((made) => made.item === item) && !outOf(id).some((connection) => letsIn(connection, item));
}

export interface Sweep {
  /** Every node once, each after all it feeds but across `cuts`. */
  readonly order: readonly string[];
  /** Connections that close a loop: seen against the sweep, so the room they make is used a tick later. */
  readonly cuts: readonly Connection[];
}

/**
 * Depth first from the feeds, a node taking its place once all it feeds have theirs: reverse topological order, ties in
 * file order. An own stack, since a chain may be ten thousand dividers deep.
 */
export function sweepOf(graph: Graph): Sweep {
  const order: string[] = [];
  const cuts: Connection[] = [];
  const place = new Map<string, "open" | "done">();
  for (const root of graph.nodes) {
    if (place.has(root)) continue;
    place.set(root, "open");
    const stack = [{ node: root, next: 0 }];
    for (let top = stack.at(-1); top; top = stack.at(-1)) {
      const connection = graph.outOf(top.node)[top.next++];
      if (connection === undefined) {
        place.set(top.node, "done");
        order.push(top.node);
        stack.pop();
        continue;
      }
      const met = place.get(connection.to);
      if (met === "open") cuts.push(connection);
      if (met !== undefined) continue;
      place.set(connection.to, "open");
      stack.push({ node: connection.to, next: 0 });
    }
  }
  return { order, cuts };
}

/**
 * Every element that an item can come to from any of some elements, or with `back` come from, without passing through a
 * machine on the way. The elements themselves are not among them unless they reach one another.
 */
export function reachOf(graph: Graph, item: string, starts: readonly string[], way: "onward" | "back"): Set<string> {
  const reached = new Set<string>();
  const open = [...starts];
  for (let node = open.pop(); node !== undefined; node = open.pop()) {
    for (const connection of way === "onward" ? graph.outOf(node) : graph.into(node)) {
      const next = way === "onward" ? connection.to : connection.from;
      if (reached.has(next) || !letsIn(connection, item)) continue;
      reached.add(next);
      if (!graph.machines.has(next)) open.push(next);
    }
  }
  return reached;
}

/** Machines of which no product can come to a machine that takes it: what they make is the plant's output. */
export const finalMachines = once((network: Network): ReadonlySet<string> => {
  const { items, machines } = network;
  const graph = graphOf(network);
  const suppliers = new Map(
    items.map((item) => {
      const takers = machines.filter(({ takes }) => takes.some((taken) => taken.item === item)).map(({ id }) => id);
      return [item, reachOf(graph, item, takers, "back")];
    }),
  );
  const isFinal = ({ id, makes }: MachineElement): boolean => !makes.some(({ item }) => suppliers.get(item)?.has(id));
  return new Set(machines.filter(isFinal).map(({ id }) => id));
});
