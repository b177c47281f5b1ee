/**
 * Where the elements of a line stand on a grid: the flow leads on from left to right, to the machines in the last column.
 *
 *     divider-1 ─ divider-2 ─── [1]
 *         │           └──────── [2]
 *     divider-3 ─────────────── [3]
 *         └──────────────────── [4]
 *
 * A divider's part with the most dividers stands below the others in the divider's own column, the others beside it: the
 * horizontal-vertical drawing of trees, which has no crossings (as P. Crescenzi, P. Penna, "Minimum-area h-v drawings of
 * complete binary trees", Graph Drawing 1997, define it for two ways; first by P. Crescenzi, G. Di Battista, A. Piperno, "A
 * note on optimal area algorithms for upward drawings of binary trees", Computational Geometry 2, 1992, from memory). So all
 * dividers of a chain share a column, and an equal tree has one for each level.
 */
import { graphOf, sweepOf } from "./graph.ts";
import type { Connection, Network } from "./network.ts";
import { withoutSurges } from "./surges.ts";

export type PlaceKind = "divider" | "merge" | "machine" | "outlet";

export interface Cell {
  readonly kind: PlaceKind;
  readonly column: number;
  readonly row: number;
}

export interface Grid {
  readonly columns: number;
  readonly rows: number;
  /** The line's dividers and merges and the machines and outlets that it leads to, by id, as the flow comes to them. */
  readonly cells: ReadonlyMap<string, Cell>;
  /** Belts from one of these to another. */
  readonly onward: readonly Connection[];
  /** Belts that lead back to an element before, each along a row of its own. */
  readonly back: readonly BackBelt[];
}

export interface BackBelt {
  readonly from: string;
  readonly to: string;
  readonly row: number;
}

interface Around {
  readonly kindOf: ReadonlyMap<string, PlaceKind>;
  readonly outOf: (id: string) => readonly Connection[];
  readonly into: (id: string) => readonly Connection[];
  readonly returns: ReadonlySet<Connection>;
  /** Every element after those that feed it. */
  readonly flow: readonly string[];
}

export function gridOf(given: Network, line: string): Grid {
  const network = withoutSurges(given);
  const connections = network.connections.filter((connection) => connection.line === line);
  const around = aroundOf({ ...network, connections }, line);
  const { kindOf, returns } = around;
  const below = partsBelow(around);
  const columnOf = columnsOf(around, below.inOwnColumn);
  const starts = connections.filter(({ from }) => !columnOf.has(from)).map(({ to }) => to);
  const standing = rowsOf(starts, around, below);
  const columns = largest([...columnOf.values()].map((column) => column + 1));
  const cells = new Map<string, Cell>();
  for (const [id, row] of standing.rowOf) {
    const kind = kindOf.get(id);
    if (kind) cells.set(id, { kind, column: columnOf.get(id) ?? columns, row });
  }
  return {
    columns: columns + 1,
    rows: standing.rows,
    cells,
    onward: connections.filter((one) => columnOf.has(one.from) && !returns.has(one)),
    back: standing.back,
  };
}

/** @param network with the line's connections only */
function aroundOf(network: Network, line: string): Around {
  const graph = graphOf(network);
  const { order, cuts } = sweepOf(graph);
  const led = new Set(network.connections.map(({ to }) => to));
  const own = <T extends { readonly id: string; readonly line: string }>(list: readonly T[], kind: PlaceKind) =>
    list.filter((one) => one.line === line).map(({ id }) => [id, kind] as const);
  const ends = (list: readonly { readonly id: string }[], kind: PlaceKind) =>
    list.filter(({ id }) => led.has(id)).map(({ id }) => [id, kind] as const);
  return {
    kindOf: new Map([
      ...own(network.dividers, "divider"),
      ...own(network.merges, "merge"),
      ...ends(network.machines, "machine"),
      ...ends(network.outlets, "outlet"),
    ]),
    outOf: graph.outOf,
    into: graph.into,
    returns: new Set(cuts),
    flow: order.toReversed(),
  };
}

interface PartsBelow {
  /** A divider's outlets in the order in which they take their rows. */
  readonly inOrder: ReadonlyMap<string, readonly Connection[]>;
  /** Belts from a divider to the one below it. */
  readonly inOwnColumn: ReadonlySet<Connection>;
}

