/** The least belts that would do for a line: what passes each kind of them when every machine has what it needs, or all that is fed. */
import { larger, type Rational, ZERO } from "../quantity/rational.ts";
import type { Line, Scenario } from "../scenario/scenario.ts";
import { expandChain, needsOf } from "./chain.ts";
import { chainFlows, flowsByName } from "./chain-flows.ts";
import { kindsCarried, membersOf, type Plant, plantOf } from "./collect.ts";
import { beltLoads, carriedAtMost, inputOf, takenAtMost } from "./headroom.ts";
import { sharingOf } from "./shared-line.ts";

export interface LeastBelt {
  readonly line: string;
  /** The key of the line that states it. */
  readonly key: "belt" | "branch" | "return";
  /** Items/min: what passes the busiest, and what each carries. */
  readonly leastPerMin: Rational;
  readonly ratePerMin: Rational;
}

/** Of chains of one kind that end at machines, and of trees and loops that can be drawn up. */
export function leastBelts(scenario: Scenario): LeastBelt[] {
  const plant = plantOf(scenario);
  return scenario.lines.flatMap((line) => {
    const least = new Map<LeastBelt["key"], LeastBelt>();
    for (const { connection, flowPerMin, ratePerMin } of loadsOf(line, plant)) {
      const name = connection.slice(line.id.length + 1);
      const key = name === "return" ? "return" : /^(?:branch|share|spare)-/.test(name) ? "branch" : "belt";
      const leastPerMin = larger(flowPerMin, least.get(key)?.leastPerMin ?? ZERO);
      least.set(key, { line: line.id, key, leastPerMin, ratePerMin });
    }
    return [...least.values()];
  });
}

function loadsOf(
  line: Line,
  plant: Plant,
): { readonly connection: string; readonly flowPerMin: Rational; readonly ratePerMin: Rational }[] {
  if (line.layout === "tree" || line.layout === "loop") {
    const sharing = sharingOf(line, plant);
    return sharing.ok ? beltLoads(line, sharing, plant) : [];
  }
  if (line.layout !== "chain" || line.end.kind !== "stop" || kindsCarried(line, plant).size > 1) return [];
  const consumers = membersOf(line.to, plant);
  const needs = needsOf(line, consumers, plant);
  if (needs.some((need) => need.equals(ZERO))) return [];
  const taken = takenAtMost(line, needs, plant);
  const flows = flowsByName(chainFlows(inputOf(line, needs, plant), taken, line.dividers), `${line.id}.`);
  return expandChain(line, plant).connections.flatMap(({ id, belt }) => {
    const flowPerMin = flows.get(id);
    return belt === null || flowPerMin === undefined
      ? []
      : [{ connection: id, flowPerMin, ratePerMin: carriedAtMost(belt) }];
  });
}
