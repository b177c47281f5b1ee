/**
 * Surge buffers: a queue between a feed and its line. Where the line takes from the feed by a belt, the queue ends at a
 * hopper that hands on to the belt; where it takes directly, the queue itself leads on.
 */
import { larger, ZERO } from "../quantity/rational.ts";
import type { BeltSpec, Feed } from "../scenario/scenario.ts";
import type { Connection, MergeElement, Network, Surge } from "./network.ts";

/** The feed's hopper, a merge of one inlet; no id of a file has a point in it. */
export function hopperOf(feed: string): string {
  return `${feed}.hopper`;
}

export function withSurges(network: Network, feeds: readonly Pick<Feed, "id" | "surge">[]): Network {
  const rooms = new Map(feeds.flatMap(({ id, surge }) => (surge === null ? [] : [[id, surge] as const])));
  if (rooms.size === 0) return network;
  const feedOf = new Map(network.feeds.map((feed) => [feed.id, feed]));
  const surges: Surge[] = [];
  const hoppers: MergeElement[] = [];
  const connections = network.connections.flatMap((connection): Connection[] => {
    const feed = feedOf.get(connection.from);
    const room = feed && rooms.get(feed.id);
    if (feed === undefined || room === undefined) return [connection];
    const fastest = feed.profile.reduce((rate, { ratePerMin }) => larger(rate, ratePerMin), ZERO);
    const queue: BeltSpec = {
      ratePerMin: connection.belt ? larger(fastest, connection.belt.ratePerMin) : fastest,
      capacity: room,
      transitMin: ZERO,
      metres: null,
    };
    if (connection.belt === null) {
      surges.push({ feed: feed.id, connection: connection.id });
      return [{ ...connection, belt: queue }];
    }
    const hopper = hopperOf(feed.id);
    const surge = `${feed.id}.surge`;
    surges.push({ feed: feed.id, connection: surge });
    hoppers.push({ id: hopper, line: connection.line, rule: "ordered" });
    return [
      { ...connection, id: surge, to: hopper, belt: queue },
      { ...connection, from: hopper },
    ];
  });
  return surges.length === 0 ? network : { ...network, connections, surges, merges: [...network.merges, ...hoppers] };
}

/** The same network without its surge buffers. */
export function withoutSurges(network: Network): Network {
  const hoppers = new Map(network.surges.map(({ feed }) => [hopperOf(feed), feed]));
  const queues = new Set(network.surges.map(({ connection }) => connection));
  return {
    ...network,
    surges: [],
    merges: network.merges.filter(({ id }) => !hoppers.has(id)),
    connections: network.connections.flatMap((connection): Connection[] => {
      if (hoppers.has(connection.to)) return [];
      const feed = hoppers.get(connection.from);
      if (feed !== undefined) return [{ ...connection, from: feed }];
      return [queues.has(connection.id) ? { ...connection, belt: null } : connection];
    }),
  };
}
