/** What a line is, before anything runs: its elements, its needs against its feed, its belts. */
import { offeredPerMin, sharesOf } from "../network/feeds.ts";
import { graphOf } from "../network/graph.ts";
import { carriedAtMost } from "../network/headroom.ts";
import type { LeastBelt } from "../network/least-belts.ts";
import type { Network } from "../network/network.ts";
import type { OverfedLoop } from "../network/overfed.ts";
import type { DividerPlan } from "../network/shared-line.ts";
import { hopperOf } from "../network/surges.ts";
import { approximate, exact, larger, type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import type { Line } from "../scenario/scenario.ts";
import { vehiclesOf } from "./batch-feeds.ts";
import { plannedCuts } from "./cuts.ts";
import type { FlowRefusal, FlowSolution } from "./flow/flow.ts";
import { freeFlow } from "./free-flow.ts";
import { type MixedLine, mixedLines } from "./mixed-lines.ts";
import type { Vehicles } from "./plant-results.ts";
import type { Exact } from "./result.ts";

export interface LineFacts {
  readonly title: string;
  readonly tick_s: Exact;
  readonly horizon_min: number;
  readonly elements: Readonly<
    Record<"feeds" | "surge_buffers" | "belts" | "hand_overs" | "dividers" | "merges" | "machines" | "outlets", number>
  >;
  readonly items: readonly ItemFacts[];
  readonly belts: readonly BeltFacts[];
  readonly cuts: readonly CutFacts[];
  readonly batches: readonly BatchFacts[];
  readonly mixed_lines: readonly MixedLine[];
  readonly plans: readonly DividerPlan[];
  readonly lanes: readonly LanesFacts[];
  readonly limits: readonly LimitFacts[];
  /** Machines that wait for ever, with the item that cannot come. */
  readonly unreachable: readonly string[];
  readonly overfed: readonly OverfedFacts[];
  readonly least_belts: readonly LeastBeltFacts[];
  /** Why the flows on the belts are not known; `null` where they are. */
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
  /** Its rate, or less where few have room on it for its length. */
  readonly at_most_per_min: Exact;
  /** Flow when all has settled; under a feed that changes, the greatest of those after each change. */
  readonly flow_per_min: Exact | null;
  readonly headroom_per_min: Exact | null;
}

/** A planned rate cut. */
export interface CutFacts {
  readonly divider: string;
  readonly belt: string;
  readonly cut_per_min: Exact;
  /** By the flow solution, as with belts; `null` without one. */
  readonly arriving_per_min: Exact | null;
}

/** A feed with vehicles or a surge buffer. */
export interface BatchFacts {
  readonly feed: string;
  readonly vehicles: Vehicles | null;
  readonly surge_room: number | null;
}

/** A line of lanes: what each outgoing lane carries, in order. */
export interface LanesFacts {
  readonly line: string;
  readonly outgoing: readonly {
    readonly belt: string;
    /** A machine or an outlet. */
    readonly to: string;
    readonly flow_per_min: Exact | null;
  }[];
}

/** A loop that is fed more than its machines take. */
export interface OverfedFacts {
  readonly line: string;
  readonly fed_per_min: Exact;
  readonly takes_per_min: Exact;
  /** The stretch where feed and return have merged. */
  readonly belt: string;
  /** What it would carry, fed just what the machines take, and what it carries at most. */
  readonly planned_per_min: Exact;
  readonly at_most_per_min: Exact;
}

/** For a line's belts that one key states: what the busiest is to carry, and what it can. */
export interface LeastBeltFacts {
  readonly line: string;
  readonly key: LeastBelt["key"];
  readonly least_per_min: Exact;
  readonly rate_per_min: Exact;
}

export interface LimitFacts {
  readonly what: "hold-up" | "dwell";
  /** `null` for the whole plant. */
  readonly place: string | null;
  /** `null` for every kind. */
  readonly item: string | null;
  /** Items or minutes. */
  readonly limit: number;
}

export interface LineSettings {
  readonly title: string;
  readonly tickS: Rational;
  readonly horizonMin: Rational;
  /** For what a layout is asked for. */
  readonly lines?: readonly Pick<Line, "id" | "layout">[];
  readonly plans?: readonly DividerPlan[];
  readonly overfed?: readonly OverfedLoop[];
  readonly leastBelts?: readonly LeastBelt[];
}

export function lineFacts(
  { title, tickS, horizonMin, lines = [], plans = [], overfed = [], leastBelts = [] }: LineSettings,
  network: Network,
  flow: FlowSolution | FlowRefusal,
  unreachable: readonly string[],
): LineFacts {
  const belts = network.connections.flatMap(({ id, belt }) => (belt ? [{ id, belt }] : []));
  const hoppers = new Set(network.surges.map(({ feed }) => hopperOf(feed)));
  // Return loops are beyond the flow solution, but not where nothing is held up.
  const flows = flow.applies ? settledFlows(flow) : freeFlow(network);
  const graph = graphOf(network);
  return {
    title,
    tick_s: exact(tickS),
    horizon_min: approximate(horizonMin),
    elements: {
      feeds: network.feeds.length,
      surge_buffers: network.surges.length,
      belts: belts.length - network.surges.length,
      hand_overs: network.connections.length - belts.length,
      dividers: network.dividers.length,
      merges: network.merges.filter(({ id }) => !hoppers.has(id)).length,
      machines: network.machines.length,
      outlets: network.outlets.length,
    },
    items: network.items.map((item) => itemFacts(network, item)),
    belts: belts.map(({ id, belt }) => {
      const carried = flows?.get(id);
      return {
        id,
        rate_per_min: exact(belt.ratePerMin),
        at_most_per_min: exact(carriedAtMost(belt)),
        flow_per_min: carried ? exact(carried) : null,
        headroom_per_min: carried ? exact(carriedAtMost(belt).sub(carried)) : null,
      };
    }),
    cuts: plannedCuts(network).map(({ divider, first, belt }) => ({
      divider,
      belt: first.id,
      cut_per_min: exact(belt.ratePerMin),
      arriving_per_min: flows ? exact(sum(graph.into(divider).map(({ id }) => flows.get(id) ?? ZERO))) : null,
    })),
    batches: batchFacts(network),
    mixed_lines: mixedLines(network),
    plans,
    lanes: lines
      .filter(({ layout }) => layout === "lanes")
      .map(({ id }) => ({ line: id, outgoing: outgoingLanes(network, id, flows) })),
    limits: [
      ...network.holdUpLimits.map(({ place, item, most }) => ({ what: "hold-up" as const, place, item, limit: most })),
      ...network.dwellLimits.map(({ item, limitMin }) => ({
        what: "dwell" as const,
        place: null,
        item,
        limit: approximate(limitMin),
      })),
    ],
    unreachable,
    least_belts: leastBelts.map(({ line, key, leastPerMin, ratePerMin }) => {
      return { line, key, least_per_min: exact(leastPerMin), rate_per_min: exact(ratePerMin) };
    }),
    overfed: overfed.map(({ line, belt, fedPerMin, takesPerMin, plannedPerMin, atMostPerMin }) => ({
      line,
      fed_per_min: exact(fedPerMin),
      takes_per_min: exact(takesPerMin),
      belt,
      planned_per_min: exact(plannedPerMin),
      at_most_per_min: exact(atMostPerMin),
    })),
    no_flow: flow.applies || flows ? null : flow.reason,
  };
}

function outgoingLanes(
  { connections, dividers, merges }: Network,
  line: string,
  flows: ReadonlyMap<string, Rational> | null,
): LanesFacts["outgoing"] {
  const junctions = new Set([...dividers, ...merges].map(({ id }) => id));
  const last = connections.filter((connection) => connection.line === line && !junctions.has(connection.to));
  return last.map(({ id, to }) => {
    const flow = flows?.get(id);
    return { belt: id, to, flow_per_min: flow ? exact(flow) : null };
  });
}

function batchFacts({ feeds, surges, connections }: Network): BatchFacts[] {
  return feeds.flatMap((feed) => {
    const queue = surges.find((surge) => surge.feed === feed.id)?.connection;
    const room = connections.find(({ id }) => id === queue)?.belt?.capacity ?? null;
    if (feed.batch === null && room === null) return [];
    return [{ feed: feed.id, vehicles: vehiclesOf(feed), surge_room: room }];
  });
}

/** By connection, the greatest flow in the last phase before each feed step and in the last of all; the mean of a period. */
function settledFlows({ phases, period, settled }: FlowSolution): ReadonlyMap<string, Rational> {
  if (period !== null) return settled().connections;
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
