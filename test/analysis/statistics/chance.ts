/** Seeded chance for tests of the statistics: a small generator of its own (mulberry32, T. Ettinger, public domain; from memory). */

export interface Chance {
  /** Between 0 and 1, neither included. */
  readonly uniform: () => number;
  /** Mean 0, standard deviation 1, by Box and Muller. */
  readonly normal: () => number;
  /** Mean 1. */
  readonly exponential: () => number;
}

export function chance(seed: number): Chance {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return (((mixed ^ (mixed >>> 14)) >>> 0) + 0.5) / 2 ** 32;
  };
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()),
    exponential: () => -Math.log(uniform()),
  };
}

export function normals(n: number, seed: number, mean = 0, sd = 1): Float64Array {
  const { normal } = chance(seed);
  return Float64Array.from({ length: n }, () => mean + sd * normal());
}

/** x(i) = mean + phi (x(i−1) − mean) + a normal of standard deviation 1, begun in its stationary distribution. */
export function autoregressive(n: number, phi: number, seed: number, mean = 0): Float64Array {
  const { normal } = chance(seed);
  const series = new Float64Array(n);
  let from = normal() / Math.sqrt(1 - phi ** 2);
  for (let i = 0; i < n; i++) {
    series[i] = mean + from;
    from = phi * from + normal();
  }
  return series;
}
