/**
 * Two unreliable machines with a buffer: geometric up and down times with a cycle a slot (S. B. Gershwin, Manufacturing Systems
 * Engineering, Prentice Hall 1994, chapter 3; from memory), and exponential ones with a continuous flow (closed form as in J.
 * Li, S. M. Meerkov, Production Systems Engineering, chapter 11; from memory).
 */
import { type Chain, expected, gathered, stationary } from "./chain.ts";

export interface GeometricPairGiven {
  /** Chance per slot of being repaired, while down, and of failing, while working. */
  readonly r1: number;
  readonly p1: number;
  readonly r2: number;
  readonly p2: number;
  /** The buffer's highest level, what lies in the machines included. */
  readonly room: number;
}

export interface GeometricPair {
  readonly rate: number;
  readonly buffer: number;
}

/**
 * By the Markov chain over level and both machines. At the start of a slot machines fail or are repaired, at its end the level
 * changes. A machine that is starved (level 0) or blocked (level N) in the slot before can't fail, and whether it is, is judged
 * by the level before the slot for both machines.
 */
export function geometricPair({ r1, p1, r2, p2, room }: GeometricPairGiven): GeometricPair {
  const levelOf = (state: number): number => state >> 2;
  const upOf = (state: number, machine: 1 | 2): number => (machine === 1 ? (state >> 1) & 1 : state & 1);
  const chain: Chain = Array.from({ length: 4 * (room + 1) }, (_, state) => {
    const level = levelOf(state);
    const upAfter1 = upOf(state, 1) ? (level < room ? 1 - p1 : 1) : r1;
    const upAfter2 = upOf(state, 2) ? (level > 0 ? 1 - p2 : 1) : r2;
    return gathered(
      [0, 1].flatMap((a1) =>
        [0, 1].map((a2) => {
          const to = level + (a1 && level < room ? 1 : 0) - (a2 && level > 0 ? 1 : 0);
          const probability = (a1 ? upAfter1 : 1 - upAfter1) * (a2 ? upAfter2 : 1 - upAfter2);
          return { to: 4 * to + 2 * a1 + a2, probability };
        }),
      ),
    );
  });
  const atRest = stationary(chain);
  // What leaves in a slot: machine 2 is up in it, and the level before it was above 0.
  const rate = expected(atRest, (state) => (levelOf(state) > 0 ? (upOf(state, 2) ? 1 - p2 : r2) : 0));
  return { rate, buffer: expected(atRest, levelOf) };
}

/** The same in closed form, for N of at least 4. */
export function gershwinPair({ r1, p1, r2, p2, room }: GeometricPairGiven): GeometricPair {
  const up1 = r1 + r2 - r1 * r2 - r1 * p2;
  const up2 = r1 + r2 - r1 * r2 - p1 * r2;
  const down1 = p1 + p2 - p1 * p2 - p1 * r2;
  const down2 = p1 + p2 - p1 * p2 - r1 * p2;
  const y1 = up1 / down1;
  const y2 = up2 / down2;
  const x = y2 / y1;
  const top = x ** (room - 1);
  // Weights of states (level, machine 1 up, machine 2 up) that are not transient.
  const weights: { level: number; up2: number; weight: number }[] = [
    { level: 0, up2: 1, weight: (x * up1) / (r1 * p2) },
    { level: 1, up2: 0, weight: x },
    { level: 1, up2: 1, weight: x * y2 },
    { level: 1, up2: 1, weight: (x / p2) * (up1 / down2) },
    { level: room - 1, up2: 0, weight: top },
    { level: room - 1, up2: 0, weight: top * y1 },
    { level: room - 1, up2: 1, weight: (top / p1) * (up2 / down1) },
    { level: room, up2: 0, weight: (top * up2) / (p1 * r2) },
  ];
  for (let level = 2; level <= room - 2; level++) {
    for (const a1 of [0, 1]) {
      for (const a2 of [0, 1]) weights.push({ level, up2: a2, weight: x ** level * y1 ** a1 * y2 ** a2 });
    }
  }
  const total = weights.reduce((sum, { weight }) => sum + weight, 0);
  const share = (value: (state: { level: number; up2: number }) => number): number =>
    weights.reduce((sum, state) => sum + value(state) * state.weight, 0) / total;
  return { rate: share((state) => (state.up2 && state.level > 0 ? 1 : 0)), buffer: share(({ level }) => level) };
}

export interface FlowPairGiven {
  /** Failures, and repairs, per unit of time; failing goes on in clock time, whether starved, blocked or not. */
  readonly lambda1: number;
  readonly mu1: number;
  readonly lambda2: number;
  readonly mu2: number;
  /** Room in units of what a running machine makes in a unit of time. */
  readonly room: number;
}

/** Both machines of speed 1; the rate is in units of that speed. */
export function flowPair({ lambda1, mu1, lambda2, mu2, room }: FlowPairGiven): number {
  const e1 = mu1 / (lambda1 + mu1);
  const e2 = mu2 / (lambda2 + mu2);
  const lambda = lambda1 + lambda2;
  const mu = mu1 + mu2;
  const skew = lambda1 * mu2 - lambda2 * mu1;
  if (Math.abs(skew) < 1e-12 * lambda * mu) {
    return e2 * (1 - (1 - e1) / (1 + (lambda1 * mu2 * (lambda + mu) * room) / (lambda * mu)));
  }
  const phi = (e1 * (1 - e2)) / (e2 * (1 - e1));
  const beta = ((lambda + mu) * skew) / (lambda * mu);
  return e2 * (1 - ((1 - e1) * (1 - phi)) / (1 - phi * Math.exp(-beta * room)));
}

/**
 * The same by a Markov chain in small slots: the level moves by one step while just one machine is up, and machines turn with
 * the chance of an exponential time in a step's time. Its error is proportional to the step, so two steps give the limit.
 */
export function flowPairInSteps(given: FlowPairGiven, stepsPerUnit: number): number {
  const rough = rateInSteps(given, stepsPerUnit);
  return 2 * rateInSteps(given, 2 * stepsPerUnit) - rough;
}

function rateInSteps({ lambda1, mu1, lambda2, mu2, room }: FlowPairGiven, stepsPerUnit: number): number {
  const top = Math.round(room * stepsPerUnit);
  const turns = (perUnit: number): number => -Math.expm1(-perUnit / stepsPerUnit);
  const chain: Chain = Array.from({ length: 4 * (top + 1) }, (_, state) => {
    const up1 = (state >> 1) & 1;
    const up2 = state & 1;
    const level = Math.min(Math.max((state >> 2) + up1 - up2, 0), top);
    const turn1 = turns(up1 ? lambda1 : mu1);
    const turn2 = turns(up2 ? lambda2 : mu2);
    return [0, 1].flatMap((t1) =>
      [0, 1].map((t2) => ({
        to: 4 * level + 2 * (up1 ^ t1) + (up2 ^ t2),
        probability: (t1 ? turn1 : 1 - turn1) * (t2 ? turn2 : 1 - turn2),
      })),
    );
  });
  const atRest = stationary(chain);
  // The second machine makes while it is up and there is stock, or the first is up as well.
  return expected(atRest, (state) => (state & 1 && (state >> 2 > 0 || (state >> 1) & 1) ? 1 : 0));
}
