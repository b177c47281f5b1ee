/**
 * How residuals answer to each unknown, by differences over more than the steps in which counts go, and what follows from
 * that by linear theory (G. A. F. Seber and C. J. Wild, Nonlinear Regression, 1989, ch. 2 and 5; from memory): with J the
 * derivatives of the weighed residuals, the covariance of the estimates is the inverse of JᵀJ times the residual variance.
 */
import { EigenvalueDecomposition, Matrix } from "ml-matrix";
import { chiSquare, type Problem, sharesOf, sumOfSquares, valuesAt } from "./problem.ts";

export interface Curvature {
  /** Residuals at the point. */
  readonly residuals: readonly number[];
  /** By unknown, how each residual changes over the whole range between its bounds. */
  readonly slopes: readonly (readonly number[])[];
  /** Directions at right angles in which one step changes χ² by 1, as shares of the ranges; the best told first. */
  readonly axes: readonly (readonly number[])[];
}

/** One step along an axis is at most half the range: beyond that nothing is known. */
const LONGEST_AXIS = 0.5;
/** χ² changes at least by so much over a difference, or by one for each residual. */
const LEAST_CHANGE = 16;
const MOST_CHANGE = 10;

/** @returns `null` where there is no answer at the point */
export function curvatureAt(problem: Problem, values: readonly number[]): Curvature | null {
  const residuals = problem.residuals(values);
  if (residuals === null) return null;
  const slopes = problem.dimensions.map((_, i) => slopeOf(problem, values, i, residuals));
  return { residuals, slopes, axes: axesOf(slopes) };
}

function slopeOf(problem: Problem, values: readonly number[], i: number, residuals: readonly number[]): number[] {
  const dimension = problem.dimensions[i];
  const none = residuals.map(() => 0);
  if (dimension === undefined) return none;
  const least = dimension.grain / (dimension.upper - dimension.lower);
  const wanted = Math.max(LEAST_CHANGE, residuals.length);
  const here = sharesOf(problem, values);
  const difference = (by: number) => {
    const at = (share: number) => valuesAt(problem, here.with(i, share));
    const [low, high] = [at((here[i] ?? 0) - by), at((here[i] ?? 0) + by)];
    const [below, above] = [problem.residuals(low), problem.residuals(high)];
    const apart = (sharesOf(problem, high)[i] ?? 0) - (sharesOf(problem, low)[i] ?? 0);
    if (below === null || above === null || apart <= 0) return null;
    const change = above.map((value, n) => value - (below[n] ?? 0));
    return { change, apart, size: sumOfSquares(change) };
  };
  let by = Math.max(0.01, least);
  let found = difference(by);
  for (let tries = 0; tries < 12; tries++) {
    const isShort = found === null || found.size < wanted;
    const isLong = found !== null && found.size > wanted * MOST_CHANGE;
    const next = isShort ? by * 2 : isLong ? by / 3 : by;
    if (next === by || next > 1 || next < least) break;
    const other = difference(next);
    // Where more changes nothing more, or there is no answer, what is had is had.
    if (other === null && found !== null) break;
    by = next;
    found = other ?? found;
  }
  return found === null ? none : found.change.map((value) => value / found.apart);
}

function axesOf(slopes: readonly (readonly number[])[]): number[][] {
  const { realEigenvalues: sizes, eigenvectorMatrix: vectors } = new EigenvalueDecomposition(productOf(slopes), {
    assumeSymmetric: true,
  });
  return sizes
    .map((size, axis) => ({ size, direction: vectors.getColumn(axis) }))
    .sort((a, b) => b.size - a.size)
    .map(({ size, direction }) => {
      const step = Math.min(LONGEST_AXIS, 1 / Math.sqrt(Math.max(size, 1e-12)));
      return direction.map((part) => part * step);
    });
}

/** χ² that changes by no more over the whole range does not change; the decomposition finds no end on numbers near the least. */
const NOTHING = 1e-200;

