/**
 * Two Bernoulli machines with a buffer of N in closed form, and the aggregation of longer lines (J. Li, S. M. Meerkov, Production
 * Systems Engineering, Springer 2009, chapter 4; formulas from memory).
 */

/** Below this difference of p1 and p2 the general form cancels, and the equal form is nearer to the truth. */
const EQUAL_WITHIN = 1e-7;

/** The probability that the buffer between x (upstream) and y is empty at a slot's start. */
export function emptyShare(x: number, y: number, room: number): number {
  if (Math.abs(x - y) < EQUAL_WITHIN) return (1 - x) / (room + 1 - x);
  const a = (x * (1 - y)) / (y * (1 - x));
  return ((1 - x) * (1 - a)) / (1 - (x / y) * a ** room);
}

export interface Pair {
  readonly rate: number;
  readonly buffer: number;
  /** Share of slots in which the second machine is up and starved. */
  readonly starved: number;
  /** Share of slots in which the first machine is up and blocked. */
  readonly blocked: number;
}

export function bernoulliPair(p1: number, p2: number, room: number): Pair {
  const empty = emptyShare(p1, p2, room);
  return {
    rate: p2 * (1 - empty),
    buffer: meanLevel(p1, p2, room, empty),
    starved: p2 * empty,
    blocked: p1 * emptyShare(p2, p1, room),
  };
}

/** Σ i P(i): from level 1 on the probabilities are geometric with ratio a, P(1) = P(0) a / (1 − p2). */
function meanLevel(p1: number, p2: number, room: number, empty: number): number {
  if (Math.abs(p1 - p2) < EQUAL_WITHIN) return (room * (room + 1)) / (2 * (room + 1 - p1));
  const a = (p1 * (1 - p2)) / (p2 * (1 - p1));
  let sum = 0;
  for (let level = 1; level <= room; level++) sum += level * (empty / (1 - p2)) * a ** level;
  return sum;
}

export interface Aggregation {
  readonly rate: number;
  /** Each machine as seen from upstream: it and all that stands after it, as one. */
  readonly backward: readonly number[];
  /** Each machine as seen from downstream: it and all that stands before it, as one. */
  readonly forward: readonly number[];
  readonly rounds: number;
}

const MOST_ROUNDS = 100_000;

/** The recursive aggregation for a line of any length: backward from the last machine, forward from the first, until still. */
export function aggregated(p: readonly number[], rooms: readonly number[]): Aggregation {
  const at = (values: readonly number[], i: number): number => values[i] ?? Number.NaN;
  let forward = [...p];
  for (let rounds = 1; rounds <= MOST_ROUNDS; rounds++) {
    const backward = [...p];
    for (let m = p.length - 2; m >= 0; m--) {
      backward[m] = at(p, m) * (1 - emptyShare(at(backward, m + 1), at(forward, m), at(rooms, m)));
    }
    const next = [...p];
    for (let m = 1; m < p.length; m++) {
      next[m] = at(p, m) * (1 - emptyShare(at(next, m - 1), at(backward, m), at(rooms, m - 1)));
    }
    const change = Math.max(...next.map((one, m) => Math.abs(one - at(forward, m))));
    forward = next;
    if (change < 1e-14) return { rate: at(forward, p.length - 1), backward, forward, rounds };
  }
  throw new Error("the aggregation did not come to rest");
}
