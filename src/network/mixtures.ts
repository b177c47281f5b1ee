/**
 * Mixtures of chain and tree: a tree whose outlets each lead to a short chain, and a chain whose stations each are a small
 * tree. Which of them can be had for the machines of a line: trees share out exactly, so only those whose dividers can make
 * the shares.
 */
import { withoutFactors } from "../quantity/counts.ts";
import { type Rational, sum } from "../quantity/rational.ts";
import { fewestDividers } from "./fewest.ts";
import type { Plan } from "./plan.ts";
import { sharesFor, type Ways } from "./shares.ts";

export interface TreeOfChains {
  readonly kind: "tree-of-chains";
  /** The chains are its targets. */
  readonly heads: Plan;
  /** Machines of each chain, in feeding order. */
  readonly chains: readonly (readonly string[])[];
}

export interface ChainOfTrees {
  readonly kind: "chain-of-trees";
  readonly stations: readonly Station[];
}

export interface Station {
  readonly machines: readonly string[];
  /** Its machines are the targets. */
  readonly plan: Plan;
}

export type Mixture = TreeOfChains | ChainOfTrees;

/** So many sizes of each kind are drawn up, those nearest to the square root of the number of machines. */
const MOST_SIZES = 3;

/** Contiguous machines, group sizes as even as can be, the larger ones first; by the number of chains. */
export function treesOfChains(
  consumers: readonly string[],
  needs: readonly Rational[],
  ways: Ways,
): ReadonlyMap<number, TreeOfChains> {
  return nearest(consumers.length, Math.floor(consumers.length / 2), ways, (count) => {
    const sizes = Array.from({ length: count }, (_, chain) => Math.ceil((consumers.length - chain) / count));
    const heads = exactPlan(parted(needs, sizes).map(sum), ways);
    return heads && { kind: "tree-of-chains", heads, chains: parted(consumers, sizes) };
  });
}

/** Stations of as many contiguous machines each, the last one of what is left; by their size. */
export function chainsOfTrees(
  consumers: readonly string[],
  needs: readonly Rational[],
  ways: Ways,
): ReadonlyMap<number, ChainOfTrees> {
  return nearest(consumers.length, consumers.length - 1, ways, (size) => {
    const sizes = Array.from({ length: Math.ceil(consumers.length / size) }, () => size);
    const needed = parted(needs, sizes);
    const stations: Station[] = [];
    for (const [place, machines] of parted(consumers, sizes).entries()) {
      const plan = exactPlan(needed[place] ?? [], ways);
      if (plan === null) return null;
      stations.push({ machines, plan });
    }
    return { kind: "chain-of-trees", stations };
  });
}

/** The same with machines more, one after the other: a station for each, or a place in the shortest chain; the trees stay as they are. */
export function withMore(mixture: Mixture, machines: readonly string[]): Mixture {
  if (mixture.kind === "chain-of-trees") {
    const added = machines.map((machine): Station => ({ machines: [machine], plan: { target: 0 } }));
    return { ...mixture, stations: [...mixture.stations, ...added] };
  }
  const chains = [...mixture.chains];
  for (const machine of machines) {
    const least = Math.min(...chains.map(({ length }) => length));
    const at = chains.findLastIndex(({ length }) => length === least);
    chains[at] = [...(chains[at] ?? []), machine];
  }
  return { ...mixture, chains };
}

/** From small to large. */
function nearest<T>(count: number, most: number, ways: Ways, make: (size: number) => T | null): Map<number, T> {
  const root = Math.sqrt(count);
  const sizes = Array.from({ length: Math.max(0, most - 1) }, (_, i) => i + 2)
    .filter((size) => withoutFactors(size, ways) === 1)
    .toSorted((a, b) => Math.abs(a - root) - Math.abs(b - root) || a - b);
  const made: [number, T][] = [];
  for (const size of sizes) {
    if (made.length === MOST_SIZES) break;
    const one = make(size);
    if (one !== null) made.push([size, one]);
  }
  return new Map(made.toSorted(([a], [b]) => a - b));
}

/** @returns `null` where the dividers cannot make the shares without a return */
export function exactPlan(needs: readonly Rational[], ways: Ways): Plan | null {
  const shares = sharesFor(needs, ways);
  return shares === null || shares.odd !== 1 ? null : fewestDividers(shares.counts, ways).plan;
}

/** A list cut into lists of these lengths, the last one of what is left. */
function parted<T>(list: readonly T[], sizes: readonly number[]): T[][] {
  let from = 0;
  return sizes.map((size) => {
    from += size;
    return list.slice(from - size, from);
  });
}
