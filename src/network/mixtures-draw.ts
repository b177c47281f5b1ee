/**
 * Mixtures of chain and tree drawn up in elements, with what is to pass each belt.
 *
 * A tree of two chains, and a chain of trees of two:
 *
 *                ┌ chain-1-through-1 ─ chain-1-divider-1 ─ chain-1-through-2 ─ [2]
 *     through-1 ─ divider-1                   └ chain-1-branch-1 ─ [1]
 *                └ chain-2-through-1 ─ …
 *
 *     through-1 ─ divider-1 ─ through-2 ─ divider-2 ─ through-3 ─ tree-3-divider-1 ┬ tree-3-branch-1 ─ [5]
 *                     │                      └ tree-2-through-1 ─ …                └ tree-3-branch-2 ─ [6]
 *                     └ tree-1-through-1 ─ tree-1-divider-1 ┬ tree-1-branch-1 ─ [1]
 *                                                           └ tree-1-branch-2 ─ [2]
 */
import { type Rational, sum, ZERO } from "../quantity/rational.ts";
import type { ChainLine } from "../scenario/scenario.ts";
import { chainFlows } from "./chain-flows.ts";
import { type Head, headOf, type Plant } from "./collect.ts";
import { drawPlan } from "./draw.ts";
import type { ChainOfTrees, Mixture, TreeOfChains } from "./mixtures.ts";
import type { Connection, DividerElement, LineElements, MergeElement } from "./network.ts";

/** Of the chain that the mixture is made from: where it begins, its belts, and how its dividers serve. It carries one kind. */
export type MixedLine = Omit<ChainLine, "layout" | "end">;

export interface DrawnMixture extends LineElements {
  /** By connection of the dividing side. */
  readonly flows: ReadonlyMap<string, Rational>;
}

/**
 * @param input what comes in, no more than all need
 * @param needOf what each machine needs of it
 */
export function drawMixture(
  line: MixedLine,
  mixture: Mixture,
  plant: Plant,
  input: Rational,
  needOf: (machine: string) => Rational,
): DrawnMixture {
  const head = headOf({ ...line, end: { kind: "stop" } }, plant);
  return mixture.kind === "tree-of-chains"
    ? drawTreeOfChains(line, mixture, head, input, needOf)
    : drawChainOfTrees(line, mixture, head, input, needOf);
}

function drawTreeOfChains(
  line: MixedLine,
  { heads, chains }: TreeOfChains,
  head: Head,
  input: Rational,
  needOf: (machine: string) => Rational,
): DrawnMixture {
  const named = (chain: number, name: string): string => `${line.id}.chain-${chain + 1}-${name}`;
  const { id, belt } = line;
  const consumers = chains.map((_, chain) => named(chain, "divider-1"));
  const tree = drawPlan(heads, { id, belt, branch: belt, back: null, head, consumers, only: () => null });
  const ownName = new Map(chains.map((_, chain) => [`${id}.branch-${chain + 1}`, named(chain, "through-1")]));
  const flows = new Map([...tree.shares].map(([name, share]) => [ownName.get(name) ?? name, input.mul(share)]));
  const dividers: DividerElement[] = [...tree.dividers];
  const connections = tree.connections.map((one) => ({ ...one, id: ownName.get(one.id) ?? one.id }));
  for (const [chain, machines] of chains.entries()) {
    const entering = flows.get(named(chain, "through-1")) ?? ZERO;
    const { through, aside } = chainFlows(entering, machines.map(needOf), line.dividers);
    for (const [place, machine] of machines.slice(0, -1).entries()) {
      const from = named(chain, `divider-${place + 1}`);
      const further = place + 2 === machines.length ? machines.at(-1) : named(chain, `divider-${place + 2}`);
      const own = { line: id, from, only: null };
      const branch: Connection = { ...own, id: named(chain, `branch-${place + 1}`), to: machine, belt: line.branch };
      const onward: Connection = { ...own, id: named(chain, `through-${place + 2}`), to: further ?? "", belt };
      flows.set(branch.id, aside[place] ?? ZERO).set(onward.id, through[place + 1] ?? ZERO);
      dividers.push(dividerOf(line, from));
      connections.push(...inTurn(line, [branch], [onward]));
    }
  }
  return { dividers, merges: tree.merges, connections, flows };
}

function drawChainOfTrees(
  line: MixedLine,
  { stations }: ChainOfTrees,
  head: Head,
  input: Rational,
  needOf: (machine: string) => Rational,
): DrawnMixture {
  const { id, belt, branch } = line;
  const dividerAt = (place: number): string => `${id}.divider-${place}`;
  const through = (place: number, from: string, only: Connection["only"]): Connection => {
    return { id: `${id}.through-${place}`, line: id, from, to: dividerAt(place), only, belt };
  };
  const needs = stations.map(({ machines }) => sum(machines.map(needOf)));
  const passing = chainFlows(input, needs, line.dividers);
  const flows = new Map(passing.through.map((flow, index) => [`${id}.through-${index + 1}`, flow]));
  const dividers: DividerElement[] = [];
  const merges: MergeElement[] = [...head.merges];
  const trees = stations.map(({ machines, plan }, index) => {
    const place = index + 1;
    const isLast = place === stations.length;
    const prefix = `tree-${place}-`;
    const start = { merges: [], connections: [], end: dividerAt(isLast ? index : place), only: null, last: [] };
    const tree = drawPlan(plan, {
      id,
      prefix,
      belt,
      branch,
      back: null,
      head: start,
      consumers: machines,
      only: () => null,
    });
    // The last station is fed by the end of the through belt.
    const first = isLast ? `${id}.through-${place}` : `${id}.${prefix}through-1`;
    const ownId = (name: string): string => (name === `${id}.${prefix}through-1` ? first : name);
    const entering = (isLast ? passing.through : passing.aside)[index] ?? ZERO;
    for (const [name, share] of tree.shares) flows.set(ownId(name), entering.mul(share));
    if (!isLast) dividers.push(dividerOf(line, dividerAt(place)));
    dividers.push(...tree.dividers);
    merges.push(...tree.merges);
    return tree.connections.map((one) => ({ ...one, id: ownId(one.id) }));
  });
  const connections = [...head.connections, through(1, head.end, head.only)];
  for (const [index, tree] of trees.slice(0, -1).entries()) {
    const place = index + 2;
    const onward = place === trees.length ? (trees.at(-1) ?? []) : [through(place, dividerAt(place - 1), null)];
    connections.push(...inTurn(line, tree, onward));
  }
  return { dividers, merges, connections: [...connections, ...head.last], flows };
}

function dividerOf({ id: line, dividers }: MixedLine, id: string): DividerElement {
  return { id, line, rule: dividers === "even" ? "even" : "ordered" };
}

/** In the order in which a divider of the chain serves them. */
function inTurn({ dividers }: MixedLine, aside: readonly Connection[], onward: readonly Connection[]): Connection[] {
  return dividers === "through-first" ? [...onward, ...aside] : [...aside, ...onward];
}
