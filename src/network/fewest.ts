/**
 * Trees of even dividers that give each target its exact share, with as few dividers as can be found.
 *
 * First, trees in which all dividers of a level have the same ways. For an order of ways the parts become P = parts, then P
 * over the first way, and so on, each a multiple of the next; a target has as many leaves on a level as its count has in that
 * place value (the digits of the share, as in D. Knuth, A. Yao, "The complexity of nonuniform random number generation",
 * 1976), what is below, Σ (count mod P), needs Σ (count mod P) / P dividers there, and leaves whose sizes are multiples
 * of one another always fit. That depends on P alone, so that the best order is a shortest way through the values of P; with one
 * kind of divider there is only one order, and it is the best of all trees.
 *
 * Then trees whose subtrees differ: targets packed whole into the parts of a divider; and, while the budget lasts, every
 * way of splitting them. The search takes no subtree's leaves finer than its own shares need. Where it comes to an end, it has
 * proved the fewest of such trees; else the bound is that of `leastDividers`.
 */
import { commonDivisor, waysIn } from "../quantity/counts.ts";
import { digitSum, exponent, leastDividers } from "./fewest-bound.ts";
import { dividersIn, inOrder, type Plan, toldInOrder } from "./plan.ts";
import { leastMultiple, type Shares, type Ways } from "./shares.ts";
import { type Splitting, splittings } from "./splittings.ts";

export interface Fewest {
  readonly plan: Plan;
  readonly dividers: number;
  readonly lowerBound: number;
  /** Whether the two are the same. */
  readonly proved: boolean;
}

/** Counts of some targets, largest first, as small as the dividers' ways allow: `parts`, a product of ways, is their sum. */
interface Part {
  readonly targets: readonly number[];
  readonly counts: readonly number[];
  readonly parts: number;
}

interface Found {
  readonly dividers: number;
  /** How the first divider splits, by place in `counts`; `null` for a tree with equal levels. */
  readonly split: Splitting | null;
}

/** Steps of the search, a tenth of a second; beyond so many targets it would find nothing in them. */
const BUDGET = 20_000;
const MOST_SEARCHED = 128;

/**
 * @param given parts of each target, none below 1; their sum must be a product of what the ways allow
 * @param budget steps that the search may take
 */
export function fewestDividers(given: readonly number[], ways: Ways, budget = BUDGET): Fewest {
  const root = partOf(
    given.map((count, target) => ({ target, count })),
    ways,
  );
  const bound = leastDividers(root.counts, root.parts, ways);
  const level = sameLevels(root, ways);
  if (level === bound || given.length > MOST_SEARCHED) return result(planOf(root, new Map(), ways), bound);
  const packed: Search = { ways, how: "whole", spend: { left: budget }, known: new Map(), least: new Map() };
  const best = search(root, packed);
  if (best.dividers === bound) return result(planOf(root, packed.known, ways), bound);
  const all: Search = { ...packed, how: "all", spend: { left: budget }, known: new Map() };
  const proved = search(root, all);
  if (all.spend.left > 0) return result(planOf(root, all.known, ways), proved.dividers);
  return result(planOf(root, packed.known, ways), bound);
}

/** For shares of which some may be nobody's: those are a target after the last. */
export function fewestFor({ counts, parts, total }: Shares, ways: Ways): Fewest {
  const all = parts === total ? counts : [...counts, parts - total];
  const fewest = fewestDividers(all, ways);
  return { ...fewest, plan: toldInOrder(fewest.plan, all, counts.length) };
}

function result(plan: Plan, lowerBound: number): Fewest {
  const dividers = dividersIn(plan);
  return { plan: inOrder(plan), dividers, lowerBound, proved: dividers === lowerBound };
}

function partOf(members: readonly { readonly target: number; readonly count: number }[], ways: Ways): Part {
  const sorted = members.toSorted((a, b) => b.count - a.count || a.target - b.target);
  const shared = commonDivisor(sorted.map(({ count }) => count));
  const least = sorted.reduce((sum, { count }) => sum + count, 0) / shared;
  // As coarse as the dividers can make them.
  const parts = leastMultiple(least, ways);
  return {
    targets: sorted.map(({ target }) => target),
    counts: sorted.map(({ count }) => (count / shared) * (parts / least)),
    parts,
  };
}

interface Search {
  readonly ways: Ways;
  /** Splits tried: targets whole where they fit, or all. */
  readonly how: "whole" | "all";
  readonly spend: { left: number };
  /** By the counts of a part, which alone decide. */
  readonly known: Map<string, Found>;
  readonly least: Map<string, number>;
}

