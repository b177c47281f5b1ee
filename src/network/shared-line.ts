/**
 * Trees and loops: each consumer's share of the flow is its need of what the line carries over the needs of all, exactly. A
 * loop parts the flow into the next number of parts that its dividers can make, and returns those that are nobody's.
 */
import { type Rational, ZERO } from "../quantity/rational.ts";
import type { LoopLine, Scenario, TreeLine } from "../scenario/scenario.ts";
import { branchKinds } from "./chain.ts";
import { type Collecting, headOf, kindsCarried, membersOf, type Plant, plantOf } from "./collect.ts";
import { type Fewest, fewestFor } from "./fewest.ts";
import { leadsToOutlets, needsFor } from "./needs.ts";
import type { LineElements } from "./network.ts";
import { type PlanElements, planElements } from "./plan-elements.ts";
import { MOST_PARTS, type Shares, sharesFor } from "./shares.ts";

export type SharedLine = TreeLine | LoopLine;

/** The most leaves that a tree may have: a divider for each, or nearly. */
export const MOST_LEAVES = 50_000;

export type Sharing =
  | {
      readonly ok: true;
      readonly consumers: readonly string[];
      /** Items/min of what the line carries, by consumer; 1 of each of outlets, which share alike. */
      readonly needs: readonly Rational[];
      readonly shares: Shares;
      readonly fewest: Fewest;
    }
  | { readonly ok: false; readonly why: "kinds"; readonly kinds: readonly string[] }
  | { readonly ok: false; readonly why: "no-need"; readonly consumer: string; readonly kinds: readonly string[] }
  /** Among machines, beside whose needs it has no share. */
  | { readonly ok: false; readonly why: "outlet"; readonly outlet: string }
  | { readonly ok: false; readonly why: "too-fine"; readonly limit: number }
  /** A tree whose total has other factors than its dividers' ways. */
  | { readonly ok: false; readonly why: "odd"; readonly shares: Shares };

export function sharingOf(line: SharedLine, plant: Plant): Sharing {
  const kinds = [...kindsCarried(collectingSide(line), plant)];
  // By turns, red and blue items that alternate would part at the first divider.
  if (kinds.length > 1) return { ok: false, why: "kinds", kinds };
  const consumers = membersOf(line.to, plant);
  const outlet = consumers.find((consumer) => plant.outlets.has(consumer));
  if (outlet !== undefined && !leadsToOutlets(consumers, plant)) return { ok: false, why: "outlet", outlet };
  const needs = needsFor(consumers, kinds, plant);
  const without = consumers.find((_, index) => needs[index]?.equals(ZERO));
  if (without !== undefined) return { ok: false, why: "no-need", consumer: without, kinds };
  const shares = sharesFor(needs, line.ways);
  if (shares === null) return { ok: false, why: "too-fine", limit: MOST_PARTS };
  if (line.layout === "tree" && shares.odd !== 1) return { ok: false, why: "odd", shares };
  const fewest = fewestFor(shares, line.ways);
  if (fewest.dividers > MOST_LEAVES) return { ok: false, why: "too-fine", limit: MOST_LEAVES };
  return { ok: true, consumers, needs, shares, fewest };
}

/** A line that cannot be drawn up has no elements; `inspect` says why. */
export function expandShared(line: SharedLine, plant: Plant): LineElements {
  const sharing = sharingOf(line, plant);
  if (!sharing.ok) return { dividers: [], merges: [], connections: [] };
  const { shares: _, ...elements } = sharedElements(line, sharing, plant);
  return elements;
}

export function sharedElements(line: SharedLine, sharing: Extract<Sharing, { ok: true }>, plant: Plant): PlanElements {
  const returns = line.layout === "loop" && sharing.shares.parts > sharing.shares.total;
  const side = collectingSide(line);
  return planElements(sharing.fewest.plan, {
    id: line.id,
    belt: line.belt,
    branch: line.branch,
    back: returns ? line.return : null,
    head: headOf(returns ? side : { ...side, end: { kind: "stop" } }, plant),
    consumers: sharing.consumers,
    only: branchKinds(side, plant),
  });
}

export interface DividerPlan {
  readonly line: string;
  readonly dividers: number;
  /** So few, if any, with parts no finer than the shares need. */
  readonly at_least: number;
}

/** Of each tree and loop that can be drawn up. */
export function dividerPlans(scenario: Scenario): DividerPlan[] {
  const plant = plantOf(scenario);
  return scenario.lines.flatMap((line) => {
    if (line.layout !== "tree" && line.layout !== "loop") return [];
    const sharing = sharingOf(line, plant);
    if (!sharing.ok) return [];
    const { dividers, lowerBound } = sharing.fewest;
    return [{ line: line.id, dividers, at_least: lowerBound }];
  });
}

/** As a chain's; a loop returns as a chain with a return does. */
function collectingSide(line: SharedLine): Collecting {
  const { id, from, to, branch, collect, merges } = line;
  const end = line.layout === "loop" ? ({ kind: "return", belt: line.return } as const) : ({ kind: "stop" } as const);
  return { id, from, to, branch, collect, merges, end };
}
