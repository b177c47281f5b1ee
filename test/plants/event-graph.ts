/**
 * A plant without choices as an event graph: what happens, and how long after what else at least. Choices come with
 * dividers and merges; where every kind goes from one machine to one other, each event waits for fixed ones only, so the
 * plant is linear in (max, +) and, connected by finite buffers, turns over once in the greatest mean of any cycle of waits
 * (F. Baccelli, G. Cohen, G. J. Olsder, J.-P. Quadrat, Synchronization and Linearity, 1992; from memory). Full buffers
 * wait for those after them: their room gives the arcs that run backward.
 *
 * The waits below are the model's rules as src/engine/README.md states them ("A tick"), in ticks, for plants in which every
 * interval is a whole number of ticks. Machines that feeds serve are taken to wait for them never.
 */
import type { Connection, MachineElement, Network } from "../../src/network/network.ts";
import { approximate } from "../../src/quantity/rational.ts";
import type { ItemCount } from "../../src/scenario/scenario.ts";

/** `to` comes at least `ticks` after `from` of `rounds` rounds before. */
export interface Wait {
  readonly from: number;
  readonly to: number;
  readonly ticks: number;
  readonly rounds: number;
}

export interface EventGraph {
  readonly events: number;
  readonly waits: readonly Wait[];
  /** Cycles of each machine in one round, after which every buffer has got as many items as it has given. */
  readonly cyclesPerRound: ReadonlyMap<string, number>;
}

/** A sequence of like events, `perRound` of them in each round. */
interface Events {
  readonly first: number;
  readonly perRound: number;
}

interface Times {
  readonly starts: Events;
  readonly finishes: Events;
}

/**
 * @param tickS seconds; every cycle, belt interval and transit is a whole number of them
 * @param entrance whether a belt that has just room for its rate has a place more at its entrance, moving or not
 */
export function eventGraphOf(network: Network, tickS: number, entrance: boolean): EventGraph {
  const machines = new Map(network.machines.map((one) => [one.id, one]));
  const between = network.connections.filter(({ from, to }) => machines.has(from) && machines.has(to));
  const cyclesPerRound = roundOf(machines, between);
  const waits: Wait[] = [];
  let events = 0;
  const series = (perRound: number): Events => {
    events += perRound;
    return { first: events - perRound, perRound };
  };
  /** For every event n of a round: `to(n)` comes `ticks` after `from(of(n))`; there is no wait for what was never to come. */
  const wait = (to: Events, from: Events, ticks: number, of: (n: number) => number): void => {
    for (let n = 0; n < to.perRound; n++) {
      const round = Math.floor(of(n) / from.perRound);
      waits.push({ from: from.first + of(n) - round * from.perRound, to: to.first + n, ticks, rounds: -round });
    }
  };
  const before = (n: number): number => n - 1;
  const same = (n: number): number => n;

  const times = new Map<string, Times>();
  for (const { id, cycleMin } of network.machines) {
    const perRound = cyclesPerRound.get(id) ?? 0;
    const [starts, finishes] = [series(perRound), series(perRound)];
    times.set(id, { starts, finishes });
    wait(finishes, starts, (approximate(cycleMin) * 60) / tickS, same);
    // A finish comes before the next start in the machine's turn.
    wait(starts, finishes, 0, before);
  }
  for (const { from, to, belt, only } of between) {
    const [giver, taker] = [machines.get(from), machines.get(to)];
    const [given, taken] = [times.get(from), times.get(to)];
    if (giver === undefined || taker === undefined || given === undefined || taken === undefined) continue;
    const item = only?.[0] ?? "";
    const [makes, takes] = [countOf(giver.makes, item), countOf(taker.takes, item)];
    const [outRoom, inRoom] = [countOf(giver.outfeed, item), countOf(taker.infeed, item)];
    const items = makes * given.finishes.perRound;

    const leaves = series(items);
    const arrives = belt === null ? leaves : series(items);
    // Belts take products before the cycle finishes in the machine's turn, so a new one waits a tick; hands take it at once …
    wait(leaves, given.finishes, belt === null ? 0 : 1, (n) => Math.floor(n / makes));
    wait(leaves, leaves, 0, before);
    // … and the place that one leaves is there at once.
    wait(given.finishes, leaves, 0, (k) => (k + 1) * makes - outRoom - 1);
    // A machine starts before it takes, so what comes waits a tick; the places that a start frees are there at once.
    wait(taken.starts, arrives, 1, (k) => (k + 1) * takes - 1);
    wait(arrives, taken.starts, 0, (n) => Math.ceil((n + 1 - inRoom) / takes) - 1);
    if (belt === null) continue;

    const interval = 60 / approximate(belt.ratePerMin) / tickS;
    const transit = Math.max(1, (approximate(belt.transitMin) * 60) / tickS);
    const [slots, exits] = [series(items), series(items)];
    const spare = belt.capacity * interval - (approximate(belt.transitMin) * 60) / tickS;
    const places = entrance && spare >= 0 && spare < interval ? belt.capacity + 1 : belt.capacity;
    // An item may enter an interval before its slot; kept waiting, the next slots move, from the beginning of the tick.
    wait(leaves, slots, -interval, same);
    wait(slots, slots, interval, before);
    wait(slots, leaves, interval - 1, before);
    wait(leaves, arrives, 0, (n) => n - places);
    wait(arrives, slots, transit, same);
    wait(arrives, leaves, transit, same);
    wait(arrives, exits, 0, same);
    wait(exits, exits, interval, before);
    wait(exits, arrives, interval - 1, before);
  }
  return { events, waits, cyclesPerRound };
}