function search(part: Part, given: Search): Found {
  const { ways, how, spend, known } = given;
  const key = part.counts.join(" ");
  const before = known.get(key);
  if (before !== undefined) return before;
  let best: Found = { dividers: sameLevels(part, ways), split: null };
  const least = leastOf(part, given);
  for (const fan of waysIn(ways).toReversed()) {
    if (part.parts % fan !== 0 || best.dividers <= least) continue;
    for (const split of splittings(part.counts, fan, how, spend)) {
      const below = split.map((counts) => subPart(part, counts, ways));
      const hope = below.reduce((sum, one) => sum + leastOf(one, given), 1);
      if (hope >= best.dividers) continue;
      const dividers = below.reduce((sum, one) => sum + search(one, given).dividers, 1);
      if (dividers < best.dividers) best = { dividers, split };
      if (best.dividers <= least || spend.left <= 0) break;
    }
  }
  known.set(key, best);
  return best;
}

/** The part of a divider's outlet; the counts are by place in the divider's. */
function subPart({ targets }: Part, counts: readonly number[], ways: Ways): Part {
  const members = counts.flatMap((count, place) => (count === 0 ? [] : [{ target: targets[place] ?? 0, count }]));
  return partOf(members, ways);
}

function leastOf({ counts, parts }: Part, { ways, least }: Search): number {
  const key = counts.join(" ");
  const known = least.get(key);
  if (known !== undefined) return known;
  // Where only one way divides the parts, a power of it, the place values leave no choice.
  const [base, ...others] = waysIn(ways).filter((one) => parts % one === 0);
  const found =
    base === undefined || others.length > 0 || base ** exponent(parts, base) !== parts
      ? leastDividers(counts, parts, ways)
      : (counts.reduce((leaves, count) => leaves + digitSum(count, base), 0) - 1) / (base - 1);
  least.set(key, found);
  return found;
}

/** The fewest dividers of a tree with the same ways on each level. */
function sameLevels({ counts, parts }: Part, ways: Ways): number {
  return shortestWay(counts, parts, ways).dividers;
}

interface Levels {
  readonly dividers: number;
  /** Of the dividers of each level, from the first on, until nothing is left to divide. */
  readonly ways: readonly number[];
}

function shortestWay(counts: readonly number[], parts: number, ways: Ways): Levels {
  const fans = waysIn(ways);
  const known = new Map<number, Levels>();
  const from = (size: number): Levels => {
    const before = known.get(size);
    if (before !== undefined) return before;
    const here = counts.reduce((sum, count) => sum + (count % size), 0) / size;
    let best: Levels = { dividers: here === 0 ? 0 : Number.POSITIVE_INFINITY, ways: [] };
    for (const fan of fans) {
      if (here === 0 || size % fan !== 0) continue;
      const below = from(size / fan);
      const dividers = here + below.dividers;
      if (dividers < best.dividers) best = { dividers, ways: [fan, ...below.ways] };
    }
    known.set(size, best);
    return best;
  };
  return from(parts);
}

function planOf(part: Part, known: ReadonlyMap<string, Found>, ways: Ways): Plan {
  const split = known.get(part.counts.join(" "))?.split ?? null;
  if (split === null) return levelPlan(part, ways);
  return { parts: split.map((counts) => planOf(subPart(part, counts, ways), known, ways)) };
}

/** A node of a tree while it grows: with a target or with parts in the end. */
interface Draft {
  target: number | null;
  parts: Draft[];
}

function levelPlan({ targets, counts, parts }: Part, ways: Ways): Plan {
  const root: Draft = { target: null, parts: [] };
  const rests = [...counts];
  let open = [root];
  let size = parts;
  for (const fan of [...shortestWay(counts, parts, ways).ways, 1]) {
    const places = open.values();
    for (const [place, rest] of rests.entries()) {
      for (let leaves = Math.floor(rest / size); leaves > 0; leaves--) {
        const node = places.next().value;
        if (node) node.target = targets[place] ?? 0;
      }
      rests[place] = rest % size;
    }
    open = [...places].flatMap((node) => {
      node.parts = Array.from({ length: fan }, (): Draft => ({ target: null, parts: [] }));
      return node.parts;
    });
    size /= fan;
  }
  return finished(root);
}

function finished({ target, parts }: Draft): Plan {
  return target === null ? { parts: parts.map(finished) } : { target };
}
