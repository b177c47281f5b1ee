/** Feeds with vehicles and several kinds, and what they release tick by tick. */
import { initialState } from "../../src/engine/start-state.ts";
import type { FeedElement, Network } from "../../src/network/network.ts";
import type { Program } from "../../src/network/program.ts";
import { rational } from "../../src/quantity/rational.ts";
import type { ItemCount } from "../../src/scenario/scenario.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { feed } from "./lines.ts";
import { advanceOneTick } from "./one-tick.ts";

export interface Vehicles {
  readonly everyMin: string;
  readonly items: number;
  readonly firstMin?: string;
}

/** @param perMin the rate of unloading */
export function unloading(
  id: string,
  perMin: string,
  { everyMin, items, firstMin = "0" }: Vehicles,
  item = "pouch",
): FeedElement {
  return {
    ...feed(id, perMin, item),
    batch: { everyMin: rational(everyMin), items, firstMin: rational(firstMin) },
  };
}

export function mixed(
  id: string,
  perMin: string,
  counts: Readonly<Record<string, number>>,
  order: FeedElement["order"] = "spread",
): FeedElement {
  const items = Object.entries(counts).map(([item, count]): ItemCount => ({ item, count }));
  return { ...feed(id, perMin), items, order };
}

/** A feed with nothing in its way. */
export function free(element: FeedElement): Network {
  return network({
    items: element.items.map(({ item }) => item),
    feeds: [element],
    outlets: [{ id: "out", item: null }],
    connections: [connection(element.id, "out")],
  });
}

export interface Release {
  readonly tick: number;
  readonly item: string;
}

/** What the first feed releases in the first so many ticks. */
export function releases(program: Program, ticks: number): Release[] {
  const state = initialState(program);
  const found: Release[] = [];
  let before = state.totals.fedItems.slice();
  while (state.tick < ticks) {
    advanceOneTick(program, state);
    for (const [item, name] of program.network.items.entries()) {
      const added = (state.totals.fedItems[item] ?? 0) - (before[item] ?? 0);
      for (let n = 0; n < added; n++) found.push({ tick: state.tick, item: name });
    }
    before = state.totals.fedItems.slice();
  }
  return found;
}
