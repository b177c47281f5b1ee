/** Stock placed before the start, or by hands beside the running line. */
import { groupBy, total } from "../../quantity/counts.ts";
import { approximate, ONE, whole, ZERO } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Prefill } from "../../scenario/tactic-prefill.ts";
import type { Network } from "../network.ts";
import type { Action, Priming } from "../priming.ts";
import { chosenFrom, type Order, type Part } from "./contribution.ts";

export function prefilled(network: Network, scenario: Scenario, order: Order, prefill: Prefill): Part {
  const stock = stockOf(network, scenario, order, prefill);
  const loaded = prefill.belts ? beltLoads(network) : [];
  const inBuffers = total(stock.map(({ count }) => count));
  const onBelts = total(loaded.map(({ count }) => count));
  const { byHandPerMin } = prefill;
  if (byHandPerMin !== null && prefill.while === "running") {
    // The last to fill by itself comes first; belts are moving by then and left alone.
    const place: Action = { do: "place", stock: stock.toReversed() };
    return { interventions: [{ whenFull: null, afterMin: ONE.div(byHandPerMin), times: inBuffers, actions: [place] }] };
  }
  const placed = inBuffers + onBelts;
  return {
    stock,
    loaded,
    placed,
    startsAfterMin: byHandPerMin === null || prefill.while === "before" ? ZERO : whole(placed).div(byHandPerMin),
  };
}

export function stockOf(network: Network, scenario: Scenario, order: Order, { amounts }: Prefill): Priming["stock"] {
  const amountFor = new Map<string, number | null>();
  if ("among" in amounts) {
    for (const machine of chosenFrom(order, amounts.among)) amountFor.set(machine, amounts.amount);
  } else {
    for (const { machine, amount } of amounts.byMachine) {
      const members = scenario.machines.find(({ id }) => id === machine)?.members ?? [machine];
      for (const member of members) amountFor.set(member, amount);
    }
  }
  const machines = new Map(network.machines.map((machine) => [machine.id, machine]));
  const sequence = [...order.flat(), ...network.machines.map(({ id }) => id)];
  return [...new Set(sequence)].flatMap((id) => {
    const amount = amountFor.get(id);
    if (amount === undefined) return [];
    return (machines.get(id)?.infeed ?? []).map(({ item, count }) => ({
      machine: id,
      item,
      count: amount === null ? count : Math.min(amount, count),
    }));
  });
}

/** As densely as each belt runs at its rate, with the one kind that its line is fed. */
function beltLoads(network: Network): Priming["loaded"] {
  const feeds = new Map(network.feeds.map((feed) => [feed.id, feed]));
  const outlets = new Set(network.outlets.map(({ id }) => id));
  const ofLine = groupBy(network.connections, ({ line }) => line);
  const kindOf = new Map(
    [...ofLine].map(([line, connections]) => {
      const items = connections.flatMap(({ from }) => feeds.get(from)?.items ?? []).map(({ item }) => item);
      const [first, ...others] = new Set(items);
      return [line, others.length === 0 ? first : undefined];
    }),
  );
  return network.connections.flatMap(({ id, line, belt, to }) => {
    const item = kindOf.get(line);
    if (belt === null || item === undefined || outlets.has(to)) return [];
    const underWay = approximate(belt.ratePerMin.mul(belt.transitMin).ceil());
    return [{ connection: id, item, count: Math.min(belt.capacity, Math.max(1, underWay)) }];
  });
}
