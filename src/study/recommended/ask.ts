/** One thing that a tactic asks of the floor, and the rates that it is set up with. */
import { offeredPerMin } from "../../network/feeds.ts";
import { needPerMin } from "../../network/needs.ts";
import type { Network } from "../../network/network.ts";
import type { Order } from "../../network/tactics/contribution.ts";
import { type Rational, whole } from "../../quantity/rational.ts";
import type { Means } from "../../scenario/means.ts";
import type { LowLevel } from "../../scenario/tactic-parts.ts";
import type { Prefill } from "../../scenario/tactic-prefill.ts";

export type Ask = { readonly isGranted: boolean } & (
  | {
      readonly what: "hands";
      readonly items: number;
      readonly while: Prefill["while"];
      readonly ratePerMin: Rational;
    }
  | { readonly what: "start" | "dividers" }
  | { readonly what: "feed"; readonly rates: readonly Rate[]; readonly forMin: Rational }
  | ({ readonly what: "levels" } & Pick<LowLevel, "level" | "forMin">)
  | { readonly what: "branches"; readonly rates: readonly Rate[] }
  /** `null`: the last machine of a plant without any. */
  | {
      readonly what: "second-feed";
      readonly at: string | null;
      readonly ratePerMin: Rational;
      readonly forMin: Rational;
    }
);

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
