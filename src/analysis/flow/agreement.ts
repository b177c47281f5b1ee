/**
 * The rates of a phase where they depend on one another: the guess that the flows worked out from it reproduce.
 *
 * The map from a guess to its flows is piecewise linear. Going round and round (from above: whatever is short taken to
 * be plenty, whatever joins to offer nothing) reaches agreement after a few rounds, if each thing waits only for the
 * last; but where two parts made from one flow meet again in a machine, it comes ever closer and never there. So the
 * pieces that hold at the guess are taken to hold at the solution (Newton's method for piecewise linear maps), their
 * linear equations are solved exactly, and what comes out is put into the map again: it is the solution if it returns
 * unchanged, else it says which pieces to try next. Where that goes in circles, rounds of short steps, in numbers rounded
 * to keep them so, come closer first. Nothing but a guess that returns unchanged, as fractions, is ever accepted.
 *
 * An agreement may be one that a disturbance leads away from: more flow to one machine comes back as still less to
 * another. In numbers it holds all the same; whole items on belts swing about it as widely as buffers let them, and
 * while such a phase lasts their average may differ.
 *
 * Where several guesses agree with themselves (two machines that each run as fast as the other lets them), coming from
 * above finds the one with the greatest flow.
 */
import type { FlowGraph } from "./graph.ts";
import { solveLinear } from "./linear.ts";
import { ALL, type Amount, equal, type Limit, minus, NONE, over, plus, times } from "./number.ts";
import { EMPTY, FULL, type Guess, NO_GUESS, type Rates, ratesIn, type Situation } from "./rates.ts";
import { guessed, plain, type SlopedLimit } from "./slopes.ts";

export interface Agreement {
  readonly guess: Guess;
  readonly rates: Rates;
  /** How often flows were worked out to find it. */
  readonly rounds: number;
}

/** What is guessed. */
interface Unknown {
  readonly what: "offer" | "inflow";
  readonly index: number;
}

const ROUNDS_FROM_ABOVE = 6;
const NEWTON_STEPS = 12;
/** Further rounds before each further attempt at the pieces: how many, and which part of the way to go in each. */
const FURTHER = [24, 24, 48, 96, 192, 384].map((rounds, halvings) => ({
  rounds,
  part: { n: 1n, d: 2n ** BigInt(halvings) },
}));
/** Parts of an item/min to which short steps are rounded. */
const FINEST = 2n ** 40n;

/**
 * @returns `null` if no guess is found that agrees with itself
 * @throws BoundlessFlowError
 */
export function agreementIn(graph: FlowGraph, situation: Situation): Agreement | null {
  const search = new Search(graph, situation);
  return search.fromAbove() ?? search.byNewton();
}

class Search {
  readonly #graph: FlowGraph;
  readonly #situation: Situation;
  readonly #unknowns: readonly Unknown[];
  /** `null` is more than enough. */
  #values: readonly Limit[];
  #rounds = 0;

  constructor(graph: FlowGraph, situation: Situation) {
    this.#graph = graph;
    this.#situation = situation;
    this.#unknowns = graph.coupled ? unknownsOf(graph, situation) : [];
    this.#values = this.#unknowns.map(({ what }) => (what === "offer" ? NONE : null));
  }

  fromAbove(): Agreement | null {
    for (let round = 0; round < ROUNDS_FROM_ABOVE; round++) {
      const found = this.#tryOut(this.#values);
      if (found.agreement !== null) return found.agreement;
      this.#values = found.returned.map((amount) => amount && plain(amount));
    }
    return null;
  }

  byNewton(): Agreement | null {
    for (const { rounds, part } of [{ rounds: 0, part: ALL }, ...FURTHER]) {
      for (let round = 0; round < rounds; round++) {
        const { agreement, returned } = this.#tryOut(this.#values);
        if (agreement !== null) return agreement;
        this.#values = returned.map((amount, index) => partWay(this.#values[index] ?? null, amount, part));
      }
      const found = this.#newtonFrom(this.#values);
      if (found !== null) return found;
    }
    return null;
  }

