/** A least-squares problem within bounds, whose residuals may go in steps. */

export interface Dimension {
  readonly lower: number;
  readonly upper: number;
  /** The values that it can take stand this far apart, or nearer where it is a decimal. */
  readonly grain: number;
  readonly isWhole: boolean;
  /** The nearest of them. */
  readonly snap: (value: number) => number;
}

export interface Problem {
  readonly dimensions: readonly Dimension[];
  /** Each in units of its expected error; `null` where there is no answer for these values. */
  readonly residuals: (values: readonly number[]) => readonly number[] | null;
}

/** Worse than any real fit, yet a number that a search can reckon with. */
const NO_ANSWER = 1e15;

export function chiSquare({ residuals }: Problem, values: readonly number[]): number {
  const all = residuals(values);
  return all === null ? NO_ANSWER : Math.min(NO_ANSWER, sumOfSquares(all));
}

export function sumOfSquares(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value * value, 0);
}

/** Shares of the range between the bounds, as values that can be taken. */
export function valuesAt({ dimensions }: Problem, shares: readonly number[]): number[] {
  return dimensions.map(({ lower, upper, snap }, i) => {
    const share = Math.min(1, Math.max(0, shares[i] ?? 0));
    return snap(lower + share * (upper - lower));
  });
}

export function sharesOf({ dimensions }: Problem, values: readonly number[]): number[] {
  return dimensions.map(({ lower, upper }, i) => ((values[i] ?? lower) - lower) / (upper - lower));
}

/** The same with one of them given. */
export function withFixed(problem: Problem, fixed: number, value: number): Problem {
  return {
    dimensions: problem.dimensions.filter((_, i) => i !== fixed),
    residuals: (others) => problem.residuals(others.toSpliced(fixed, 0, value)),
  };
}
