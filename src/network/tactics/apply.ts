/** A tactic applied to a network: the network as it is built or fed for it, and what is arranged at the start. */
import { ZERO } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { type OfEachPart, ofParts, type Tactic } from "../../scenario/tactic.ts";
import { feedingOrder } from "../flow-order.ts";
import type { Network } from "../network.ts";
import type { Order, Part, Primed } from "./contribution.ts";
import { boosted, startedLate, withSecondFeed } from "./feeds.ts";
import { lowered, meteredBranches } from "./room.ts";
import { prefilled } from "./stock.ts";
import { farEnd, held, staggered } from "./timing.ts";

/**
 * Where hands put off the start, the network's clock begins with it, and timetables have gone on meanwhile.
 * @param network expanded from the scenario
 */
export function applyTactic(scenario: Scenario, network: Network, tactic: Tactic): Primed {
  const primed = withParts(scenario, network, tactic);
  const late = primed.startsAfterMin;
  return late.equals(0) ? primed : withParts(scenario, startedLate(network, late), tactic);
}

function withParts(scenario: Scenario, network: Network, tactic: Tactic): Primed {
  const order = feedingOrder(scenario, network);
  let primed: Primed = {
    network,
    priming: { stock: [], loaded: [], interventions: [] },
    placed: 0,
    startsAfterMin: ZERO,
    notes: [],
  };
  for (const part of ofParts(tactic, PARTS, scenario, order)) primed = joined(primed, part(primed.network));
  return primed;
}

/** In the order in which they are applied. */
const PARTS: OfEachPart<[Scenario, Order], (network: Network) => Part> = {
  boost: (boost) => (so) => boosted(so, boost),
  secondFeed: (second, _, order) => (so) => withSecondFeed(so, order, second),
  metered: (metered, _, order) => (so) => meteredBranches(so, order, metered),
  lowLevel: (low, _, order) => (so) => lowered(so, order, low),
  prefill: (prefill, scenario, order) => (so) => prefilled(so, scenario, order, prefill),
  hold: (hold, _, order) => (so) => held(so, order, hold),
  stagger: (stagger, _, order) => () => staggered(order, stagger),
  farEndFirst: (far, _, order) => (so) => farEnd(so, order, far),
};

function joined(so: Primed, part: Part): Primed {
  return {
    network: part.network ?? so.network,
    priming: {
      stock: [...so.priming.stock, ...(part.stock ?? [])],
      loaded: [...so.priming.loaded, ...(part.loaded ?? [])],
      interventions: [...so.priming.interventions, ...(part.interventions ?? [])],
    },
    placed: so.placed + (part.placed ?? 0),
    startsAfterMin: so.startsAfterMin.add(part.startsAfterMin ?? ZERO),
    notes: [...so.notes, ...(part.notes ?? [])],
  };
}
