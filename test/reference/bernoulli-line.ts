/**
 * A line of M Bernoulli machines with M − 1 buffers, exactly, by the Markov chain over all buffer levels (J. Li, S. M. Meerkov,
 * Production Systems Engineering, Springer 2009, chapter 4; conventions from memory).
 *
 * In each slot machine i is up with probability p[i], by itself. Blocked before service: an up machine makes an item if its
 * upstream buffer held one at the slot's start, and its downstream buffer has room once the machine after it has taken its own:
 * machines act from the last to the first, taking then putting, and what is put is seen in the next slot only. The first
 * machine is never starved, the last never blocked; machines hold nothing themselves. Levels are those between two slots.
 */
import { type Chain, expected, gathered, secondEigenvalue, stationary, stepped } from "./chain.ts";

export interface BernoulliLineGiven {
  /** Probability to be up in a slot, machine by machine. */
  readonly p: readonly number[];
  /** Room of each buffer, one fewer than there are machines. */
  readonly rooms: readonly number[];
}

export type Start = "empty" | "half-full" | "full" | readonly number[];

export interface Transient {
  /** Expected items that leave in slot 1, 2, …. */
  readonly rate: readonly number[];
  /** Expected levels at the end of slot 1, 2, …, buffer by buffer. */
  readonly buffers: readonly (readonly number[])[];
}

export interface BernoulliLine {
  /** Items per slot in the long run. */
  readonly rate: number;
  /** Mean level of each buffer between slots. */
  readonly buffers: readonly number[];
  /** Share of slots in which a machine is up but its upstream buffer was empty. */
  readonly starved: readonly number[];
  /** Share of slots in which a machine is up with an item to take and finds no room for it. */
  readonly blocked: readonly number[];
  /** Probability of each level of a buffer, from 0 to its room. */
  readonly levels: (buffer: number) => number[];
  readonly secondEigenvalue: () => number;
  readonly transient: (slots: number, start: Start) => Transient;
}

export function bernoulliLine({ p, rooms }: BernoulliLineGiven): BernoulliLine {
  const states = statesOf(rooms);
  const indexOf = indexer(rooms);
  const ups = upPatterns(p);
  const chain: Chain = states.map((levels) =>
    gathered(ups.map(({ up, probability }) => ({ to: indexOf(slot(levels, rooms, up).levels), probability }))),
  );
  /** By state: expected items that leave in the next slot. */
  const leaves = states.map((levels) => (p.at(-1) ?? 0) * ((levels.at(-1) ?? 1) > 0 ? 1 : 0));
  const rateOf = (distribution: readonly number[]): number => expected(distribution, (state) => leaves[state] ?? 0);
  const levelsOf = (distribution: readonly number[]): number[] =>
    rooms.map((_, b) => expected(distribution, (state) => states[state]?.[b] ?? 0));

  const atRest = stationary(chain);
  const share = (machine: number, lost: "starved" | "blocked"): number =>
    expected(atRest, (state) =>
      ups.reduce((sum, { up, probability }) => {
        const { outcome } = slot(states[state] ?? [], rooms, up);
        return sum + (outcome[machine] === lost ? probability : 0);
      }, 0),
    );

  return {
    rate: rateOf(atRest),
    buffers: levelsOf(atRest),
    starved: p.map((_, machine) => share(machine, "starved")),
    blocked: p.map((_, machine) => share(machine, "blocked")),
    levels: (buffer) =>
      Array.from({ length: (rooms[buffer] ?? 0) + 1 }, (_, level) =>
        expected(atRest, (state) => (states[state]?.[buffer] === level ? 1 : 0)),
      ),
    secondEigenvalue: () => secondEigenvalue(chain),
    transient: (slots, start) => {
      const from = indexOf(startLevels(start, rooms));
      let distribution: number[] = states.map((_, state) => (state === from ? 1 : 0));
      const rate: number[] = [];
      const buffers: number[][] = [];
      for (let s = 0; s < slots; s++) {
        rate.push(rateOf(distribution));
        distribution = stepped(chain, distribution);
        buffers.push(levelsOf(distribution));
      }
      return { rate, buffers };
    },
  };
}

/** Half of an odd room is rounded up. */
export function startLevels(start: Start, rooms: readonly number[]): readonly number[] {
  if (start === "empty") return rooms.map(() => 0);
  if (start === "half-full") return rooms.map((room) => Math.ceil(room / 2));
  return start === "full" ? rooms : start;
}

type Outcome = "down" | "starved" | "blocked" | "makes";

/** One slot, from the last machine to the first. */
function slot(
  levels: readonly number[],
  rooms: readonly number[],
  up: readonly boolean[],
): { readonly levels: readonly number[]; readonly outcome: readonly Outcome[] } {
  const after = [...levels];
  const outcome: Outcome[] = up.map(() => "down");
  for (let m = up.length - 1; m >= 0; m--) {
    if (!up[m]) continue;
    const before = m - 1;
    // What the machine before has put is not there yet: machines before m have not acted.
    if (before >= 0 && (levels[before] ?? 0) === 0) outcome[m] = "starved";
    else if (m < rooms.length && (after[m] ?? 0) >= (rooms[m] ?? 0)) outcome[m] = "blocked";
    else {
      outcome[m] = "makes";
      if (before >= 0) after[before] = (after[before] ?? 0) - 1;
      if (m < rooms.length) after[m] = (after[m] ?? 0) + 1;
    }
  }
  return { levels: after, outcome };
}

function statesOf(rooms: readonly number[]): number[][] {
  return rooms.reduce<number[][]>(
    (states, room) => states.flatMap((levels) => Array.from({ length: room + 1 }, (_, level) => [...levels, level])),
    [[]],
  );
}

/** The place of given levels in `statesOf`. */
function indexer(rooms: readonly number[]): (levels: readonly number[]) => number {
  return (levels) => rooms.reduce((index, room, b) => index * (room + 1) + (levels[b] ?? 0), 0);
}

function upPatterns(p: readonly number[]): { up: readonly boolean[]; probability: number }[] {
  return p.reduce<{ up: readonly boolean[]; probability: number }[]>(
    (patterns, one) =>
      patterns.flatMap(({ up, probability }) => [
        { up: [...up, true], probability: probability * one },
        { up: [...up, false], probability: probability * (1 - one) },
      ]),
    [{ up: [], probability: 1 }],
  );
}
