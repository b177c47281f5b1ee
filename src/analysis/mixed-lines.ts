/** Lines that carry several kinds on one belt. */
import type { Connection, Network } from "../network/network.ts";
import { type Ways, waysOf } from "./ways.ts";

export interface MixedLine {
  readonly line: string;
  readonly items: readonly string[];
  /** Of these, kinds that no outlet takes: too much of one has nowhere to go. */
  readonly without_outlet: readonly string[];
}

export function mixedLines(network: Network): MixedLine[] {
  const ways = waysOf(network);
  const leaving = new Set(network.outlets.map(({ item }) => item));
  return network.lines.flatMap((line) => {
    const own = network.connections.filter((connection) => connection.line === line);
    const items = mixedKinds(network, ways, own);
    if (items.length < 2) return [];
    const free = (item: string): boolean => leaving.has(item) || leaving.has(null);
    return [{ line, items, without_outlet: items.filter((item) => !free(item)) }];
  });
}

/** The kinds that share one of these connections with another. */
export function mixedKinds({ items }: Network, { carries }: Ways, connections: readonly Connection[]): string[] {
  const mixed = new Set<string>();
  for (const connection of connections) {
    const carried = items.filter((item) => carries(connection, item));
    if (carried.length > 1) for (const item of carried) mixed.add(item);
  }
  return items.filter((item) => mixed.has(item));
}