/** JᵀJ. */
function productOf(slopes: readonly (readonly number[])[]): Matrix {
  const dot = (a: readonly number[], b: readonly number[]): number => {
    const sum = a.reduce((total, value, n) => total + value * (b[n] ?? 0), 0);
    return Math.abs(sum) < NOTHING ? 0 : sum;
  };
  return new Matrix(slopes.map((a) => slopes.map((b) => dot(a, b))));
}

/**
 * The step to the least χ² were the residuals straight lines (Gauss and Newton), as shares of the ranges.
 * @param changed residuals to start from, in place of those at the point
 */
export function straightStep({ slopes, axes, residuals }: Curvature, changed = residuals): number[] {
  const step = slopes.map(() => 0);
  for (const axis of axes) {
    const along = changed.map((_, n) => axis.reduce((sum, part, i) => sum + part * (slopes[i]?.[n] ?? 0), 0));
    const size = sumOfSquares(along);
    if (size < 1e-9) continue;
    const by = -along.reduce((sum, value, n) => sum + value * (changed[n] ?? 0), 0) / size;
    for (const [i, part] of axis.entries()) step[i] = (step[i] ?? 0) + by * part;
  }
  return step;
}

export interface Uncertainty {
  /** In the unknowns' own units; `null` where the residuals don't answer to it, or only together with others. */
  readonly standardErrors: readonly (number | null)[];
  /** −1 to 1; `null` likewise. */
  readonly correlations: readonly (readonly (number | null)[])[];
}

/** Beyond this, what the unknowns do to the residuals cannot be told apart. */
const MOST_CONDITION = 1e10;

/** @param variance of the residuals, in units of their expected one */
export function uncertaintyOf({ dimensions }: Problem, { slopes }: Curvature, variance: number): Uncertainty {
  const told = slopes.flatMap((slope, i) => (sumOfSquares(slope) > 0 ? [i] : []));
  const unknown = { standardErrors: slopes.map(() => null), correlations: slopes.map(() => slopes.map(() => null)) };
  if (told.length === 0) return unknown;
  // Scaled to ones on the diagonal, so that the condition does not depend on the bounds.
  const sizes = told.map((i) => Math.sqrt(sumOfSquares(slopes[i] ?? [])));
  const scaled = told.map((i, t) => (slopes[i] ?? []).map((value) => value / (sizes[t] ?? 1)));
  const { realEigenvalues, eigenvectorMatrix } = new EigenvalueDecomposition(productOf(scaled), {
    assumeSymmetric: true,
  });
  const most = Math.max(...realEigenvalues);
  if (realEigenvalues.some((value) => value * MOST_CONDITION < most)) return unknown;
  const inverse = Matrix.zeros(told.length, told.length);
  for (const [axis, value] of realEigenvalues.entries()) {
    const vector = eigenvectorMatrix.getColumnVector(axis);
    inverse.add(vector.mmul(vector.transpose()).div(value));
  }
  const spread = told.map((_, t) => Math.sqrt(inverse.get(t, t)));
  const place = new Map(told.map((i, t) => [i, t]));
  return {
    standardErrors: dimensions.map(({ lower, upper }, i) => {
      const t = place.get(i);
      return t === undefined ? null : (Math.sqrt(variance) * (spread[t] ?? 0) * (upper - lower)) / (sizes[t] ?? 1);
    }),
    correlations: dimensions.map((_, i) =>
      dimensions.map((_, j) => {
        const [a, b] = [place.get(i), place.get(j)];
        return a === undefined || b === undefined ? null : inverse.get(a, b) / ((spread[a] ?? 1) * (spread[b] ?? 1));
      }),
    ),
  };
}

/** Whether a step makes the fit better; the point it leads to, or `null`. */
export function betterAfter(problem: Problem, values: readonly number[], step: readonly number[]): number[] | null {
  const from = sharesOf(problem, values);
  const now = chiSquare(problem, values);
  for (const share of [1, 0.5, 0.25]) {
    const next = valuesAt(
      problem,
      from.map((at, i) => at + share * (step[i] ?? 0)),
    );
    if (chiSquare(problem, next) < now) return next;
  }
  return null;
}
