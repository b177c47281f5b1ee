/** Tactics of time: machines held off or started one after another, dividers that serve the far end first. */
import { whole, ZERO } from "../../quantity/rational.ts";
import type { FarEndFirst, Hold, Stagger } from "../../scenario/tactic-parts.ts";
import type { Network } from "../network.ts";
import type { Action, Intervention, Place } from "../priming.ts";
import type { Order, Part } from "./contribution.ts";

export function held(network: Network, order: Order, { until, release, everyMin }: Hold): Part {
  const interventions: Intervention[] = [holdAll(order.flat())];
  for (const machines of order) {
    const inTurn = release === "tail-first" ? machines.toReversed() : machines;
    const all = machines.flatMap((id) => placesOf(network, id));
    for (const [turn, machine] of inTurn.entries()) {
      const wait = release === "together" ? ZERO : everyMin.mul(whole(turn));
      const actions: Action[] = [{ do: "release", machines: [machine] }];
      if (until === "own-full") interventions.push({ whenFull: placesOf(network, machine), afterMin: wait, actions });
      else if (until === "all-full") interventions.push({ whenFull: all, afterMin: wait, actions });
      else interventions.push({ whenFull: null, afterMin: until.afterMin.add(wait), actions });
    }
  }
  return { interventions };
}

export function staggered(order: Order, { first, everyMin }: Stagger): Part {
  return {
    interventions: [
      holdAll(order.flat()),
      ...order.flatMap((machines) =>
        (first === "tail" ? machines.toReversed() : machines).map((machine, turn): Intervention => {
          const actions: Action[] = [{ do: "release", machines: [machine] }];
          return { whenFull: null, afterMin: everyMin.mul(whole(turn)), actions };
        }),
      ),
    ],
  };
}

function holdAll(machines: readonly string[]): Intervention {
  return { whenFull: null, afterMin: ZERO, actions: [{ do: "hold", machines }] };
}

function placesOf(network: Network, machine: string): Place[] {
  const infeed = network.machines.find(({ id }) => id === machine)?.infeed ?? [];
  return infeed.map(({ item }) => ({ machine, item }));
}

/** A chain's through belt is its dividers' last outlet, or, where it is the first already, nothing changes. */
export function farEnd(network: Network, order: Order, { until }: FarEndFirst): Part {
  const dividers = network.dividers.filter(({ rule }) => rule === "even").map(({ id }) => id);
  if (dividers.length === 0) return { notes: [{ note: "no-even-divider" }] };
  const tails = order.flatMap((machines) => machines.at(-1) ?? []).flatMap((id) => placesOf(network, id));
  const begin: Action = { do: "divide", dividers, rule: "last-first" };
  const end: Action = { do: "divide", dividers, rule: null };
  return {
    interventions: [
      { whenFull: null, afterMin: ZERO, actions: [begin] },
      until === "tail-full"
        ? { whenFull: tails, afterMin: ZERO, actions: [end] }
        : { whenFull: null, afterMin: until.afterMin, actions: [end] },
    ],
  };
}
