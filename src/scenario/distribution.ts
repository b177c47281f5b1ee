/**
 * Families of distributions by which times and shares spread, and what the numbers of each mean. A family's first number
 * is its mean; uniform and triangular ones are stated by their ends, from which the mean follows. Formulas as in
 * A. M. Law, Simulation Modeling and Analysis, chapter 6 (from memory); tests hold draws to every mean and deviation here.
 *
 * | family      | numbers           | mean                      | standard deviation                        |
 * | ----------- | ----------------- | ------------------------- | ----------------------------------------- |
 * | fixed       | mean m            | m                         | 0                                         |
 * | exponential | mean m            | m                         | m                                         |
 * | geometric   | mean m, step h    | m; values h, 2h, 3h, …    | h √(1 − p) / p, p = h / m                 |
 * | uniform     | least a, most b   | (a + b) / 2               | (b − a) / √12                             |
 * | triangular  | least a, mode c,  | (a + b + c) / 3           | √((a² + b² + c² − ab − ac − bc) / 18)     |
 * |             | most b            |                           |                                           |
 * | weibull     | mean m, shape k   | m = λ Γ(1 + 1/k)          | λ √(Γ(1 + 2/k) − Γ(1 + 1/k)²)             |
 * | lognormal   | mean m, spread s  | m                         | s, so that σ² = ln(1 + s²/m²) of the      |
 * |             |                   |                           | logarithm, whose mean is ln m − σ²/2      |
 * | erlang      | mean m, stages k  | m                         | m / √k                                    |
 */
import { type Rational, sum } from "../quantity/rational.ts";

/** In numbers of the type `Q`; a shape and a count of stages are plain numbers in any case. */
export type Distribution<Q> =
  | { readonly family: "fixed" | "exponential"; readonly mean: Q }
  | { readonly family: "geometric"; readonly mean: Q; readonly step: Q }
  | { readonly family: "uniform"; readonly least: Q; readonly most: Q }
  | { readonly family: "triangular"; readonly least: Q; readonly mode: Q; readonly most: Q }
  | { readonly family: "weibull"; readonly mean: Q; readonly shape: number }
  | { readonly family: "lognormal"; readonly mean: Q; readonly spread: Q }
  | { readonly family: "erlang"; readonly mean: Q; readonly stages: number };

export function meanOf(distribution: Distribution<Rational>): Rational {
  switch (distribution.family) {
    case "uniform":
      return sum([distribution.least, distribution.most]).div(2n);
    case "triangular":
      return sum([distribution.least, distribution.mode, distribution.most]).div(3n);
    case "fixed":
    case "exponential":
    case "geometric":
    case "weibull":
    case "lognormal":
    case "erlang":
      return distribution.mean;
  }
}

/** In another unit. */
export function inUnit<Q, R>(distribution: Distribution<Q>, convert: (value: Q) => R): Distribution<R> {
  switch (distribution.family) {
    case "fixed":
    case "exponential":
      return { family: distribution.family, mean: convert(distribution.mean) };
    case "geometric":
      return { ...distribution, mean: convert(distribution.mean), step: convert(distribution.step) };
    case "uniform":
      return { ...distribution, least: convert(distribution.least), most: convert(distribution.most) };
    case "triangular": {
      const { family, least, mode, most } = distribution;
      return { family, least: convert(least), mode: convert(mode), most: convert(most) };
    }
    case "lognormal":
      return { ...distribution, mean: convert(distribution.mean), spread: convert(distribution.spread) };
    case "weibull":
    case "erlang":
      return { ...distribution, mean: convert(distribution.mean) };
  }
}
