/**
 * Quantiles of Student's t and of the normal distribution, from jstat, right to about 1e-7 of their value. The library is
 * loaded at the first call, so that commands that need none don't wait for it.
 */
import { createRequire } from "node:module";

interface Distributions {
  readonly studentt: { readonly inv: (probability: number, degrees: number) => number };
  readonly normal: { readonly inv: (probability: number, mean: number, sd: number) => number };
}

let loaded: Distributions | null = null;

function distributions(): Distributions {
  if (loaded === null) {
    const { jStat }: { readonly jStat: Distributions } = createRequire(import.meta.url)("jstat");
    loaded = jStat;
  }
  return loaded;
}

/** Beyond it t is normal to seven places, and the library's t loses places. */
const MOST_DEGREES = 1_000_000;

export function normalQuantile(probability: number): number {
  return distributions().normal.inv(checked(probability), 0, 1);
}

/** @throws RangeError for probabilities outside 0 … 1, or fewer than one degree of freedom */
export function studentQuantile(probability: number, degrees: number): number {
  if (!(degrees >= 1)) throw new RangeError(`not degrees of freedom: ${degrees}`);
  return degrees > MOST_DEGREES
    ? normalQuantile(probability)
    : distributions().studentt.inv(checked(probability), degrees);
}

/** The half-width of a two-sided interval at a confidence level, in standard errors of a mean of n figures. */
export function studentFactor(level: number, n: number): number {
  return studentQuantile((1 + checked(level)) / 2, n - 1);
}

/** The same for proportions and large numbers. */
export function normalFactor(level: number): number {
  return normalQuantile((1 + checked(level)) / 2);
}

function checked(probability: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError(`not between 0 and 1: ${probability}`);
  return probability;
}
