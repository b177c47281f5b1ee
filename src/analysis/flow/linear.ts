/** Systems of linear equations in exact fractions, few terms in each: elimination, the shortest equation first. */
import { type Amount, minus, NONE, over, times } from "./number.ts";

export interface Equation {
  /** By index of the unknown; no zeros. */
  readonly coefficients: Map<number, Amount>;
  constant: Amount;
}

/** @returns the unknowns in order, as many as there are equations; `null` if there is no solution or more than one */
export function solveLinear(equations: readonly Equation[]): Amount[] | null {
  const open = new Set(equations.map(({ coefficients, constant }) => ({ coefficients, constant })));
  const solvedFor: { readonly unknown: number; readonly row: Equation }[] = [];
  while (open.size > 0) {
    let shortest: Equation | undefined;
    for (const row of open) {
      if (shortest === undefined || row.coefficients.size < shortest.coefficients.size) shortest = row;
    }
    const [unknown, pivot] = shortest?.coefficients.entries().next().value ?? [];
    if (shortest === undefined || unknown === undefined || pivot === undefined) return null;
    open.delete(shortest);
    solvedFor.push({ unknown, row: shortest });
    for (const row of open) {
      const coefficient = row.coefficients.get(unknown);
      if (coefficient === undefined) continue;
      const factor = over(coefficient, pivot);
      for (const [index, term] of shortest.coefficients) {
        const left = minus(row.coefficients.get(index) ?? NONE, times(factor, term));
        if (left.n === 0n) row.coefficients.delete(index);
        else row.coefficients.set(index, left);
      }
      row.constant = minus(row.constant, times(factor, shortest.constant));
    }
  }
  const values: Amount[] = equations.map(() => NONE);
  for (const { unknown, row } of solvedFor.toReversed()) {
    let rest = row.constant;
    for (const [index, term] of row.coefficients) {
      if (index !== unknown) rest = minus(rest, times(term, values[index] ?? NONE));
    }
    values[unknown] = over(rest, row.coefficients.get(unknown) ?? NONE);
  }
  return values;
}
