/** The flow solution as a result of its own: event times, output, loss and settled rates, all exact. */
import { offeredPerMin } from "../network/feeds.ts";
import { carriedAtMost } from "../network/headroom.ts";
import { countedPerCycle } from "../network/needs.ts";
import type { Network } from "../network/network.ts";
import { exact, type Rational, rational, whole, ZERO } from "../quantity/rational.ts";
import { flowBufferNames } from "./buffers.ts";
import { type FlowSolution, withinToleranceMin } from "./flow/flow.ts";
import { productsPerCycle } from "./makers.ts";
import type { Exact } from "./result.ts";
import { TOLERANCE } from "./settling.ts";

export interface Estimate {
  readonly title: string;
  readonly full_per_min: Exact;
  readonly settled_per_min: Exact;
  /** From here the output never changes again, or repeats its pattern. */
  readonly settling_min: Exact;
  /** Where the flows never become constant, how long their pattern is; else `null`. */
  readonly period_min: Exact | null;
  /** `null`: a pattern that repeats leaves the band for ever. */
  readonly within_tolerance_min: Exact | null;
  readonly tolerance: number;
  readonly ramp_up_loss: Exact;
  readonly events: readonly EstimateEvent[];
  readonly machines: readonly EstimateMachine[];
  readonly belts: readonly { readonly id: string; readonly flow_per_min: Exact; readonly headroom_per_min: Exact }[];
  readonly feeds: readonly { readonly id: string; readonly offered_per_min: Exact; readonly accepted_per_min: Exact }[];
}

export interface EstimateEvent {
  readonly at_min: Exact;
  readonly what: "full" | "empty" | "feed";
  /** Buffer or feed. */
  readonly where: string;
  /** The plant's output from here on. */
  readonly output_per_min: Exact;
}

export interface EstimateMachine {
  readonly id: string;
  /** Items taken per minute; where it takes several kinds, which are not to be added up, products. */
  readonly needs_per_min: Exact;
  readonly settled_per_min: Exact;
  /** Of all kinds that it makes. */
  readonly products: { readonly full_per_min: Exact; readonly settled_per_min: Exact };
  readonly takes: readonly { readonly item: string; readonly needs_per_min: Exact; readonly settled_per_min: Exact }[];
  /** When the last of its buffers is full for the first time; `null` if one never is. */
  readonly full_at_min: Exact | null;
}

export function estimate(title: string, network: Network, solution: FlowSolution): Estimate {
  const settled = solution.settled();
  const fullAt = fullTimes(network, solution);
  const within = withinToleranceMin(solution, rational(String(TOLERANCE)));
  const nameOf = flowBufferNames(network);
  return {
    title,
    full_per_min: exact(solution.fullPerMin),
    settled_per_min: exact(solution.settledPerMin),
    settling_min: exact(solution.settlingMin),
    period_min: solution.period && exact(solution.period.lengthMin),
    within_tolerance_min: within && exact(within),
    tolerance: TOLERANCE,
    ramp_up_loss: exact(solution.rampUpLoss),
    events: solution.phases.flatMap(({ fromMin, events, outputPerMin }) =>
      events.map((event) => ({
        at_min: exact(fromMin),
        what: event.what,
        where: event.what === "feed" ? event.feed : nameOf(event),
        output_per_min: exact(outputPerMin),
      })),
    ),
    machines: network.machines.map((machine) => {
      const { id } = machine;
      const uptime = settled.machines.get(id) ?? ZERO;
      const perMin = (perCycle: number): Rational => whole(perCycle).div(machine.cycleMin);
      const needs = perMin(countedPerCycle(machine));
      const products = perMin(productsPerCycle(machine));
      return {
        id,
        needs_per_min: exact(needs),
        settled_per_min: exact(needs.mul(uptime)),
        products: { full_per_min: exact(products), settled_per_min: exact(products.mul(uptime)) },
        takes: machine.takes.map(({ item, count }) => ({
          item,
          needs_per_min: exact(perMin(count)),
          settled_per_min: exact(perMin(count).mul(uptime)),
        })),
        full_at_min: fullAt.get(id) ?? null,
      };
    }),
    belts: network.connections.flatMap(({ id, belt }) => {
      const carried = settled.connections.get(id);
      return belt && carried
        ? [{ id, flow_per_min: exact(carried), headroom_per_min: exact(carriedAtMost(belt).sub(carried)) }]
        : [];
    }),
    feeds: network.feeds.map((feed) => ({
      id: feed.id,
      offered_per_min: exact(offeredPerMin(feed)),
      accepted_per_min: exact(settled.feeds.get(feed.id) ?? ZERO),
    })),
  };
}

/** By machine, the time at which the last of its buffers gets full for the first time. */
function fullTimes({ machines }: Network, { phases }: FlowSolution): Map<string, Exact> {
  const missing = new Map(machines.map(({ id, takes }) => [id, new Set(takes.map(({ item }) => item))]));
  const times = new Map<string, Exact>();
  for (const { fromMin, events } of phases) {
    for (const event of events) {
      if (event.what !== "full" || event.side !== "infeed") continue;
      const items = missing.get(event.machine);
      if (items?.delete(event.item) && items.size === 0) times.set(event.machine, exact(fromMin));
    }
  }
  return times;
}
