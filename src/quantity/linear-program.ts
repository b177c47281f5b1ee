/**
 * Linear programs in exact rationals, for a few dozen unknowns: the two-phase simplex method with Bland's rule, which cannot
 * go round in circles (R. G. Bland, "New finite pivoting rules for the simplex method", Mathematics of Operations Research 2,
 * 1977; from memory).
 */
import { ONE, type Rational, ZERO } from "./rational.ts";

/** Unknowns are at least 0. */
export interface LinearRow {
  /** By unknown; what is not there is 0. */
  readonly coefficients: ReadonlyMap<number, Rational>;
  readonly relation: "=" | ">=" | "<=";
  readonly value: Rational;
}

export interface LinearProgram {
  readonly unknowns: number;
  readonly rows: readonly LinearRow[];
  /** To be least; its coefficients are at least 0, so that there is a least. */
  readonly objective: ReadonlyMap<number, Rational>;
}

export interface LinearOptimum {
  readonly objective: Rational;
  readonly values: readonly Rational[];
}

/** A row: coefficients of all columns, and what they add up to. */
interface Tableau {
  readonly rows: Rational[][];
  /** Of each row the column that has its value. */
  readonly basis: number[];
  readonly columns: number;
}

/** @returns `null` where no values fulfil all rows */
export function minimise({ unknowns, rows, objective }: LinearProgram): LinearOptimum | null {
  const slacks = rows.filter(({ relation }) => relation !== "=").length;
  const columns = unknowns + slacks + rows.length;
  const tableau: Tableau = { rows: [], basis: [], columns };
  let slack = unknowns;
  for (const [index, { coefficients, relation, value }] of rows.entries()) {
    const sign = value.compare(0) < 0 ? ONE.neg() : ONE;
    const row = Array.from({ length: columns + 1 }, () => ZERO);
    for (const [unknown, coefficient] of coefficients) row[unknown] = coefficient.mul(sign);
    if (relation !== "=") row[slack++] = relation === ">=" ? sign.neg() : sign;
    row[unknowns + slacks + index] = ONE;
    row[columns] = value.mul(sign);
    tableau.rows.push(row);
    tableau.basis.push(unknowns + slacks + index);
  }
  const artificial = (column: number): boolean => column >= unknowns + slacks;
  const missing = improve(tableau, (column) => (artificial(column) ? ONE : ZERO), columns);
  if (missing.compare(0) > 0) return null;
  withoutArtificial(tableau, unknowns + slacks);
  const least = improve(tableau, (column) => objective.get(column) ?? ZERO, unknowns + slacks);
  const values = Array.from({ length: unknowns }, () => ZERO);
  for (const [row, column] of tableau.basis.entries()) {
    if (column < unknowns) values[column] = tableau.rows[row]?.[columns] ?? ZERO;
  }
  return { objective: least, values };
}

/** Pivots until no column makes the objective less. @param among columns that may come in, from the first on */
function improve(tableau: Tableau, costOf: (column: number) => Rational, among: number): Rational {
  const { rows, basis, columns } = tableau;
  // What the objective gains by a column, kept like one more row.
  const gains = Array.from({ length: columns + 1 }, (_, column) => (column < columns ? costOf(column).neg() : ZERO));
  for (const [index, row] of rows.entries()) addTo(gains, row, costOf(basis[index] ?? 0));
  for (;;) {
    const entering = gains.findIndex((gain, column) => column < among && gain.compare(0) > 0);
    if (entering < 0) return gains[columns] ?? ZERO;
    const leaving = leavingRow(tableau, entering);
    const row = rows[leaving];
    if (row === undefined) throw new Error("the objective has no least value");
    pivot(tableau, leaving, entering);
    addTo(gains, row, (gains[entering] ?? ZERO).neg());
  }
}

/** The row that first comes to zero, of several the one of the lowest column; −1 for none. */
function leavingRow({ rows, basis, columns }: Tableau, entering: number): number {
  let found = -1;
  let least = ZERO;
  for (const [index, row] of rows.entries()) {
    const rate = row[entering] ?? ZERO;
    if (rate.compare(0) <= 0) continue;
    const limit = (row[columns] ?? ZERO).div(rate);
    const order = found < 0 ? -1 : limit.compare(least);
    if (order < 0 || (order === 0 && (basis[index] ?? 0) < (basis[found] ?? 0))) [found, least] = [index, limit];
  }
  return found;
}

function pivot({ rows, basis }: Tableau, at: number, column: number): void {
  const row = rows[at] ?? [];
  const by = (row[column] ?? ONE).inverse();
  for (const [index, value] of row.entries()) if (value.n !== 0n) row[index] = value.mul(by);
  for (const [index, other] of rows.entries()) {
    const factor = other[column] ?? ZERO;
    if (index !== at && factor.n !== 0n) addTo(other, row, factor.neg());
  }
  basis[at] = column;
}

function addTo(target: Rational[], row: readonly Rational[], factor: Rational): void {
  if (factor.n === 0n) return;
  for (const [index, value] of row.entries()) {
    if (value.n !== 0n) target[index] = (target[index] ?? ZERO).add(value.mul(factor));
  }
}

/** Rows in which only artificial columns are left say nothing new. */
function withoutArtificial(tableau: Tableau, own: number): void {
  for (let index = tableau.rows.length - 1; index >= 0; index--) {
    if ((tableau.basis[index] ?? 0) < own) continue;
    const column = tableau.rows[index]?.findIndex((value, c) => c < own && value.n !== 0n) ?? -1;
    if (column >= 0) pivot(tableau, index, column);
    else {
      tableau.rows.splice(index, 1);
      tableau.basis.splice(index, 1);
    }
  }
}