  #newtonFrom(start: readonly Limit[]): Agreement | null {
    let values = start;
    const seen = new Set<string>();
    for (let step = 0; step < NEWTON_STEPS; step++) {
      const found = this.#tryOut(values, true);
      if (found.agreement !== null) return found.agreement;
      values = this.#solved(values, found.returned) ?? found.returned.map(rounded);
      const name = values.map((limit) => limit && `${limit.n}/${limit.d}`).join(" ");
      if (seen.has(name)) return null;
      seen.add(name);
    }
    return null;
  }

  /** The guess with which the pieces that hold now agree; `null` if they have none or many. */
  #solved(values: readonly Limit[], returned: readonly SlopedLimit[]): Limit[] | null {
    const rows = returned.map((amount, row) => {
      const coefficients = new Map<number, Amount>([[row, ALL]]);
      // What has no limit depends on nothing, and nothing on it.
      if (amount === null) return { coefficients, constant: NONE };
      let constant = plain(amount);
      for (const [index, slope] of amount.slopes ?? []) {
        const left = minus(coefficients.get(index) ?? NONE, slope);
        if (left.n === 0n) coefficients.delete(index);
        else coefficients.set(index, left);
        constant = minus(constant, times(slope, values[index] ?? NONE));
      }
      return { coefficients, constant };
    });
    const solution = solveLinear(rows);
    // A flow below nothing comes from pieces that cannot hold.
    return solution?.map((amount, row) => (returned[row] === null ? null : amount.n < 0n ? NONE : amount)) ?? null;
  }

  #tryOut(values: readonly Limit[], withSlopes = false) {
    this.#rounds++;
    const guess = this.#unknowns.length === 0 ? NO_GUESS : this.#guessOf(values, withSlopes);
    const rates = ratesIn(this.#graph, this.#situation, guess);
    const returned = this.#unknowns.map(
      ({ what, index }) => (what === "offer" ? rates.offers[index] : rates.inflows[index]) ?? null,
    );
    const agrees = returned.every((amount, index) => {
      const value = values[index] ?? null;
      return amount === null || value === null ? amount === value : equal(amount, value);
    });
    const agreement: Agreement | null = agrees
      ? {
          guess: withSlopes ? this.#guessOf(values, false) : guess,
          rates: withSlopes ? withoutSlopes(rates) : rates,
          rounds: this.#rounds,
        }
      : null;
    return { agreement, returned };
  }

  #guessOf(values: readonly Limit[], withSlopes: boolean): Guess {
    const offers = new Map<number, SlopedLimit>();
    const inflows = new Map<number, SlopedLimit>();
    for (const [position, { what, index }] of this.#unknowns.entries()) {
      const value = values[position] ?? null;
      const amount = value !== null && withSlopes ? guessed(value, position) : value;
      (what === "offer" ? offers : inflows).set(index, amount);
    }
    return { offers, inflows };
  }
}

function unknownsOf(graph: FlowGraph, { states }: Situation): Unknown[] {
  const short = graph.machines.flatMap(({ infeed }) =>
    infeed.some((buffer) => states[buffer] === FULL) ? infeed.filter((buffer) => states[buffer] === EMPTY) : [],
  );
  return [
    ...graph.joining.map((index): Unknown => ({ what: "offer", index })),
    ...short.map((index): Unknown => ({ what: "inflow", index })),
  ];
}

function withoutSlopes({ flows, offers, accepted, running, inflows, outflows }: Rates): Rates {
  return {
    flows: flows.map(plain),
    offers: offers.map((offer) => offer && plain(offer)),
    accepted: accepted.map(plain),
    running: running.map(plain),
    inflows: inflows.map(plain),
    outflows: outflows.map(plain),
  };
}

function partWay(from: Limit, to: SlopedLimit, part: Amount): Limit {
  return from === null || to === null ? to : rounded(plus(from, times(minus(to, from), part)));
}

function rounded(limit: SlopedLimit): Limit {
  return limit && over({ n: (limit.n * FINEST) / limit.d, d: 1n }, { n: FINEST, d: 1n });
}
