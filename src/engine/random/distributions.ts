/**
 * From a distribution and a stream of uniform numbers to draws. Every family but one turns one uniform number into one draw
 * by the inverse of its distribution function, so that a draw grows with the number drawn, and a run in which one thing is
 * changed draws alike elsewhere (common random numbers). An Erlang draw takes as many numbers as it has stages, always, and
 * grows with each. Parametrisations are those of scenario/distribution.ts.
 */
import type { Distribution } from "../../scenario/distribution.ts";
import { normalQuantile } from "./normal.ts";
import type { Uniform } from "./stream.ts";

/** The next draw, never negative. */
export type Sampler = () => number;

/** Of a stream's next `count` numbers u: the product of 1 - u. */
export type Product = (count: number) => number;

/** @param productOf for those draws that are asked for by the dozen; of `uniform` itself if left out */
export function sampler(
  distribution: Distribution<number>,
  uniform: Uniform,
  productOf: Product = productFrom(uniform),
): Sampler {
  const draw = drawOf(distribution);
  if ("ofProducts" in draw) return draw.ofProducts(productOf);
  const { quantile } = draw;
  return () => quantile(uniform());
}

export function isDrawnOfProducts(distribution: Distribution<number>): boolean {
  return "ofProducts" in drawOf(distribution);
}

/** By the inverse of a distribution function, for u from 0 up to but not including 1, or by products of several numbers. */
type Draw = { readonly quantile: (u: number) => number } | { readonly ofProducts: (productOf: Product) => Sampler };

function drawOf(distribution: Distribution<number>): Draw {
  switch (distribution.family) {
    case "fixed":
      return { quantile: () => distribution.mean };
    case "exponential": {
      const { mean } = distribution;
      return { quantile: (u) => -mean * Math.log1p(-u) };
    }
    case "geometric":
      return { quantile: geometric(distribution.mean, distribution.step) };
    case "uniform": {
      const { least, most } = distribution;
      return { quantile: (u) => least + u * (most - least) };
    }
    case "triangular":
      return { quantile: triangular(distribution.least, distribution.mode, distribution.most) };
    case "weibull": {
      const { mean, shape } = distribution;
      const scale = mean / gamma(1 + 1 / shape);
      return { quantile: (u) => scale * (-Math.log1p(-u)) ** (1 / shape) };
    }
    case "lognormal": {
      const { mean, spread } = distribution;
      const variance = Math.log1p((spread / mean) ** 2);
      const deviation = Math.sqrt(variance);
      const centre = Math.log(mean) - variance / 2;
      return { quantile: (u) => Math.exp(centre + deviation * normalQuantile(u)) };
    }
    case "erlang":
      return { ofProducts: (productOf) => erlang(distribution.mean, distribution.stages, productOf) };
  }
}

/** Steps up to and including the first that ends it, each with the chance step / mean. */
function geometric(mean: number, step: number): (u: number) => number {
  const chance = step / mean;
  if (chance >= 1) return () => step;
  const logOfStaying = Math.log1p(-chance);
  return (u) => step * (1 + Math.floor(Math.log1p(-u) / logOfStaying));
}

function triangular(least: number, mode: number, most: number): (u: number) => number {
  const width = most - least;
  const rising = (mode - least) / width;
  return (u) =>
    u < rising ? least + Math.sqrt(u * width * (mode - least)) : most - Math.sqrt((1 - u) * width * (most - mode));
}

/** The least that 1 - u can be is 2^-53: the product of so many is never 0. */
const MOST_MULTIPLIED = 16;

function productFrom(uniform: Uniform): Product {
  return (count) => {
    let product = 1;
    for (let n = 0; n < count; n++) product *= 1 - uniform();
    return product;
  };
}

/** The sum of its stages, each exponential: one logarithm for many of them. */
function erlang(mean: number, stages: number, productOf: Product): Sampler {
  const stageMean = mean / stages;
  return () => {
    let sum = 0;
    for (let left = stages; left > 0; left -= MOST_MULTIPLIED)
      sum -= Math.log(productOf(Math.min(left, MOST_MULTIPLIED)));
    return stageMean * sum;
  };
}

const FAR_ENOUGH = 16;

export function gamma(x: number): number {
  let far = x;
  let product = 1;
  while (far < FAR_ENOUGH) {
    product *= far;
    far += 1;
  }
  const inverse = 1 / (far * far);
  const series = (1 / 12 - inverse * (1 / 360 - inverse * (1 / 1260 - inverse * (1 / 1680 - inverse / 1188)))) / far;
  return Math.exp((far - 0.5) * Math.log(far) - far + 0.5 * Math.log(2 * Math.PI) + series) / product;
}
