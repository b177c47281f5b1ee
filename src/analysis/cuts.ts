/** Rate cuts: ordered dividers whose first outlet has a slower belt than what comes in. */
import type { Run } from "../engine/simulate.ts";
import { type Graph, graphOf } from "../network/graph.ts";
import { needPerMin } from "../network/needs.ts";
import type { Connection, Network } from "../network/network.ts";
import { approximate, exact, larger, type Rational, sum, ZERO } from "../quantity/rational.ts";
import type { BeltSpec } from "../scenario/scenario.ts";
import type { LongRun } from "./long-run.ts";
import type { RateCut, RateCutState } from "./plant-results.ts";

/** A cut as planned, before anything runs. */
export interface PlannedCut {
  readonly divider: string;
  readonly first: Connection;
  readonly belt: BeltSpec;
  /** All connections that leave the divider. */
  readonly outlets: readonly Connection[];
}

/**
 * A first outlet that lets in only some kinds sorts; one whose machine needs less than the belt carries takes what the
 * machine needs. Neither is a cut.
 */
export function plannedCuts(network: Network): PlannedCut[] {
  const graph = graphOf(network);
  const rateInto = ratesInto(network, graph);
  const needs = new Map(network.machines.map((machine) => [machine.id, needPerMin(machine)]));
  return network.dividers.flatMap(({ id, rule }) => {
    const outlets = graph.outOf(id);
    const [first] = outlets;
    if (rule !== "ordered" || first?.belt == null || first.only !== null) return [];
    const { belt } = first;
    const need = needs.get(first.to);
    const comes = rateInto(id);
    if (need !== undefined && need.compare(belt.ratePerMin) < 0) return [];
    return comes === null || comes.compare(belt.ratePerMin) > 0 ? [{ divider: id, first, belt, outlets }] : [];
  });
}

/**
 * The most that can come to an element: what the belts, and without belts the feeds, before it give; `null` for any rate,
 * and round a loop. Each element is worked out once, since direct hand-overs may follow one another a thousand times.
 */
function ratesInto(network: Network, graph: Graph): (element: string) => Rational | null {
  const feeds = new Map(network.feeds.map((feed) => [feed.id, feed]));
  const known = new Map<string, Rational | null>();
  const along = ({ belt, from }: Connection): Rational | null => {
    if (belt !== null) return belt.ratePerMin;
    const feed = feeds.get(from);
    if (feed !== undefined) return feed.profile.map(({ ratePerMin }) => ratePerMin).reduce(larger, ZERO);
    return graph.machines.has(from) ? null : into(from);
  };
  const into = (element: string): Rational | null => {
    const before = known.get(element);
    if (before !== undefined) return before;
    known.set(element, null);
    const rates = graph.into(element).map(along);
    const total = rates.includes(null) ? null : sum(rates.filter((rate) => rate !== null));
    known.set(element, total);
    return total;
  };
  return into;
}

export function rateCuts(run: Run, { exactPassed }: LongRun): RateCut[] {
  const { network } = run.program;
  const index = new Map(network.connections.map(({ id }, c) => [id, c]));
  return plannedCuts(network).map(({ divider, first, belt, outlets }) => {
    const passed = ({ id }: Connection): Rational | null => exactPassed?.[index.get(id) ?? -1] ?? null;
    const taken = passed(first);
    const arriving = exactPassed && sum(outlets.map((outlet) => passed(outlet) ?? ZERO));
    const on = taken && arriving ? arriving.sub(taken) : null;
    return {
      divider,
      belt: first.id,
      cut_per_min: exact(belt.ratePerMin),
      arriving_per_min: arriving && exact(arriving),
      taken_per_min: taken && exact(taken),
      passed_on_per_min: on && exact(on),
      state: taken && on && stateOf(run, index.get(first.id) ?? -1, belt, taken, on),
    };
  });
}

function stateOf(run: Run, connection: number, belt: BeltSpec, taken: Rational, on: Rational): RateCutState | null {
  if (taken.equals(belt.ratePerMin)) return "exact";
  const { program, settledLevels } = run;
  if (settledLevels === null) return on.equals(0) ? "short" : null;
  const b = program.connection.belt[connection] ?? -1;
  const low = settledLevels.beltLow[b] ?? 0;
  const isFull = (settledLevels.beltHigh[b] ?? 0) >= (program.belt.capacity[b] ?? Infinity);
  // More lies on it at all times than travels on a belt that nothing holds up.
  const isPiledUp = low > approximate(belt.ratePerMin.mul(belt.transitMin)) + 1;
  if (isPiledUp || (isFull && !on.equals(0))) return "held-up";
  return on.equals(0) ? "short" : "uneven";
}
