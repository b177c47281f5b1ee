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
import { beltTo, chainElements, type ElementsFrom } from "./chain.ts";
import { chainFlows, flowsByName } from "./chain-flows.ts";
import { type Head, headOf, type Plant } from "./collect.ts";
import type { ChainOfTrees, Mixture, TreeOfChains } from "./mixtures.ts";
import type { DividerElement, LineElements } from "./network.ts";
import { planElements } from "./plan-elements.ts";

/** Of the chain that the mixture is made from: where it begins, its belts, and how its dividers serve. It carries one kind. */
export type MixedLine = Omit<ChainLine, "layout" | "end">;

export interface MixtureElements extends LineElements {
  /** By connection of the dividing side. */
  readonly flows: ReadonlyMap<string, Rational>;
}

/**
 * @param input what comes in, no more than all need
 * @param needOf what each machine needs of it
 */
export function mixtureElements(
  line: MixedLine,
  mixture: Mixture,
  plant: Plant,
  input: Rational,
  needOf: (machine: string) => Rational,
): MixtureElements {
  const head = headOf({ ...line, end: { kind: "stop" } }, plant);
  return mixture.kind === "tree-of-chains"
    ? treeOfChainsElements(line, mixture, head, input, needOf)
    : chainOfTreesElements(line, mixture, head, input, needOf);
}

function treeOfChainsElements(
  line: MixedLine,
  { heads, chains }: TreeOfChains,
  head: Head,
  input: Rational,
  needOf: (machine: string) => Rational,
): MixtureElements {
  const { id, belt } = line;
  const named = (chain: number, name: string): string => `${id}.chain-${chain + 1}-${name}`;
  const consumers = chains.map((_, chain) => named(chain, "divider-1"));
  const tree = planElements(heads, { id, belt, branch: belt, back: null, head, consumers, only: () => null });
  const ownName = new Map(chains.map((_, chain) => [`${id}.branch-${chain + 1}`, named(chain, "through-1")]));
  const flows = new Map([...tree.shares].map(([name, share]) => [ownName.get(name) ?? name, input.mul(share)]));
  const dividers: DividerElement[] = [...tree.dividers];
  const connections = tree.connections.map((one) => ({ ...one, id: ownName.get(one.id) ?? one.id }));
  for (const [chain, machines] of chains.entries()) {
    const entering = flows.get(named(chain, "through-1")) ?? ZERO;
    const passing = chainFlows(entering, machines.map(needOf), line.dividers);
    for (const [name, flow] of flowsByName(passing, named(chain, ""))) flows.set(name, flow);
    const [last = "", ...others] = machines.toReversed();
    const own = { line: id, only: null };
    const drawn = chainElements({
      ...line,
      needs: machines.map(needOf),
      prefix: `chain-${chain + 1}-`,
      head: NO_HEAD,
      aside: others.toReversed().map((machine, index) => {
        return beltTo({ ...own, id: named(chain, `branch-${index + 1}`), to: machine, belt: line.branch });
      }),
      farEnd: beltTo({ ...own, id: named(chain, `through-${machines.length}`), to: last, belt }),
    });
    dividers.push(...drawn.dividers);
    // The first stretch is the tree's.
    connections.push(...drawn.connections.slice(1));
  }
  return { dividers, merges: tree.merges, connections, flows };
}

function chainOfTreesElements(
  line: MixedLine,
  { stations }: ChainOfTrees,
  head: Head,
  input: Rational,
  needOf: (machine: string) => Rational,
): MixtureElements {
  const { id, belt, branch } = line;
  const needs = stations.map(({ machines }) => sum(machines.map(needOf)));
  const passing = chainFlows(input, needs, line.dividers);
  const flows = flowsByName({ ...passing, aside: [] }, `${id}.`);
  const treeAt = (index: number, firstBelt: string, entering: Rational | undefined): ElementsFrom => {
    const { machines: consumers, plan } = stations[index] ?? { machines: [], plan: { target: 0 } };
    const prefix = `tree-${index + 1}-`;
    const ownId = (name: string): string => (name === `${id}.${prefix}through-1` ? firstBelt : name);
    return ({ from, only }) => {
      const start = { ...NO_HEAD, end: from, only };
      const tree = planElements(plan, {
        id,
        prefix,
        belt,
        branch,
        back: null,
        head: start,
        consumers,
        only: () => null,
      });
      for (const [name, share] of tree.shares) flows.set(ownId(name), (entering ?? ZERO).mul(share));
      return { ...tree, connections: tree.connections.map((one) => ({ ...one, id: ownId(one.id) })) };
    };
  };
  const last = stations.length - 1;
  const { dividers, merges, connections } = chainElements({
    ...line,
    head,
    needs,
    aside: passing.aside.map((flow, index) => treeAt(index, `${id}.tree-${index + 1}-through-1`, flow)),
    // The last station is fed by the end of the through belt.
    farEnd: treeAt(last, `${id}.through-${last + 1}`, passing.through[last]),
  });
  return { dividers, merges, connections: [...head.connections, ...connections, ...head.last], flows };
}

const NO_HEAD: Head = { merges: [], connections: [], end: "", only: null, last: [] };
