/**
 * Closed forms of single queues: M/M/1/K, M/D/1 (L. Kleinrock, Queueing Systems, vol. 1, Wiley 1975), M/D/1/K (O. Brun, J.-M.
 * Garcia, "Analytical solution of finite capacity M/D/1 queues", J. Applied Probability 37, 2000); all from memory. K counts
 * the customer in service; times are in services.
 */
import { type Chain, gathered, stationary } from "./chain.ts";

export interface FiniteQueue {
  /** Share of arrivals, and of time (PASTA), that find the queue full. */
  readonly full: number;
  /** Mean number in the system. */
  readonly mean: number;
}

/** Probabilities of 0 … K customers. */
export function mm1kLevels(rho: number, room: number): number[] {
  const weights = Array.from({ length: room + 1 }, (_, n) => rho ** n);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  return weights.map((weight) => weight / total);
}

export function mm1k(rho: number, room: number): FiniteQueue {
  const levels = mm1kLevels(rho, room);
  return { full: levels[room] ?? 0, mean: levels.reduce((sum, share, n) => sum + n * share, 0) };
}

/** Mean wait before service: Pollaczek and Khinchine's formula without spread of service. */
export function md1Wait(rho: number): number {
  return rho / (2 * (1 - rho));
}

/** Share of arrivals turned away: 1 − b/(1 + ρ b) with b of K − 1. */
export function md1kLoss(rho: number, room: number): number {
  let b = 0;
  let factorial = 1;
  for (let k = 0; k < room; k++) {
    if (k > 0) factorial *= k;
    const left = room - 1 - k;
    b += ((-1) ** k / factorial) * (left * rho) ** k * Math.exp(left * rho);
  }
  return 1 - b / (1 + rho * b);
}

/** The same from the number left behind at departures, a Markov chain on 0 … K − 1. */
export function md1kLossByChain(rho: number, room: number): number {
  /** Chance of `count` arrivals in a service. */
  const arrive = (count: number): number => {
    let chance = Math.exp(-rho);
    for (let i = 1; i <= count; i++) chance *= rho / i;
    return chance;
  };
  const chain: Chain = Array.from({ length: room }, (_, left) => {
    const waiting = Math.max(left - 1, 0);
    const most = room - 1 - waiting;
    const few = Array.from({ length: most }, (_, count) => ({ to: waiting + count, probability: arrive(count) }));
    const rest = 1 - few.reduce((sum, { probability }) => sum + probability, 0);
    return gathered([...few, { to: room - 1, probability: rest }]);
  });
  // A departure a service, and 1/ρ more of idle time after each that leaves nobody.
  return 1 - 1 / ((stationary(chain)[0] ?? 0) + rho);
}