/** The part that leads back comes last, since the return belt leaves along the last row; else the largest, or last-named. */
function partsBelow({ kindOf, outOf, returns, flow }: Around): PartsBelow {
  const dividers = new Map<string, number>();
  const leadsBack = new Set<string>();
  const inOrder = new Map<string, readonly Connection[]>();
  const inOwnColumn = new Set<Connection>();
  for (const id of flow.toReversed()) {
    const kind = kindOf.get(id);
    if (kind !== "divider" && kind !== "merge") continue;
    const outlets = outOf(id);
    const isBack = (outlet: Connection): boolean => returns.has(outlet) || leadsBack.has(outlet.to);
    const size = (outlet: Connection): number => (returns.has(outlet) ? 0 : (dividers.get(outlet.to) ?? 0));
    if (outlets.some(isBack)) leadsBack.add(id);
    if (kind === "merge") continue;
    dividers.set(id, 1 + outlets.reduce((sum, outlet) => sum + size(outlet), 0));
    const ordered = outlets.toSorted((a, b) => Number(isBack(a)) - Number(isBack(b)) || size(a) - size(b));
    inOrder.set(id, ordered);
    const last = ordered.at(-1);
    if (last && size(last) > 0) inOwnColumn.add(last);
  }
  return { inOrder, inOwnColumn };
}

/** Dividers and merges only. A merge stands after all that leads to it, in one column with the merges before it. */
function columnsOf({ kindOf, into, returns, flow }: Around, inOwnColumn: ReadonlySet<Connection>): Map<string, number> {
  const columnOf = new Map<string, number>();
  for (const id of flow) {
    const kind = kindOf.get(id);
    if (kind !== "divider" && kind !== "merge") continue;
    const least = into(id).map((inlet) => {
      const before = columnOf.get(inlet.from);
      if (before === undefined || returns.has(inlet)) return 0;
      const isBelow = inOwnColumn.has(inlet) || (kind === "merge" && kindOf.get(inlet.from) === "merge");
      return isBelow ? before : before + 1;
    });
    columnOf.set(id, largest(least));
  }
  return columnOf;
}

function largest(values: readonly number[]): number {
  return values.reduce((most, value) => Math.max(most, value), 0);
}

interface Standing {
  readonly rowOf: ReadonlyMap<string, number>;
  readonly rows: number;
  readonly back: readonly BackBelt[];
}

/** What is to be placed next, in no row before `least`; a belt that leads back takes a row, and `null` only leaves free. */
interface Step {
  readonly to: string | Connection | null;
  readonly least: number;
}

/** Depth first, each element in the row of the first machine that it leads to. An own stack: chains are long. */
function rowsOf(starts: readonly string[], around: Around, { inOrder, inOwnColumn }: PartsBelow): Standing {
  const { kindOf, outOf, returns, flow } = around;
  const rowOf = new Map<string, number>();
  const back: BackBelt[] = [];
  let free = 0;
  const stepOf = (outlet: Connection, least = 0): Step => ({ to: returns.has(outlet) ? outlet : outlet.to, least });
  const isNewMerge = (id: string): boolean => kindOf.get(id) === "merge" && !rowOf.has(id);

  /** @returns what comes after it */
  const place = (id: string): Step[] => {
    const row = free;
    if (isNewMerge(id)) {
      // Merges that follow one another end beside what they lead to, the first of them lowest.
      const chain = [id];
      let outlet = outOf(id).at(0);
      for (; outlet && !returns.has(outlet) && isNewMerge(outlet.to); outlet = outOf(outlet.to).at(0))
        chain.push(outlet.to);
      for (const [before, merge] of chain.toReversed().entries()) rowOf.set(merge, row + before);
      return [...(outlet ? [stepOf(outlet)] : []), { to: null, least: row + chain.length }];
    }
    rowOf.set(id, row);
    const outlets = inOrder.get(id) ?? [];
    const steps = outlets.map((outlet) => stepOf(outlet, inOwnColumn.has(outlet) ? row + 1 : 0));
    return [...steps, { to: null, least: row + 1 }];
  };

  // Whatever no source leads to stands somewhere, too.
  const first = [...starts, ...flow.filter((id) => kindOf.has(id))].map((to): Step => ({ to, least: 0 }));
  const open = first.toReversed();
  for (let step = open.pop(); step; step = open.pop()) {
    const { to, least } = step;
    free = Math.max(free, least);
    if (to === null || (typeof to === "string" && rowOf.has(to))) continue;
    if (typeof to === "string") open.push(...place(to).toReversed());
    else back.push({ from: to.from, to: to.to, row: free++ });
  }
  return { rowOf, rows: free, back };
}
