/** The same plant laid out in several ways: as written, with other dividers, and with even trees for its chains. */
import { membersOf, plantOf } from "../../network/collect.ts";
import { expand } from "../../network/expand.ts";
import { needPerMin } from "../../network/needs.ts";
import type { Network } from "../../network/network.ts";
import { withTrees } from "../../network/tree.ts";
import type { ChainLine, Line, Scenario } from "../../scenario/scenario.ts";
import type { VariantId, VariantResult } from "./shortage-results.ts";

export interface Variant {
  readonly result: VariantResult;
  readonly networkOf: (scenario: Scenario) => Network;
}

type Dividers = ChainLine["dividers"];
const DIVIDERS = ["even", "branch-first", "through-first"] as const;

/** Those that differ from what is written; a plant without chains is only taken as it is. */
export function variantsOf(scenario: Scenario): Variant[] {
  const chains = dividingChains(scenario);
  const rules = [...new Set(chains.map(({ dividers }) => dividers))];
  const [rule = null] = rules;
  const variants = [variant("as-written", rules.length > 1 ? null : rule, expand)];
  for (const dividers of DIVIDERS) {
    if (chains.every((line) => line.dividers === dividers)) continue;
    variants.push(variant(dividers, dividers, (given) => expand(withDividers(given, dividers))));
  }
  const { drawn, loops, kept, network } = withTrees(scenario, MOST_WAYS);
  if (drawn.length > 0) {
    const ends = chains.flatMap(({ id, end }) => {
      if (!drawn.includes(id) || (loops.includes(id) && end.kind === "return")) return [];
      return leftOut(end) ?? [];
    });
    const networkOf = (given: Scenario): Network => withTrees(given, MOST_WAYS).network;
    const tree = variant(loops.length === 0 ? "tree" : "loop", null, networkOf);
    const ways = idealWays(network, drawn);
    variants.push({
      ...tree,
      result: { ...tree.result, trees: drawn, loops, kept, ideal_ways: ways, ends_left_out: ends },
    });
  }
  return variants;
}

/** Chains that have dividers. */
function dividingChains(scenario: Scenario): ChainLine[] {
  const plant = plantOf(scenario);
  return scenario.lines.flatMap((line) => {
    if (line.layout !== "chain") return [];
    return line.end.kind !== "stop" || membersOf(line.to, plant).length > 1 ? [line] : [];
  });
}

/** Chains that can be drawn as trees although their machines do not all need the same. */
export function unequalNeeds(scenario: Scenario): string[] {
  const { network, drawn } = withTrees(scenario);
  const machines = new Map(network.machines.map((machine) => [machine.id, machine]));
  return drawn.filter((line) => {
    const needs = network.connections
      .filter((connection) => connection.line === line)
      .flatMap(({ to }) => machines.get(to) ?? [])
      .map(needPerMin);
    return needs.some((need) => need.compare(needs[0] ?? need) !== 0);
  });
}

function variant(id: VariantId, does: VariantResult["does"], networkOf: Variant["networkOf"]): Variant {
  return { result: { id, does, trees: [], loops: [], kept: [], ideal_ways: [], ends_left_out: [] }, networkOf };
}

/** Of the dividers that a plant is thought to have. */
const MOST_WAYS = 3;

function idealWays({ dividers, connections }: Network, lines: readonly string[]): number[] {
  const ways = dividers
    .filter(({ line }) => lines.includes(line))
    .map(({ id }) => connections.filter(({ from }) => from === id).length);
  return [...new Set(ways.filter((count) => count > MOST_WAYS))].sort((a, b) => a - b);
}

function leftOut(end: ChainLine["end"]): string | null {
  if (end.kind === "stop") return null;
  return end.kind === "outlet" ? end.outlet : "return";
}

function withDividers(scenario: Scenario, dividers: Dividers): Scenario {
  const changed = (line: Line): Line => (line.layout === "chain" ? { ...line, dividers } : line);
  return { ...scenario, lines: scenario.lines.map(changed) };
}
