/** What a feed's items come to: the infeed buffers that need them, or what is made of them, however many stages on. */
import { graphOf, letsIn } from "../network/graph.ts";
import type { FeedElement, Network } from "../network/network.ts";

export interface FedBuffer {
  readonly machine: string;
  readonly item: string;
}

export function buffersFedBy(network: Network, feed: Pick<FeedElement, "id" | "items">): FedBuffer[] {
  const graph = graphOf(network);
  const machines = new Map(network.machines.map((machine) => [machine.id, machine]));
  const met = new Set<string>();
  const found: FedBuffer[] = [];
  const open = feed.items.map(({ item }) => ({ element: feed.id, item }));
  for (let next = open.pop(); next; next = open.pop()) {
    const { element, item } = next;
    for (const connection of graph.outOf(element)) {
      const { to } = connection;
      const key = `${to} ${item}`;
      if (!letsIn(connection, item) || met.has(key)) continue;
      met.add(key);
      const machine = machines.get(to);
      if (machine === undefined) open.push({ element: to, item });
      else if (machine.takes.some((one) => one.item === item)) {
        found.push({ machine: to, item });
        for (const made of machine.makes) open.push({ element: to, item: made.item });
      }
    }
  }
  return found;
}
