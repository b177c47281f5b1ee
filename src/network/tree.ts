/**
 * What a chain would be as an even tree, whatever the ways of its dividers, for the study of shortage: its machines fed through even dividers, one below the other, so that every machine has the
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
import { primeFactors } from "../quantity/counts.ts";
import { ONE, sum, whole } from "../quantity/rational.ts";
import type { ChainLine, Line, Scenario } from "../scenario/scenario.ts";
import { branchKinds } from "./chain.ts";
import { headOf, kindsCarried, membersOf, type Plant, plantOf } from "./collect.ts";
import { assemble, expandLine } from "./expand.ts";
import { fewestFor } from "./fewest.ts";
import { needsFor } from "./needs.ts";
import type { LineElements, Network } from "./network.ts";
import { equalPlan } from "./plan.ts";
import { planElements } from "./plan-elements.ts";
import { sharesFor } from "./shares.ts";

/** Why a line stays as it is. */
export type NoTree = "custom" | "drawn" | "one-consumer" | "outlet";

export interface Trees {
  readonly network: Network;
  /** Lines drawn as trees or loops, and which of them as loops. */
  readonly drawn: readonly string[];
  readonly loops: readonly string[];
  readonly kept: readonly { readonly line: string; readonly why: NoTree }[];
}

/**
 * The plant with the dividing side of every chain replaced by an even tree, where that can be.
 * @param mostWays of dividers that can be had: where equal shares take more, a loop is drawn if the line's belts could carry it
 */
export function withTrees(scenario: Scenario, mostWays = Infinity): Trees {
  const plant = plantOf(scenario);
  const kept = scenario.lines.flatMap((line) => {
    const why = noTree(line, plant);
    return why === null ? [] : [{ line: line.id, why }];
  });
  const stays = new Set(kept.map(({ line }) => line));
  const loops: string[] = [];
  const lines = scenario.lines.map((line) => {
    if (line.layout !== "chain" || stays.has(line.id)) return expandLine(line, plant);
    const loop = loopInstead(line, plant, mostWays);
    if (loop !== null) loops.push(line.id);
    return loop ?? expandTree(line, plant);
  });
  return {
    network: assemble(scenario, lines),
    drawn: scenario.lines.map(({ id }) => id).filter((id) => !stays.has(id)),
    loops,
    kept,
  };
}

function noTree(line: Line, plant: Plant): NoTree | null {
  if (line.layout !== "chain") return line.layout === "custom" ? "custom" : "drawn";
  const consumers = membersOf(line.to, plant);
  // An outlet takes whatever comes, so an equal share is not what it is there for.
  if (consumers.some((consumer) => plant.outlets.has(consumer)))
    return consumers.length < 2 ? "one-consumer" : "outlet";
  return consumers.length < 2 ? "one-consumer" : null;
}

/** @param line with two consumers at least, all of them machines */
function expandTree(line: ChainLine, plant: Plant): LineElements {
  const consumers = membersOf(line.to, plant);
  const { shares: _, ...elements } = planElements(equalPlan(primeFactors(consumers.length)), {
    id: line.id,
    belt: line.belt,
    branch: line.branch,
    back: null,
    head: headOf({ ...line, end: { kind: "stop" } }, plant),
    consumers,
    only: branchKinds(line, plant),
  });
  return elements;
}

/** `null` where a tree does, where several kinds would part at a divider, and where the belts could not carry what goes round. */
function loopInstead(line: ChainLine, plant: Plant, mostWays: number): LineElements | null {
  const consumers = membersOf(line.to, plant);
  const back = line.belt ?? line.branch;
  if (back === null || primeFactors(consumers.length).every((ways) => ways <= mostWays)) return null;
  const kinds = [...kindsCarried(line, plant)];
  const ways = Array.from({ length: mostWays - 1 }, (_, i) => i + 2);
  const shares = sharesFor(
    consumers.map(() => ONE),
    ways,
  );
  if (kinds.length !== 1 || shares === null) return null;
  const needed = sum(needsFor(consumers, kinds, plant));
  const goesRound = needed.mul(whole(shares.parts)).div(whole(shares.total));
  if (goesRound.compare(back.ratePerMin) > 0) return null;
  const { shares: _, ...elements } = planElements(fewestFor(shares, ways).plan, {
    id: line.id,
    belt: line.belt,
    branch: line.branch,
    back,
    head: headOf({ ...line, end: { kind: "return", belt: back } }, plant),
    consumers,
    only: branchKinds(line, plant),
  });
  return elements;
}
