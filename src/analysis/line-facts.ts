/** What a line is, before anything runs: its elements, its needs against its feed, its belts. */
import { offeredPerMin, sharesOf } from "../network/feeds.ts";
import type { Network } from "../network/network.ts";
import { approximate, exact, larger, type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import type { FlowRefusal, FlowSolution } from "./flow/flow.ts";
import type { Exact } from "./result.ts";

export interface LineFacts {
  readonly title: string;
  readonly tick_s: Exact;
  readonly horizon_min: number;
  readonly elements: Readonly<
    Record<"feeds" | "belts" | "hand_overs" | "dividers" | "merges" | "machines" | "outlets", number>
  >;
  readonly items: readonly ItemFacts[];
  readonly belts: readonly BeltFacts[];
  /** Machines that wait for ever, with the item that cannot come. */
  readonly unreachable: readonly string[];
  /** Why there is no flow solution, and so no flow on the belts; `null` where there is one. */
  readonly no_flow: string | null;
}

export interface ItemFacts {
  readonly item: string;
  /** What feeds offer at the end of the horizon, and at most at any time. */
  readonly fed_per_min: Exact;
  readonly fed_at_most_per_min: Exact;
  /** What machines make of it if none ever waits. */
  readonly made_per_min: Exact;
  /** What machines take of it if none ever waits. */
  readonly needed_per_min: Exact;
}

export interface BeltFacts {
  readonly id: string;
  readonly rate_per_min: Exact;
  /** Flow when all has settled; under a feed that changes, the greatest of those after each change. */
  readonly flow_per_min: Exact | null;
  readonly headroom_per_min: Exact | null;
}

export function lineFacts(
  { title, tickS, horizonMin }: { readonly title: string; readonly tickS: Rational; readonly horizonMin: Rational },
  network: Network,
  flow: FlowSolution | FlowRefusal,
  unreachable: readonly string[],
): LineFacts {
  const belts = network.connections.flatMap(({ id, belt }) => (belt ? [{ id, ratePerMin: belt.ratePerMin }] : []));
  const flows = flow.applies ? settledFlows(flow) : undefined;
  return {
    title,
    tick_s: exact(tickS),
    horizon_min: approximate(horizonMin),
    elements: {
      feeds: network.feeds.length,
      belts: belts.length,
      hand_overs: network.connections.length - belts.length,
      dividers: network.dividers.length,
      merges: network.merges.length,
      machines: network.machines.length,
      outlets: network.outlets.length,
    },
    items: network.items.map((item) => itemFacts(network, item)),
    belts: belts.map(({ id, ratePerMin }) => {
      const carried = flows?.get(id);
      return {
        id,
        rate_per_min: exact(ratePerMin),
        flow_per_min: carried ? exact(carried) : null,
        headroom_per_min: carried ? exact(ratePerMin.sub(carried)) : null,
      };
    }),
    unreachable,
    no_flow: flow.applies ? null : flow.reason,
  };
}

/** By connection, the greatest flow in the last phase before each feed step and in the last of all. */
function settledFlows({ phases }: FlowSolution): ReadonlyMap<string, Rational> {
  const greatest = new Map<string, Rational>();
  for (const [i, phase] of phases.entries()) {
    const isLast = phases[i + 1]?.events.some(({ what }) => what === "feed") ?? true;
    if (!isLast) continue;
    for (const [id, carried] of phase.detail().connections) {
      greatest.set(id, larger(carried, greatest.get(id) ?? ZERO));
    }
  }
  return greatest;
}

function itemFacts({ feeds, machines }: Network, item: string): ItemFacts {
  const supplies = feeds.flatMap((feed) => {
    const share = sharesOf(feed).find((one) => one.item === item)?.share;
    return share === undefined ? [] : [{ feed, share }];
  });
  const greatest = (rates: readonly Rational[]): Rational => rates.reduce(larger, ZERO);
  const perMin = (of: "takes" | "makes"): Rational =>
    sum(
      machines.map((machine) => {
        const count = machine[of].find((one) => one.item === item)?.count ?? 0;
        return whole(count).div(machine.cycleMin);
      }),
    );
  return {
    item,
    fed_per_min: exact(sum(supplies.map(({ feed, share }) => offeredPerMin(feed).mul(share)))),
    fed_at_most_per_min: exact(
      sum(supplies.map(({ feed, share }) => greatest(feed.profile.map((step) => step.ratePerMin)).mul(share))),
    ),
    made_per_min: exact(perMin("makes")),
    needed_per_min: exact(perMin("takes")),
  };
}
