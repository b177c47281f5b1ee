/** What a tactic asks of the floor, with what must be known to set it up, and whether that is granted. */

import { expand } from "../../network/expand.ts";
import { offeredPerMin } from "../../network/feeds.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { needPerMin } from "../../network/needs.ts";
import type { Network } from "../../network/network.ts";
import { type Rational, smaller, sum, whole } from "../../quantity/rational.ts";
import type { Means } from "../../scenario/means.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { type LowLevel, type OfEachPart, ofParts, type Prefill, type Tactic } from "../../scenario/tactic.ts";

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

/**
 * @param handled items that hands place
 * @param mostFeed the multiple of their rate that belts let feeds run at; `null`: all that the tactic says
 */
export type AsksOf = (tactic: Tactic, handled: number, mostFeed?: Rational | null) => Ask[];

/** The line is drawn up once for all its tactics. */
export function asksIn(scenario: Scenario): AsksOf {
  const network = expand(scenario);
  const plant = { means: scenario.means, network, order: feedingOrder(scenario, network) };
  return (tactic, handled, mostFeed = null) => ofParts(tactic, ASKS, { ...plant, handled, mostFeed }).flat();
}

interface Asked {
  readonly means: Means;
  readonly network: Network;
  /** By line, machines as the flow comes to them. */
  readonly order: readonly (readonly string[])[];
  readonly handled: number;
  readonly mostFeed: Rational | null;
}

const ASKS: OfEachPart<[Asked], Ask[]> = {
  prefill: (prefill, { handled, means }) => (handled > 0 ? [handsFor(prefill, handled, means)] : []),
  hold: (_, { means }) => [{ what: "start", isGranted: means.starts.held }],
  stagger: (_, { means }) => [{ what: "start", isGranted: means.starts.staggered }],
  boost: ({ factor, forMin }, { means: { feed: granted }, network, mostFeed }) => {
    const isGranted = granted !== null && factor.compare(granted.factor) <= 0 && forMin.compare(granted.forMin) <= 0;
    const rates = feedRates(network, mostFeed === null ? factor : smaller(factor, mostFeed));
    return [{ what: "feed", isGranted, rates, forMin }];
  },
  lowLevel: ({ level, forMin }, { means }) => [{ what: "levels", isGranted: means.levels, level, forMin }],
  metered: ({ factor }, { means, network, order }) => [
    { what: "branches", isGranted: means.branches, rates: branchRates(network, order, factor) },
  ],
  farEndFirst: (_, { means }) => [{ what: "dividers", isGranted: means.dividers }],
  secondFeed: (second, { means: { secondFeed: granted }, network, order }) => {
    const at = second.at ?? order.find((machines) => machines.length > 0)?.at(-1) ?? null;
    const ratePerMin = sum(network.feeds.map(offeredPerMin)).mul(second.share);
    return [
      { what: "second-feed", isGranted: granted !== null && granted === at, at, ratePerMin, forMin: second.forMin },
    ];
  },
};

/** How fast hands place what a tactic has them place. */
export function handsPerMin(
  { byHandPerMin }: Pick<Prefill, "byHandPerMin">,
  { hands }: Pick<Means, "hands">,
): Rational {
  return byHandPerMin ?? hands?.ratePerMin ?? BY_HAND_PER_MIN;
}

function handsFor({ byHandPerMin, while: during }: Prefill, items: number, means: Means): Ask {
  const { hands } = means;
  const when = byHandPerMin === null ? "before" : during;
  const ratePerMin = handsPerMin({ byHandPerMin }, means);
  const isGranted =
    hands !== null && items <= hands.items && when === hands.while && ratePerMin.compare(hands.ratePerMin) <= 0;
  return { what: "hands", isGranted, items, while: when, ratePerMin };
}

export function feedRates({ feeds }: Network, factor: Rational): Rate[] {
  return feeds.map((feed) => ({ of: feed.id, perMin: offeredPerMin(feed).mul(factor) }));
}

/** Of all machines but the last of each line, which has no branch. */
export function branchRates({ machines }: Network, order: Asked["order"], factor: Rational): Rate[] {
  const last = new Set(order.map((line) => line.at(-1)));
  const branched = new Set(order.flat().filter((id) => !last.has(id)));
  return machines
    .filter(({ id }) => branched.has(id))
    .map((machine) => ({ of: machine.id, perMin: needPerMin(machine).mul(factor) }));
}
