/** A chain of invented machines whose feeding order is not the file's, and tactics applied to it. */
import { expand } from "../../../src/network/expand.ts";
import type { Network } from "../../../src/network/network.ts";
import type { Action } from "../../../src/network/priming.ts";
import { applyTactic } from "../../../src/network/tactics/apply.ts";
import type { Primed } from "../../../src/network/tactics/contribution.ts";
import { readScenario } from "../../../src/scenario/read.ts";
import type { Scenario } from "../../../src/scenario/scenario.ts";

/** Fed in the order slow, fast-2, fast-1: needs of 10, 60 and 60 pouches a minute. */
export const CHAIN = `
title: Test
horizon: 2 h
feeds:
  silo: { item: pouch, rate: 130/min }
machines:
  fast: { count: 2, cycle: 3 s, takes: { pouch: 3 }, makes: { carton: 1 }, infeed: 30, outfeed: 2 }
  slow: { cycle: 6 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 20, outfeed: 2 }
lines:
  main:
    layout: chain
    from: silo
    to: [slow, fast-2, fast-1]
    belt: { rate: 150/min, capacity: 20, transit: 4 s }
    branch: { rate: 140/min, capacity: 5, transit: 1 s }
    dividers: even
`;

/** The order in which the chain's belt comes to the machines. */
export const ORDER = ["slow", "fast-2", "fast-1"];

export function scenarioOf(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

/** @param tactic the body of a tactic as the file states it */
export function applied(tactic: string, chain = CHAIN): Primed & { readonly before: Network } {
  const scenario = scenarioOf(`${chain}tactics:\n  t: ${tactic}\n`);
  const before = expand(scenario);
  const [one] = scenario.tactics;
  if (one === undefined) throw new Error("no tactic is stated");
  return { ...applyTactic(scenario, before, one), before };
}

export function rateOf(network: Network, connection: string): string {
  return network.connections.find(({ id }) => id === connection)?.belt?.ratePerMin.toFraction() ?? "no belt";
}

/** Times and rates of a feed: "0: 130, 10: 65". */
export function profileOf({ feeds }: Network, id: string): string {
  const steps = feeds.find((feed) => feed.id === id)?.profile ?? [];
  return steps.map(({ fromMin, ratePerMin }) => `${fromMin.toFraction()}: ${ratePerMin.toFraction()}`).join(", ");
}

/** What leads where: "from > to", in order. */
export function routes({ connections }: Network): string[] {
  return connections.map(({ from, to }) => `${from} > ${to}`);
}

/** Interventions in a line each: "at 1/6: release a b", "when a.pouch is full, + 0: release a". */
export function timeline({ priming }: Primed): string[] {
  return priming.interventions.map(({ whenFull, afterMin, actions, times = 1 }) => {
    const places = whenFull?.map(({ machine, item }) => `${machine}.${item}`).join(" ");
    const when =
      whenFull === null ? `at ${afterMin.toFraction()}` : `when ${places} is full, + ${afterMin.toFraction()}`;
    return `${when}${times > 1 ? `, ${times} times` : ""}: ${actions.map(actionText).join("; ")}`;
  });
}

function actionText(action: Action): string {
  switch (action.do) {
    case "hold":
    case "release":
    case "stop":
      return `${action.do} ${action.machines.join(" ")}`;
    case "limit":
      return `limit ${action.places.map(({ machine, item }) => `${machine}.${item}`).join(" ")} to ${action.level}`;
    case "divide":
      return `divide ${action.rule ?? "as before"} at ${action.dividers.join(" ")}`;
    case "place":
      return `place ${action.stock.map(({ machine, item, count }) => `${machine}.${item} ${count}`).join(" ")}`;
  }
}
