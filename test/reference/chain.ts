/**
 * Finite Markov chains with a sparse transition matrix: one step, the stationary distribution, the second eigenvalue. For
 * references that tests compare the simulator with; knows nothing of lines or queues.
 */
import { EigenvalueDecomposition, Matrix, solve } from "ml-matrix";

/** From each state, the states that follow and their probabilities. */
export type Chain = readonly (readonly { readonly to: number; readonly probability: number }[])[];

/** The moves of one state gathered by where they lead. */
export function gathered(
  moves: Iterable<{ readonly to: number; readonly probability: number }>,
): { to: number; probability: number }[] {
  const byState = new Map<number, number>();
  for (const { to, probability } of moves) byState.set(to, (byState.get(to) ?? 0) + probability);
  return [...byState].filter(([, probability]) => probability > 0).map(([to, probability]) => ({ to, probability }));
}

/** The distribution after one step. */
export function stepped(chain: Chain, distribution: readonly number[]): number[] {
  const after = chain.map(() => 0);
  for (const [from, moves] of chain.entries()) {
    const here = distribution[from] ?? 0;
    if (here === 0) continue;
    for (const { to, probability } of moves) after[to] = (after[to] ?? 0) + here * probability;
  }
  return after;
}

/** Largest number of states whose equations are solved directly; beyond it the chain is stepped until it stands. */
const MOST_SOLVED = 300;
const MOST_STEPS = 1_000_000;

/** For a chain with one recurrent class without periods. */
export function stationary(chain: Chain): number[] {
  return chain.length <= MOST_SOLVED ? solved(chain) : steppedUntilStill(chain);
}

/** π P = π with the last equation replaced by Σ π = 1. */
export function solved(chain: Chain): number[] {
  const n = chain.length;
  const equations = matrixOf(chain).transpose().sub(Matrix.eye(n));
  equations.setRow(n - 1, new Array<number>(n).fill(1));
  const right = Matrix.zeros(n, 1);
  right.set(n - 1, 0, 1);
  return solve(equations, right).getColumn(0);
}

export function steppedUntilStill(chain: Chain): number[] {
  let distribution: number[] = chain.map(() => 1 / chain.length);
  for (let step = 0; step < MOST_STEPS; step++) {
    const after = stepped(chain, distribution);
    const total = after.reduce((sum, probability) => sum + probability, 0);
    const change = after.reduce((most, one, i) => Math.max(most, Math.abs(one - (distribution[i] ?? 0))), 0);
    distribution = after.map((probability) => probability / total);
    if (change < 1e-15) return distribution;
  }
  throw new Error("the chain did not come to rest");
}

/** The largest modulus but that of the eigenvalue 1: how slowly a start is forgotten. */
export function secondEigenvalue(chain: Chain): number {
  const { realEigenvalues: real, imaginaryEigenvalues: imaginary } = new EigenvalueDecomposition(matrixOf(chain));
  const moduli = real.map((part, i) => Math.hypot(part, imaginary[i] ?? 0)).toSorted((a, b) => b - a);
  return moduli[1] ?? 0;
}

function matrixOf(chain: Chain): Matrix {
  const matrix = Matrix.zeros(chain.length, chain.length);
  for (const [from, moves] of chain.entries()) {
    for (const { to, probability } of moves) matrix.set(from, to, matrix.get(from, to) + probability);
  }
  return matrix;
}

export function expected(distribution: readonly number[], value: (state: number) => number): number {
  return distribution.reduce((sum, probability, state) => sum + probability * value(state), 0);
}
