/**
 * What passes every connection and element in the long run. A result tells it of belts, feeds, machines and outlets; for
 * direct hand-overs it follows, since no more goes out of an element than comes in.
 */

import { type Graph, graphOf, letsIn } from "../network/graph.ts";
import { itemsPerCycle } from "../network/needs.ts";
import type { Connection, MachineElement, Network } from "../network/network.ts";
import { approximate, exact, type Rational, rational, sum, whole, ZERO } from "../quantity/rational.ts";
import type { Exact, MachineResult, Result } from "./result.ts";

export interface Passes {
  /** `null` where it is only measured, or not known. */
  readonly flow_per_min: Exact | null;
  readonly measured_per_min: number | null;
}

export interface Passing {
  readonly ofConnection: (id: string) => Passes;
  readonly ofElement: (id: string) => Passes;
}

/** A rate, and whether it is exact. */
interface Rate {
  readonly value: Rational;
  readonly isExact: boolean;
}

interface Told {
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
}

export function passingOf(network: Network, result: Result): Passing {
  const graph = graphOf(network);
  const told = (list: readonly (Told & { readonly id: string })[]): Map<string, Rate> =>
    new Map(list.flatMap((one) => entry(one.id, rateOf(one))));
  const connections = told(result.belts);
  const machines = new Map(result.machines.flatMap((machine) => entry(machine.id, takenBy(machine))));
  const ends = new Map([...told(result.feeds), ...told(result.outlets)]);
  const sides = [...sidesOf(network, graph, machines, ends)];
  for (let isNews = true; isNews; ) {
    isNews = false;
    for (const side of sides) isNews = fillIn(side, connections) || isNews;
  }
  const through = (id: string): Rate | null => {
    const known = machines.get(id) ?? ends.get(id);
    if (known !== undefined) return known;
    return totalOf(graph.into(id), connections) ?? totalOf(graph.outOf(id), connections);
  };
  return {
    ofConnection: (id) => passes(connections.get(id) ?? null),
    ofElement: (id) => passes(through(id)),
  };
}

/** Items of all kinds. */
function takenBy({ infeed }: MachineResult): Rate | null {
  const rates = infeed.map(rateOf).filter((rate) => rate !== null);
  if (rates.length < infeed.length) return null;
  return { value: sum(rates.map(({ value }) => value)), isExact: rates.every(({ isExact }) => isExact) };
}

/** Connections on one side of an element, and what passes them together: a rate, or what passes others. */
interface Side {
  readonly connections: readonly Connection[];
  readonly total: Rate | readonly Connection[];
}

function* sidesOf(
  { dividers, merges, machines: elements }: Network,
  graph: Graph,
  machines: ReadonlyMap<string, Rate>,
  ends: ReadonlyMap<string, Rate>,
): Generator<Side> {
  for (const [id, total] of ends) {
    yield { connections: graph.outOf(id), total };
    yield { connections: graph.into(id), total };
  }
  for (const { id } of [...dividers, ...merges]) {
    yield { connections: graph.outOf(id), total: graph.into(id) };
    yield { connections: graph.into(id), total: graph.outOf(id) };
  }
  for (const machine of elements) {
    const taken = machines.get(machine.id);
    if (taken === undefined) continue;
    yield { connections: graph.into(machine.id), total: taken };
    yield* productsOf(machine, taken, graph.outOf(machine.id));
  }
}

/** All products that lines collect, and those of each connection that alone takes what it takes. */
function* productsOf(machine: MachineElement, taken: Rate, out: readonly Connection[]): Generator<Side> {
  const cycles = taken.value.div(whole(Math.max(1, itemsPerCycle(machine))));
  const rateOfKinds = (isMeant: (item: string) => boolean): Rate => {
    const counts = machine.makes.filter(({ item }) => isMeant(item)).map(({ count }) => whole(count));
    return { value: cycles.mul(sum(counts)), isExact: taken.isExact };
  };
  const takers = (item: string): number => out.filter((connection) => letsIn(connection, item)).length;
  yield { connections: out, total: rateOfKinds((item) => takers(item) > 0) };
  for (const connection of out) {
    const own = machine.makes.filter(({ item }) => letsIn(connection, item));
    if (own.some(({ item }) => takers(item) > 1)) continue;
    yield { connections: [connection], total: rateOfKinds((item) => letsIn(connection, item)) };
  }
}

/** @returns whether it has found the one rate of the side that was not known */
function fillIn({ connections, total }: Side, known: Map<string, Rate>): boolean {
  const [open, ...others] = connections.filter(({ id }) => !known.has(id));
  if (open === undefined || others.length > 0) return false;
  const all = "value" in total ? total : totalOf(total, known);
  const rest = totalOf(
    connections.filter((one) => one !== open),
    known,
  );
  if (all === null || rest === null) return false;
  const left = all.value.sub(rest.value);
  // Rounding of what is measured may leave a little less than nothing.
  known.set(open.id, { value: left.compare(ZERO) < 0 ? ZERO : left, isExact: all.isExact && rest.isExact });
  return true;
}

function totalOf(connections: readonly Connection[], known: ReadonlyMap<string, Rate>): Rate | null {
  const rates = connections.map(({ id }) => known.get(id) ?? null).filter((rate) => rate !== null);
  if (rates.length < connections.length) return null;
  return { value: sum(rates.map(({ value }) => value)), isExact: rates.every(({ isExact }) => isExact) };
}

function entry(id: string, rate: Rate | null): [string, Rate][] {
  return rate === null ? [] : [[id, rate]];
}

/** Measured rates are kept to a millionth. */
const MEASURED_PARTS = 1_000_000;

function rateOf({ settled_per_min, measured_per_min }: Told): Rate | null {
  if (settled_per_min !== null) return { value: rational(settled_per_min), isExact: true };
  if (measured_per_min === undefined) return null;
  return { value: whole(Math.round(measured_per_min * MEASURED_PARTS)).div(whole(MEASURED_PARTS)), isExact: false };
}

function passes(rate: Rate | null): Passes {
  if (rate === null) return { flow_per_min: null, measured_per_min: null };
  return rate.isExact
    ? { flow_per_min: exact(rate.value), measured_per_min: null }
    : { flow_per_min: null, measured_per_min: approximate(rate.value) };
}
