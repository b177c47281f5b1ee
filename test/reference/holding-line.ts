/**
 * A line of Bernoulli machines of which each holds the item that it works on, exactly, by a Markov chain: in an up slot a
 * machine puts what it took in an earlier one, if there is room, and takes the next, if there is one. Machines act from the
 * last to the first, what is put is seen in the next slot, the first machine always has an item to put, the last always puts
 * at once. With two machines this is the line of bernoulli-line.ts; a machine between two others takes an up slot more than
 * there for an item that comes while it is idle, and has a place of its own.
 */
import { type Chain, expected, gathered, stationary } from "./chain.ts";

export interface HoldingLineGiven {
  readonly p: readonly number[];
  /** Room between machines, without the places in them. */
  readonly rooms: readonly number[];
}

export interface HoldingLine {
  readonly rate: number;
  readonly buffers: readonly number[];
}

/** What lies before each machine but the first, and which machines between hold an item. */
interface HoldingState {
  readonly levels: readonly number[];
  readonly holds: readonly boolean[];
}

export function holdingLine({ p, rooms }: HoldingLineGiven): HoldingLine {
  const states: HoldingState[] = [];
  const numbers = new Map<string, number>();
  const numberOf = (state: HoldingState): number => {
    const key = JSON.stringify(state);
    const known = numbers.get(key);
    if (known !== undefined) return known;
    numbers.set(key, states.length);
    return states.push(state) - 1;
  };
  numberOf({ levels: rooms.map(() => 0), holds: p.map((_, m) => m === 0) });
  const ups = upPatterns(p);
  const chain: { to: number; probability: number }[][] = [];
  // Only states that can be reached.
  for (let from = 0; from < states.length; from++) {
    const state = states[from];
    if (state === undefined) break;
    chain.push(gathered(ups.map(({ up, probability }) => ({ to: numberOf(slot(state, rooms, up)), probability }))));
  }
  const atRest = stationary(chain satisfies Chain);
  const lastUp = p.at(-1) ?? 0;
  return {
    rate: expected(atRest, (state) => lastUp * ((states[state]?.levels.at(-1) ?? 0) > 0 ? 1 : 0)),
    buffers: rooms.map((_, b) => expected(atRest, (state) => states[state]?.levels[b] ?? 0)),
  };
}

function slot(state: HoldingState, rooms: readonly number[], up: readonly boolean[]): HoldingState {
  const levels = [...state.levels];
  const holds = [...state.holds];
  const last = up.length - 1;
  for (let m = last; m >= 0; m--) {
    if (!up[m]) continue;
    if (m < last && holds[m] && (levels[m] ?? 0) < (rooms[m] ?? 0)) {
      levels[m] = (levels[m] ?? 0) + 1;
      holds[m] = m === 0;
    }
    // Machines before have not acted: what lies here was here at the slot's start.
    if (m > 0 && !holds[m] && (levels[m - 1] ?? 0) > 0) {
      levels[m - 1] = (levels[m - 1] ?? 0) - 1;
      holds[m] = m < last;
    }
  }
  return { levels, holds };
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
