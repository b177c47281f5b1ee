/** Whether what machines make comes back to them: a plant's lines lead onward, from feeds to outlets. */
import { type Graph, graphOf, letsIn } from "./graph.ts";
import type { Network } from "./network.ts";

/** A machine, or another element that a kind has come to. */
interface Stop {
  readonly node: string;
  /** `null` at a machine, where kinds begin and end. */
  readonly item: string | null;
}

interface Visit {
  readonly stop: Stop;
  readonly index: number;
  lowest: number;
  isOpen: boolean;
}

/**
 * @returns machines of which each feeds the next and the last the first; empty if there are none. A return belt is no
 * circle: nothing is made on it.
 */
export function circleOf(network: Network): readonly string[] {
  const waysFrom = waysOf(network, graphOf(network));
  const visits = new Map<string, Visit>();
  for (const { id } of network.machines) {
    if (visits.has(id)) continue;
    for (const group of groupsFrom({ node: id, item: null }, waysFrom, visits)) {
      const [only, ...others] = group;
      if (only && others.length === 0 && !waysFrom(only).some((way) => keyOf(way) === keyOf(only))) continue;
      const members = new Set(group.filter(({ item }) => item === null).map(({ node }) => node));
      const first = members.size > 0 ? network.machines.find((machine) => members.has(machine.id)) : undefined;
      if (first) return backTo(first.id, waysFrom, members);
    }
  }
  return [];
}

type Ways = (stop: Stop) => readonly Stop[];

/** Where the products of a machine, or the kind at an element, come to next; to a machine only if it takes them. */
function waysOf({ machines }: Network, graph: Graph): Ways {
  const machineOf = new Map(machines.map((machine) => [machine.id, machine]));
  return ({ node, item }) => {
    const kinds = item === null ? (machineOf.get(node)?.makes.map((made) => made.item) ?? []) : [item];
    return graph.outOf(node).flatMap((connection): Stop[] => {
      const { to } = connection;
      const machine = machineOf.get(to);
      const passing = kinds.filter((kind) => letsIn(connection, kind));
      if (machine === undefined) return passing.map((kind) => ({ node: to, item: kind }));
      return passing.some((kind) => machine.takes.some((taken) => taken.item === kind))
        ? [{ node: to, item: null }]
        : [];
    });
  };
}

function keyOf({ node, item }: Stop): string {
  return item === null ? node : `${node} ${item}`;
}

/**
 * Stops that lead to one another, group by group (R. Tarjan, "Depth-first search and linear graph algorithms", SIAM J.
 * Comput. 1, 1972). An own stack, since a chain may be ten thousand dividers deep.
 */
function* groupsFrom(start: Stop, waysFrom: Ways, visits: Map<string, Visit>): Generator<Stop[]> {
  const open: Visit[] = [];
  const enter = (stop: Stop) => {
    const visit = { stop, index: visits.size, lowest: visits.size, isOpen: true };
    visits.set(keyOf(stop), visit);
    open.push(visit);
    return { visit, ways: waysFrom(stop), next: 0 };
  };
  const stack = [enter(start)];
  for (let top = stack.at(-1); top; top = stack.at(-1)) {
    const { visit } = top;
    const way = top.ways[top.next++];
    if (way !== undefined) {
      const met = visits.get(keyOf(way));
      if (met === undefined) stack.push(enter(way));
      else if (met.isOpen) visit.lowest = Math.min(visit.lowest, met.index);
      continue;
    }
    stack.pop();
    const before = stack.at(-1)?.visit;
    if (before) before.lowest = Math.min(before.lowest, visit.lowest);
    if (visit.lowest < visit.index) continue;
    const group = open.splice(open.lastIndexOf(visit));
    for (const member of group) member.isOpen = false;
    yield group.map(({ stop }) => stop);
  }
}

/** The machines on a shortest way from one back to itself by way of others of its group; empty if there is none. */
function backTo(start: string, waysFrom: Ways, group: ReadonlySet<string>): string[] {
  const cameFrom = new Map<string, Stop>();
  const queue: Stop[] = [{ node: start, item: null }];
  for (const stop of queue) {
    for (const way of waysFrom(stop)) {
      const isKnown = cameFrom.has(keyOf(way)) || (way.item === null && !group.has(way.node));
      if (isKnown) continue;
      cameFrom.set(keyOf(way), stop);
      if (way.node === start && way.item === null) return machinesOn(start, cameFrom);
      queue.push(way);
    }
  }
  return [];
}

function machinesOn(start: string, cameFrom: ReadonlyMap<string, Stop>): string[] {
  const machines: string[] = [];
  let key = start;
  do {
    const before = cameFrom.get(key);
    if (before === undefined) return [];
    if (before.item === null) machines.unshift(before.node);
    key = keyOf(before);
  } while (key !== start);
  return machines;
}
