/** The rates that a tactic is set up with: of feeds, of branches, of hands. */
import { offeredPerMin } from "../network/feeds.ts";
import { needPerMin } from "../network/needs.ts";
import type { Network } from "../network/network.ts";
import type { Order } from "../network/tactics/contribution.ts";
import { type Rational, whole } from "../quantity/rational.ts";
import type { Means } from "../scenario/means.ts";
import type { Prefill } from "../scenario/tactic-prefill.ts";

/** Of a feed, or of the branch to a machine. */
export interface Rate {
  readonly of: string;
  readonly perMin: Rational;
}

/** Where neither the tactic nor the floor says how fast hands are: one item a second; common practice, no source. */
export const BY_HAND_PER_MIN = whole(60);

/** How fast hands place what a tactic has them place. */
export function handsPerMin(
  { byHandPerMin }: Pick<Prefill, "byHandPerMin">,
  { hands }: Pick<Means, "hands">,
): Rational {
  return byHandPerMin ?? hands?.ratePerMin ?? BY_HAND_PER_MIN;
}

export function feedRates({ feeds }: Network, factor: Rational): Rate[] {
  return feeds.map((feed) => ({ of: feed.id, perMin: offeredPerMin(feed).mul(factor) }));
}

/** Of all machines but the last of each line, which has no branch. */
export function branchRates({ machines }: Network, order: Order, factor: Rational): Rate[] {
  const last = new Set(order.map((line) => line.at(-1)));
  const branched = new Set(order.flat().filter((id) => !last.has(id)));
  return machines
    .filter(({ id }) => branched.has(id))
    .map((machine) => ({ of: machine.id, perMin: needPerMin(machine).mul(factor) }));
}
