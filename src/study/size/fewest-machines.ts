/**
 * The fewest machines that make what is wanted: whole numbers of each kind, by branch and bound over exact linear programs
 * (A. H. Land, A. G. Doig, Econometrica 28, 1960; from memory). Of plans with as many machines, the one that keeps them least
 * busy. Where recipes leave no choice, the first bounds settle it.
 */
import { type LinearRow, minimise } from "../../quantity/linear-program.ts";
import { ONE, type Rational, ratio, sum, whole, ZERO } from "../../quantity/rational.ts";
import type { Balance } from "./balance.ts";

export interface Fewest {
  readonly counts: readonly number[];
  /** All machines of a group together. */
  readonly cyclesPerMin: readonly Rational[];
  /** What each does at least, whatever the plan. */
  readonly leastPerMin: readonly Rational[];
  /** Whether it is certain that fewer would not do. */
  readonly proved: boolean;
}

/** Of a group: cycles per minute of one machine, and how many there are anyway. */
export interface Capacity {
  readonly perMachine: Rational;
  readonly least: number;
}

const MOST_NODES = 400;
/** So little that no plan with fewer busy minutes has a machine more: there are at most 20,000 machines. */
const LESS_BUSY = ratio(1n, 100_000n);

/** @returns `null` where recipes cannot be kept in balance */
export function fewestMachines(balance: Balance, capacities: readonly Capacity[]): Fewest | null {
  const bounds = leastNeeded(balance, capacities);
  if (bounds === null) return null;
  const found = searchIn(balance, capacities)(bounds);
  return found && { ...found, leastPerMin: bounds.leastPerMin };
}

interface Bounds {
  readonly least: readonly number[];
  readonly most: readonly (number | null)[];
}

/** By group, so many machines take part whatever the plan. */
function leastNeeded(balance: Balance, capacities: readonly Capacity[]): (Bounds & Pick<Fewest, "leastPerMin">) | null {
  const least: number[] = [];
  const leastPerMin: Rational[] = [];
  for (const [g, { perMachine, least: given }] of capacities.entries()) {
    const fewest = minimise({ ...balance, objective: new Map([[g, ONE]]) });
    if (fewest === null) return null;
    leastPerMin.push(fewest.objective);
    least.push(Math.max(given, Number(fewest.objective.div(perMachine).ceil().n)));
  }
  return { least, leastPerMin, most: capacities.map(() => null) };
}

function searchIn(
  balance: Balance,
  capacities: readonly Capacity[],
): (bounds: Bounds) => Omit<Fewest, "leastPerMin"> | null {
  const groups = capacities.length;
  const countOf = (g: number): number => balance.unknowns + g;
  const objective = new Map<number, Rational>();
  for (const [g, { perMachine }] of capacities.entries()) {
    objective.set(g, LESS_BUSY.div(perMachine)).set(countOf(g), ONE);
  }

  function relaxed({ least, most }: Bounds) {
    const rows: LinearRow[] = [...balance.rows];
    for (const [g, { perMachine }] of capacities.entries()) {
      const enough = new Map([
        [countOf(g), perMachine],
        [g, ONE.neg()],
      ]);
      rows.push({ coefficients: enough, relation: ">=", value: ZERO });
      const own = new Map([[countOf(g), ONE]]);
      if ((least[g] ?? 0) > 0) rows.push({ coefficients: own, relation: ">=", value: whole(least[g] ?? 0) });
      const limit = most[g] ?? null;
      if (limit !== null) rows.push({ coefficients: own, relation: "<=", value: whole(limit) });
    }
    return minimise({ unknowns: balance.unknowns + groups, rows, objective });
  }

  return (bounds) => {
    let best: { readonly counts: number[]; readonly cyclesPerMin: Rational[]; readonly cost: Rational } | null = null;
    const open: Bounds[] = [bounds];
    let nodes = 0;
    for (; nodes < MOST_NODES; nodes++) {
      const node = open.pop();
      if (node === undefined) break;
      const optimum = relaxed(node);
      if (optimum === null || (best !== null && !couldBeat(optimum.objective, best.cost))) continue;
      const cyclesPerMin = optimum.values.slice(0, groups);
      const counts = Array.from({ length: groups }, (_, g) => optimum.values[countOf(g)] ?? ZERO);
      // Rounded up, every plan will do.
      const rounded = counts.map((count) => Number(count.ceil().n));
      const cost = sum(rounded.map(whole)).add(
        sum(cyclesPerMin.map((cycles, g) => cycles.mul(LESS_BUSY).div(capacities[g]?.perMachine ?? ONE))),
      );
      if (best === null || cost.compare(best.cost) < 0) best = { counts: rounded, cyclesPerMin, cost };
      const g = counts.findIndex((count) => count.d !== 1n);
      const split = counts[g];
      if (split === undefined) continue;
      const up = Number(split.ceil().n);
      open.push({ ...node, most: node.most.with(g, up - 1) }, { ...node, least: node.least.with(g, up) });
    }
    if (best === null) return null;
    const { counts } = best;
    const busy = relaxed({ least: counts, most: counts });
    return { counts, cyclesPerMin: busy?.values.slice(0, groups) ?? best.cyclesPerMin, proved: open.length === 0 };
  };
}

/** Counts are whole, so that only whole machines fewer count, or the same with less to do. */
function couldBeat(bound: Rational, best: Rational): boolean {
  return bound.compare(best) < 0 && bound.div(ONE.add(LESS_BUSY)).ceil().compare(best.floor()) <= 0;
}
