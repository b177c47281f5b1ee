/** Networks for the tests of the flow solution, written by hand. */

import type { FlowRefusal, FlowSolution } from "../../src/analysis/flow/flow.ts";
import type { Connection, MachineElement, Network } from "../../src/network/network.ts";
import { ONE, type Rational, rational, whole } from "../../src/quantity/rational.ts";
import type { FeedStep, Rule } from "../../src/scenario/scenario.ts";
import { plainFeed } from "../plain-feed.ts";

export interface ChainMachine {
  /** Items/min at full rate. */
  readonly need: Rational;
  readonly room: number;
}

export function steady(ratePerMin: Rational): FeedStep[] {
  return [{ fromMin: rational("0"), ratePerMin }];
}

/** Takes one pouch and makes one carton a cycle. */
export function machine(id: string, { need, room }: ChainMachine): MachineElement {
  return {
    id,
    line: "line",
    cycleMin: ONE.div(need),
    takes: [{ item: "pouch", count: 1 }],
    makes: [{ item: "carton", count: 1 }],
    infeed: [{ item: "pouch", count: room }],
    outfeed: [{ item: "carton", count: 1 }],
  };
}

export function connection(from: string, to: string, given: Partial<Connection> = {}): Connection {
  return { id: `${from}>${to}`, line: "line", from, to, only: null, belt: null, ...given };
}

export function network(given: Partial<Network>): Network {
  return {
    items: ["pouch", "carton"],
    feeds: [],
    dividers: [],
    merges: [],
    machines: [],
    outlets: [],
    connections: [],
    lines: ["line"],
    surges: [],
    holdUpLimits: [],
    dwellLimits: [],
    ...given,
  };
}

/**
 * feed → divider-1 → branch-1 → machine-1, divider-1 → through-2 → divider-2 …; the last divider's second outlet goes
 * straight to the last machine.
 */
export function chain(machines: readonly ChainMachine[], profile: readonly FeedStep[], rule: Rule = "even"): Network {
  const count = machines.length;
  const belt = { ratePerMin: rational("1000000"), capacity: 10, transitMin: whole(0), metres: null };
  const place = (k: number) => (k < count ? `divider-${k}` : `machine-${k}`);
  const connections: Connection[] = [connection("feed", place(1), { id: "through-1", belt })];
  for (let k = 1; k < count; k++) {
    connections.push(connection(place(k), `machine-${k}`, { id: `branch-${k}`, belt }));
    connections.push(connection(place(k), place(k + 1), { id: `through-${k + 1}`, belt }));
  }
  return network({
    feeds: [plainFeed("feed", "pouch", profile)],
    dividers: Array.from({ length: count - 1 }, (_, k) => ({ id: `divider-${k + 1}`, line: "line", rule })),
    machines: machines.map((given, k) => machine(`machine-${k + 1}`, given)),
    connections,
  });
}

export function equalChain(count: number, need: Rational, room: number, feed: Rational): Network {
  return chain(
    Array.from({ length: count }, () => ({ need, room })),
    steady(feed),
  );
}

export function solved(result: FlowSolution | FlowRefusal): FlowSolution {
  if (!result.applies) throw new Error(`refused: ${result.reason}`);
  return result;
}

/** Start of every phase but the first. */
export function eventTimes(solution: FlowSolution): string[] {
  return solution.phases.slice(1).map(({ fromMin }) => fromMin.toFraction());
}

export function outputs(solution: FlowSolution): string[] {
  return solution.phases.map(({ outputPerMin }) => outputPerMin.toFraction());
}

export function settledShares(solution: FlowSolution): string[] {
  return (
    solution.phases
      .at(-1)
      ?.detail()
      .machines.map(({ running }) => running.toFraction()) ?? []
  );
}
