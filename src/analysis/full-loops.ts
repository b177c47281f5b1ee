/**
 * Return loops with a belt that gets full: what circles in them is what happens to find room, which depends on the tick. What
 * comes in, what machines take and what leaves does not.
 */
import type { Run } from "../engine/simulate.ts";
import { type Graph, graphOf, sweepOf } from "../network/graph.ts";
import type { Connection } from "../network/network.ts";

/**
 * Connections whose flow hangs on such a loop, by their place in the network: those in it, and those that lead from it to
 * where several ways come together, so that what machines take does not tell what each carries.
 */
export function fullLoops({ program, settledLevels, noted }: Run): ReadonlySet<number> {
  const { network, belt } = program;
  const graph = graphOf(network);
  const most = settledLevels?.beltHigh ?? noted.beltHigh;
  const full = new Set<Connection>();
  for (let b = 0; b < belt.count; b++) {
    const connection = network.connections[belt.connection[b] ?? -1];
    if (connection !== undefined && (most[b] ?? 0) >= (belt.room[b] ?? Infinity)) full.add(connection);
  }
  const open = new Set<Connection>();
  for (const { from, to } of sweepOf(graph).cuts) {
    const onward = reached(to, (node) => graph.outOf(node).map((connection) => connection.to));
    const back = reached(from, (node) => graph.into(node).map((connection) => connection.from));
    const loop = network.connections.filter((one) => onward.has(one.from) && back.has(one.to));
    if (!loop.some((connection) => full.has(connection))) continue;
    for (const connection of loop) open.add(connection);
    const fed = network.connections.filter((one) => onward.has(one.from) && !open.has(one));
    for (const connection of fed) if (!isToldByTakers(graph, connection)) open.add(connection);
  }
  return new Set(network.connections.flatMap((connection, c) => (open.has(connection) ? [c] : [])));
}

/** Whether all that it leads to comes by it alone. */
function isToldByTakers(graph: Graph, { to }: Connection): boolean {
  const ends = reached(to, (node) => (graph.machines.has(node) ? [] : graph.outOf(node).map((one) => one.to)));
  return [...ends].every((node) => graph.machines.has(node) || graph.into(node).length === 1);
}

function reached(start: string, next: (node: string) => readonly string[]): ReadonlySet<string> {
  const found = new Set([start]);
  for (const node of found) for (const one of next(node)) found.add(one);
  return found;
}
