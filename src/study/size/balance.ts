/**
 * What a plant's recipes ask of its kinds of machine: of each kind of item, what is made and fed is what is taken and wanted.
 * Unknown are each group's cycles per minute, and what feeds give of a kind that machines make, too.
 */
import { type LinearRow, minimise } from "../../quantity/linear-program.ts";
import { ONE, type Rational, sum, whole, ZERO } from "../../quantity/rational.ts";
import type { Feed, ItemCount, MachineGroup, Outlet, WantedRate } from "../../scenario/scenario.ts";

export interface Recipes {
  readonly groups: readonly Pick<MachineGroup, "id" | "takes" | "makes">[];
  readonly feeds: readonly Pick<Feed, "id" | "items">[];
  readonly outlets: readonly Outlet[];
  readonly wanted: readonly WantedRate[];
  /** Items/min that a feed gives at most of a kind that machines make, too; `null`: as much as is needed. */
  readonly mostFed: (item: string) => Rational | null;
}

export interface Balance {
  readonly rows: readonly LinearRow[];
  /** Groups first, in order, then kinds that are both fed and made. */
  readonly unknowns: number;
}

export function balanceOf(recipes: Recipes): Balance {
  const { groups, wanted, mostFed } = recipes;
  const rows: LinearRow[] = [];
  let unknowns = groups.length;
  for (const item of kindsIn(recipes)) {
    const { isMade, isFed, mayLeave } = ofKind(item, recipes);
    // What is only fed is fed as needed.
    if (!isMade) continue;
    const coefficients = netMade(item, groups);
    if (isFed) {
      coefficients.set(unknowns, ONE);
      const most = mostFed(item);
      if (most !== null) rows.push({ coefficients: new Map([[unknowns, ONE]]), relation: "<=", value: most });
      unknowns++;
    }
    rows.push({ coefficients, relation: mayLeave ? ">=" : "=", value: wantedOf(item, wanted) });
  }
  return { rows, unknowns };
}

/** By group, what a cycle makes of a kind less what it takes. */
function netMade(item: string, groups: Recipes["groups"]): Map<number, Rational> {
  const net = new Map<number, Rational>();
  for (const [g, { takes, makes }] of groups.entries()) {
    const count = countIn(makes, item) - countIn(takes, item);
    if (count !== 0) net.set(g, whole(count));
  }
  return net;
}

/** Kinds of which no plan makes just what is taken: how much of each is left over at least, or missing. */
export function unbalanced(recipes: Recipes): { readonly item: string; readonly perMin: Rational }[] {
  const { rows, unknowns } = balanceOf(recipes);
  const kinds = kindsIn(recipes).filter((item) => ofKind(item, recipes).isMade);
  const own = rows.filter(({ relation }) => relation !== "<=");
  // Each kind may have something left over, and something missing, at a price.
  const relaxed = own.map((row, index): LinearRow => {
    const coefficients = new Map(row.coefficients)
      .set(unknowns + 2 * index, ONE.neg())
      .set(unknowns + 2 * index + 1, ONE);
    return { ...row, coefficients };
  });
  const price = new Map<number, Rational>();
  for (const index of own.keys()) price.set(unknowns + 2 * index, ONE).set(unknowns + 2 * index + 1, whole(1000));
  const limits = rows.filter(({ relation }) => relation === "<=");
  const all = { unknowns: unknowns + 2 * own.length, rows: [...relaxed, ...limits], objective: price };
  const values = minimise(all)?.values ?? [];
  return kinds.flatMap((item, index) => {
    const perMin = (values[unknowns + 2 * index] ?? ZERO).sub(values[unknowns + 2 * index + 1] ?? ZERO);
    return perMin.n === 0n ? [] : [{ item, perMin }];
  });
}

export interface KindFacts {
  readonly isMade: boolean;
  readonly isFed: boolean;
  /** Whether what is left over has somewhere to go. */
  readonly mayLeave: boolean;
}

export function ofKind(item: string, { groups, feeds, outlets }: Omit<Recipes, "wanted" | "mostFed">): KindFacts {
  const isTaken = groups.some(({ takes }) => countIn(takes, item) > 0);
  return {
    isMade: groups.some(({ makes }) => countIn(makes, item) > 0),
    isFed: feeds.some(({ items }) => countIn(items, item) > 0),
    mayLeave: !isTaken || outlets.some((outlet) => outlet.item === item),
  };
}

export function kindsIn({ groups }: Pick<Recipes, "groups">): string[] {
  return [...new Set(groups.flatMap(({ takes, makes }) => [...takes, ...makes].map(({ item }) => item)))];
}

export function wantedOf(item: string, wanted: readonly WantedRate[]): Rational {
  return wanted.find((one) => one.item === item)?.perMin ?? ZERO;
}

export function countIn(counts: readonly ItemCount[], item: string): number {
  return counts.find((one) => one.item === item)?.count ?? 0;
}

/** Items/min that groups take or make of a kind. */
export function flowOf(
  item: string,
  side: "takes" | "makes",
  groups: Recipes["groups"],
  cyclesPerMin: readonly Rational[],
): Rational {
  return sum(groups.map((group, g) => whole(countIn(group[side], item)).mul(cyclesPerMin[g] ?? ZERO)));
}
