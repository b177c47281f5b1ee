/**
 * The even tree: the machines of a chain fed through even dividers, one below the other, so that every machine has the
 * same share of the flow. For a number of machines whose prime factors are p1 ≤ p2 ≤ …, dividers of p1 ways come first,
 * then dividers of p2 ways, and so on: without a loop, equal shares need every prime factor among the dividers' ways
 * (E. Aharonson, H. Attiya, "Counting networks with arbitrary fan-out", Distributed Computing 8, 1995).
 *
 *                                    ┌ branch-1 ─ [1]
 *                ┌ through-2 ─ divider-2 ─ branch-2 ─ [2]
 *     through-1 ─ divider-1
 *                └ through-3 ─ divider-3 ─ branch-3 ─ [3]
 *                                    └ branch-4 ─ [4]
 *
 * A tree has no far end: what a chain lets out or leads back there stays where no machine takes it.
 */
import type { ChainLine, Scenario } from "../scenario/scenario.ts";
import { branchKinds } from "./chain.ts";
import { headOf, membersOf, type Plant, plantOf } from "./collect.ts";
import { assemble, expandLine } from "./expand.ts";
import type { Connection, DividerElement, LineElements, Network } from "./network.ts";

/** Why a line stays as it is. */
export type NoTree = "custom" | "one-consumer" | "outlet";

export interface Trees {
  readonly network: Network;
  /** Lines drawn as trees. */
  readonly drawn: readonly string[];
  readonly kept: readonly { readonly line: string; readonly why: NoTree }[];
}

/** The plant with the dividing side of every chain replaced by an even tree, where that can be. */
export function withTrees(scenario: Scenario): Trees {
  const plant = plantOf(scenario);
  const kept = scenario.lines.flatMap((line) => {
    const why = line.layout === "custom" ? "custom" : noTree(line, plant);
    return why === null ? [] : [{ line: line.id, why }];
  });
  const stays = new Set(kept.map(({ line }) => line));
  const lines = scenario.lines.map((line) =>
    line.layout === "custom" || stays.has(line.id) ? expandLine(line, plant) : expandTree(line, plant),
  );
  return {
    network: assemble(scenario, lines),
    drawn: scenario.lines.map(({ id }) => id).filter((id) => !stays.has(id)),
    kept,
  };
}

function noTree(line: ChainLine, plant: Plant): NoTree | null {
  const consumers = membersOf(line.to, plant);
  // An outlet takes whatever comes, so an equal share is not what it is there for.
  if (consumers.some((consumer) => plant.outlets.has(consumer)))
    return consumers.length < 2 ? "one-consumer" : "outlet";
  return consumers.length < 2 ? "one-consumer" : null;
}

/** @param line with two consumers at least, all of them machines */
export function expandTree(line: ChainLine, plant: Plant): LineElements {
  const head = headOf({ ...line, end: { kind: "stop" } }, plant);
  const consumers = membersOf(line.to, plant);
  const only = branchKinds(line, plant);
  const dividers: DividerElement[] = [];
  const connections: Connection[] = [...head.connections];

  /** Leads from an element to some of the consumers, dividing on the way. */
  const lead = (from: string, first: number, count: number, ways: readonly number[]): void => {
    const [fan, ...further] = ways;
    const consumer = consumers[first] ?? "";
    if (fan === undefined) {
      connections.push({
        id: `${line.id}.branch-${first + 1}`,
        line: line.id,
        from,
        to: consumer,
        only: only(consumer),
        belt: line.branch,
      });
      return;
    }
    const place = dividers.length + 1;
    const divider = `${line.id}.divider-${place}`;
    dividers.push({ id: divider, line: line.id, rule: "even" });
    connections.push({
      id: `${line.id}.through-${place}`,
      line: line.id,
      from,
      to: divider,
      only: place === 1 ? head.only : kindsBelow(consumers.slice(first, first + count), only),
      belt: line.belt,
    });
    for (let way = 0; way < fan; way++) lead(divider, first + (way * count) / fan, count / fan, further);
  };
  lead(head.end, 0, consumers.length, primeFactors(consumers.length));
  return { dividers, merges: head.merges, connections };
}

/** What any of the machines takes; on a line of one kind, everything. */
function kindsBelow(
  consumers: readonly string[],
  only: (consumer: string) => readonly string[] | null,
): readonly string[] | null {
  const kinds = new Set<string>();
  for (const consumer of consumers) {
    const own = only(consumer);
    if (own === null) return null;
    for (const item of own) kinds.add(item);
  }
  return [...kinds];
}

/** In rising order; none for 1. */
export function primeFactors(count: number): number[] {
  const factors: number[] = [];
  let rest = count;
  for (let factor = 2; factor * factor <= rest; factor++) {
    for (; rest % factor === 0; rest /= factor) factors.push(factor);
  }
  return rest > 1 ? [...factors, rest] : factors;
}
