/**
 * The floor that a line takes, by a plain rule that ranks layouts and plans no building. The machines stand in one column, a
 * row each, in the order in which dividers' outlets come to them; dividers and merges stand in columns before, each further
 * on than what leads to it, but one below the other where the through belt of a chain, or the largest part of a tree, leads
 * on (floor-grid.ts). A row is as high as the widest that stands in it, or a belt, and an aisle; a column as wide as the
 * longest in it and a belt. Belts that lead back take a row and, behind the element that they come to, a belt's width each.
 * The floor is the rectangle of all. Outlets take up nothing; machines whose products the line collects stand elsewhere.
 */
import { larger, type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import type { Footprint, Scenario } from "../scenario/scenario.ts";
import { crossingsOf } from "./crossings.ts";
import { type Cell, type Grid, gridOf, type PlaceKind } from "./floor-grid.ts";
import { groupsByName } from "./groups.ts";
import type { Network } from "./network.ts";

export type { PlaceKind };

export interface FloorPlan {
  readonly m2: Rational;
  /** Of the rectangle: along the flow, and across. */
  readonly lengthM: Rational;
  readonly widthM: Rational;
  /** Pairs of belts that must cross on this grid. */
  readonly crossings: number;
  readonly places: readonly Place[];
  /** Each with the gap for belts before it, and each row with its aisle behind it. */
  readonly columns: readonly Stretch[];
  readonly rows: readonly Stretch[];
  readonly grid: Grid;
}

export interface Stretch {
  /** Where what stands in it begins, from the feed's corner. */
  readonly fromM: Rational;
  readonly sizeM: Rational;
  /** Free for belts: before a column, after a row. */
  readonly freeM: Rational;
}

export interface Place extends Cell, Footprint {
  readonly id: string;
  /** Its corner nearest to the feed's, from that corner of the rectangle. */
  readonly xM: Rational;
  readonly yM: Rational;
}

const NOTHING: Footprint = { lengthM: ZERO, widthM: ZERO };

export function floorPlan(scenario: Scenario, network: Network, line: string): FloorPlan {
  const grid = gridOf(network, line);
  const { floor } = scenario;
  const groups = groupsByName(scenario);
  const footprintOf = (id: string, { kind }: Cell): Footprint => {
    if (kind === "machine") return groups.get(id)?.footprint ?? floor.machine;
    return kind === "outlet" ? NOTHING : floor[kind];
  };

  const standing = [...grid.cells].map(([id, cell]) => ({ id, ...cell, ...footprintOf(id, cell) }));
  const lengths = Array.from({ length: grid.rows > 0 ? grid.columns : 0 }, () => ZERO);
  const widths = Array.from({ length: grid.rows }, () => floor.beltM);
  for (const { column, row, lengthM, widthM } of standing) {
    lengths[column] = larger(lengths[column] ?? ZERO, lengthM);
    widths[row] = larger(widths[row] ?? ZERO, widthM);
  }
  const columns = lengths.map((lengthM, column) => {
    const returning = grid.back.filter(({ to }) => grid.cells.get(to)?.column === column - 1).length;
    return { beltsM: floor.beltM.mul(whole(1 + returning)), lengthM };
  });
  const lengthM = sum(columns.map((column) => column.beltsM.add(column.lengthM)));
  const widthM = sum(widths.map((width) => width.add(floor.aisleM)));

  const xs = starts(columns.map((column) => column.beltsM.add(column.lengthM)));
  const ys = starts(widths.map((width) => width.add(floor.aisleM)));
  const places = standing.map((one) => ({
    ...one,
    xM: (xs[one.column] ?? ZERO).add(columns[one.column]?.beltsM ?? ZERO),
    // In the middle of its row, so that belts along it run straight.
    yM: (ys[one.row] ?? ZERO).add((widths[one.row] ?? ZERO).sub(one.widthM).div(2n)),
  }));
  return {
    ...{ m2: lengthM.mul(widthM), lengthM, widthM, crossings: crossingsOf(grid), places, grid },
    columns: columns.map(({ beltsM, lengthM: sizeM }, i) => ({
      ...{ fromM: (xs[i] ?? ZERO).add(beltsM), sizeM, freeM: beltsM },
    })),
    rows: widths.map((sizeM, i) => ({ fromM: ys[i] ?? ZERO, sizeM, freeM: floor.aisleM })),
  };
}

/** Where each begins that follows the others. */
function starts(sizes: readonly Rational[]): Rational[] {
  let at = ZERO;
  return sizes.map((size) => {
    const start = at;
    at = at.add(size);
    return start;
  });
}
