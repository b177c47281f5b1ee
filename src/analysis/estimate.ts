/** The flow solution as a result of its own: event times, output, loss and settled rates, all exact. */
import type { Network } from "../network/network.ts";
import { exact, rational, whole, ZERO } from "../quantity/rational.ts";
import { bufferNames } from "./buffers.ts";
import { type FlowSolution, withinToleranceMin } from "./flow/flow.ts";
import type { Exact } from "./result.ts";
import { TOLERANCE } from "./settling.ts";

export interface Estimate {
  readonly title: string;
  readonly full_per_min: Exact;
  readonly settled_per_min: Exact;
  /** From here the output never changes again. */
  readonly settling_min: Exact;
  readonly within_tolerance_min: Exact;
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
  /** Output of all machines from here on. */
  readonly output_per_min: Exact;
}

export interface EstimateMachine {
  readonly id: string;
  readonly needs_per_min: Exact;
  readonly settled_per_min: Exact;
  /** When the last of its buffers is full for the first time; `null` if one never is. */
  readonly full_at_min: Exact | null;
}

export function estimate(title: string, network: Network, solution: FlowSolution): Estimate {
  const settled = solution.phases.at(-1)?.detail();
  const fullAt = fullTimes(network, solution);
  const nameOf = bufferNames(network);
  return {
    title,
    full_per_min: exact(solution.fullPerMin),
    settled_per_min: exact(solution.settledPerMin),
    settling_min: exact(solution.settlingMin),
    within_tolerance_min: exact(withinToleranceMin(solution, rational(String(TOLERANCE)))),
    tolerance: TOLERANCE,
    ramp_up_loss: exact(solution.rampUpLoss),
    events: solution.phases.flatMap(({ fromMin, events, outputPerMin }) =>
      events.map((event) => ({
        at_min: exact(fromMin),
        what: event.what,
        where: event.what === "feed" ? event.feed : nameOf(event.machine, event.item),
        output_per_min: exact(outputPerMin),
      })),
    ),
    machines: network.machines.map(({ id, takes, cycleMin }, m) => {
      const needs = whole(takes.reduce((total, { count }) => total + count, 0)).div(cycleMin);
      return {
        id,
        needs_per_min: exact(needs),
        settled_per_min: exact(needs.mul(settled?.machines[m]?.running ?? ZERO)),
        full_at_min: fullAt.get(id) ?? null,
      };
    }),
    belts: network.connections.flatMap(({ id, belt }) => {
      const carried = settled?.connections.get(id);
      return belt && carried
        ? [{ id, flow_per_min: exact(carried), headroom_per_min: exact(belt.ratePerMin.sub(carried)) }]
        : [];
    }),
    feeds: network.feeds.map(({ id, profile }) => ({
      id,
      offered_per_min: exact(profile.at(-1)?.ratePerMin ?? ZERO),
      accepted_per_min: exact(settled?.feeds.get(id) ?? ZERO),
    })),
  };
}

/** By machine, the time at which the last of its buffers gets full for the first time. */
function fullTimes({ machines }: Network, { phases }: FlowSolution): Map<string, Exact> {
  const missing = new Map(machines.map(({ id, takes }) => [id, new Set(takes.map(({ item }) => item))]));
  const times = new Map<string, Exact>();
  for (const { fromMin, events } of phases) {
    for (const event of events) {
      if (event.what !== "full") continue;
      const items = missing.get(event.machine);
      if (items?.delete(event.item) && items.size === 0) times.set(event.machine, exact(fromMin));
    }
  }
  return times;
}
