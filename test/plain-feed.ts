/** A feed of one kind, without vehicles. */
import type { FeedElement } from "../src/network/network.ts";
import type { FeedStep } from "../src/scenario/scenario.ts";

export function plainFeed(id: string, item: string, profile: readonly FeedStep[]): FeedElement {
  return { id, items: [{ item, count: 1 }], order: "spread", profile, batch: null };
}