/** Cycles in proportion, so that on every connection as many items are made as taken, in the least whole numbers. */
function roundOf(machines: ReadonlyMap<string, MachineElement>, between: readonly Connection[]): Map<string, number> {
  const cycles = new Map<string, number>();
  const scale = (by: number): void => {
    for (const [id, count] of cycles) cycles.set(id, count * by);
  };
  /** Sets `next` so that its cycles are to those of `known` as `up` to `down`. */
  const set = (known: string, next: string, up: number, down: number): void => {
    const common = gcd(up * (cycles.get(known) ?? 0), down);
    scale(down / common);
    cycles.set(next, ((cycles.get(known) ?? 0) * up) / down);
  };
  const [first] = machines.keys();
  if (first !== undefined) cycles.set(first, 1);
  for (let grown = true; grown; ) {
    grown = false;
    for (const { from, to, only } of between) {
      if (cycles.has(from) === cycles.has(to)) continue;
      const makes = countOf(machines.get(from)?.makes ?? [], only?.[0] ?? "");
      const takes = countOf(machines.get(to)?.takes ?? [], only?.[0] ?? "");
      if (cycles.has(from)) set(from, to, makes, takes);
      else set(to, from, takes, makes);
      grown = true;
    }
  }
  const common = [...cycles.values()].reduce(gcd, 0);
  for (const [id, count] of cycles) cycles.set(id, count / common);
  return cycles;
}

function gcd(a: number, b: number): number {
  return b === 0 ? a : gcd(b, a % b);
}

function countOf(counts: readonly ItemCount[], item: string): number {
  return counts.find((one) => one.item === item)?.count ?? 0;
}

/** A fraction in its lowest terms, `down` > 0. */
export interface Mean {
  readonly up: number;
  readonly down: number;
}

/**
 * The greatest mean over the cycles of waits, ticks per round, by policy iteration (R. A. Howard, Dynamic Programming and
 * Markov Processes, 1960; for (max, +) J. Cochet-Terrasson and others, "Numerical computation of spectral elements in
 * max-plus algebra", 1998; both from memory), in whole numbers. Each event sticks to one of its waits, the one that keeps
 * it longest; following them back from anywhere leads into a cycle.
 *
 * @param waits such that every event waits for some other, and all for one another in the end
 */
export function greatestCycleMean({ events, waits }: EventGraph): Mean {
  const choice = new Map<number, Wait>();
  for (const one of waits) if (!choice.has(one.to)) choice.set(one.to, one);
  let last: Evaluation = { means: [], values: [] };
  for (;;) {
    const { means, values } = evaluate(events, choice, last);
    last = { means, values };
    const meanOf = (event: number): Mean => means[event] ?? { up: 0, down: 1 };
    let better = 0;
    for (const one of waits) {
      if (compare(meanOf(one.from), meanOf(choice.get(one.to)?.from ?? one.to)) <= 0) continue;
      choice.set(one.to, one);
      better++;
    }
    if (better > 0) continue;
    const best = [...values];
    for (const one of waits) {
      const { up, down } = meanOf(one.to);
      const value = (values[one.from] ?? 0) + one.ticks * down - one.rounds * up;
      if (value <= (best[one.to] ?? 0)) continue;
      best[one.to] = value;
      choice.set(one.to, one);
      better++;
    }
    if (better === 0) return meanOf(0);
  }
}

/** For each event the mean of the cycle that its choices lead back to, and how much later than that cycle it is, × `down`. */
interface Evaluation {
  readonly means: readonly Mean[];
  readonly values: readonly number[];
}

/** @param last where a cycle's mean is as before, so is its place in time; else the choices could go round in circles */
function evaluate(events: number, choice: ReadonlyMap<number, Wait>, last: Evaluation): Evaluation {
  const means: Mean[] = [];
  const values: number[] = [];
  const state = new Uint8Array(events);
  for (let start = 0; start < events; start++) {
    const path: Wait[] = [];
    let event = start;
    while (state[event] === 0) {
      state[event] = 1;
      const wait = choice.get(event);
      if (wait === undefined) throw new Error(`event ${event} waits for nothing`);
      path.push(wait);
      event = wait.from;
    }
    if (state[event] === 1) {
      const cycle = path.slice(path.findIndex(({ to }) => to === event));
      const ticks = cycle.reduce((sum, wait) => sum + wait.ticks, 0);
      const rounds = cycle.reduce((sum, wait) => sum + wait.rounds, 0);
      if (rounds === 0) throw new Error("a cycle of waits within one round: the plant is dead");
      const common = Math.abs(gcd(ticks, rounds)) || 1;
      const mean = { up: ticks / common, down: rounds / common };
      const before = last.means[event];
      means[event] = mean;
      values[event] = before !== undefined && compare(mean, before) === 0 ? (last.values[event] ?? 0) : 0;
      state[event] = 2;
    }
    for (const { from, to, ticks, rounds } of path.reverse()) {
      if (state[to] === 2) continue;
      const mean = means[from] ?? { up: 0, down: 1 };
      means[to] = mean;
      values[to] = (values[from] ?? 0) + ticks * mean.down - rounds * mean.up;
      state[to] = 2;
    }
  }
  return { means, values };
}

function compare(a: Mean, b: Mean): number {
  return a.up * b.down - b.up * a.down;
}
