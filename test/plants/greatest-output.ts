/**
 * The greatest output that any way of running a plant could reach: a linear program over flows, kind by kind, solved with
 * HiGHS (Q. Huangfu, J. A. J. Hall, "Parallelizing the dual revised simplex method", Mathematical Programming Computation
 * 10, 2018; npm's `highs`).
 *
 * Unknown are the items/min of each kind on each connection, the share of the time that each machine runs and the share of
 * its rate that each feed brings. Dividers and merges may share in any way, but lose nothing; buffers are neither filled
 * nor drained in the long run. So every long-run behaviour of the plant is a solution, and none makes more than the best.
 */
import { createRequire } from "node:module";
import type { Highs } from "highs";
import { finalMachines } from "../../src/network/graph.ts";
import type { Connection, Network } from "../../src/network/network.ts";
import { approximate, ONE, type Rational, whole, ZERO } from "../../src/quantity/rational.ts";
import type { ItemCount } from "../../src/scenario/scenario.ts";

// The package types its two forms alike, and they fit the one for `require`.
const load: () => Promise<Highs> = createRequire(import.meta.url)("highs");
const highs = await load();

/** HiGHS keeps its constraints within 1e-7 unless told otherwise; coefficients here are of the order of 1 to 1000. */
export const TOLERANCE = 1e-5;

export interface Term {
  readonly variable: string;
  readonly by: Rational;
}

/** The terms' sum is 0, or at most `most`. */
export interface Row {
  readonly name: string;
  readonly terms: readonly Term[];
  readonly most: Rational | null;
}

export interface Program {
  readonly rows: readonly Row[];
  readonly objective: readonly Term[];
}

export const running = (machine: string): string => `run ${machine}`;
export const fed = (feed: string): string => `feed ${feed}`;
export const flow = (connection: string, item: string): string => `flow ${connection} ${item}`;

export function programOf(network: Network): Program {
  const { feeds, machines, dividers, merges, outlets, connections, items } = network;
  const rows: Row[] = [];
  const outOf = (id: string) => connections.filter(({ from }) => from === id);
  const into = (id: string) => connections.filter(({ to }) => to === id);
  const sum = (along: readonly Connection[], item: string, by: Rational): Term[] =>
    along.filter((one) => letsIn(one, item)).map(({ id }) => ({ variable: flow(id, item), by }));
  const balance = (name: string, terms: readonly Term[]): void => {
    if (terms.length > 0) rows.push({ name, terms, most: null });
  };

  for (const feed of feeds) {
    const rate = feed.profile.at(-1)?.ratePerMin ?? ZERO;
    const inAll = whole(feed.items.reduce((total, { count }) => total + count, 0));
    rows.push({ name: fed(feed.id), terms: [{ variable: fed(feed.id), by: ONE }], most: ONE });
    for (const item of items) {
      const share = whole(countOf(feed.items, item)).div(inAll);
      const brought = { variable: fed(feed.id), by: rate.mul(share).neg() };
      balance(`${feed.id} ${item}`, [...sum(outOf(feed.id), item, ONE), brought]);
    }
  }
  for (const { id } of [...dividers, ...merges]) {
    for (const item of items)
      balance(`${id} ${item}`, [...sum(into(id), item, ONE), ...sum(outOf(id), item, ONE.neg())]);
  }
  for (const { id, cycleMin, takes, makes } of machines) {
    const perMin = (count: number): Rational => whole(count).div(cycleMin);
    rows.push({ name: running(id), terms: [{ variable: running(id), by: ONE }], most: ONE });
    for (const item of items) {
      const drawn = { variable: running(id), by: perMin(countOf(takes, item)).neg() };
      balance(`${id} takes ${item}`, [...sum(into(id), item, ONE), drawn]);
      // What no connection collects leaves by itself.
      const collected = sum(outOf(id), item, ONE);
      const made = { variable: running(id), by: perMin(countOf(makes, item)).neg() };
      if (collected.length > 0) balance(`${id} makes ${item}`, [...collected, made]);
    }
  }
  for (const outlet of outlets) {
    const others = items.filter((item) => outlet.item !== null && item !== outlet.item);
    for (const item of others) balance(`${outlet.id} ${item}`, sum(into(outlet.id), item, ONE));
  }
  for (const one of connections) {
    if (one.belt === null) continue;
    const carried = items
      .filter((item) => letsIn(one, item))
      .map((item) => ({ variable: flow(one.id, item), by: ONE }));
    rows.push({ name: `belt ${one.id}`, terms: carried, most: one.belt.ratePerMin });
  }

  const isFinal = finalMachines(network);
  const objective = machines.flatMap(({ id, cycleMin, makes }) => {
    const made = makes.reduce((total, { count }) => total + count, 0);
    return isFinal.has(id) ? [{ variable: running(id), by: whole(made).div(cycleMin) }] : [];
  });
  return { rows, objective };
}

function countOf(counts: readonly ItemCount[], item: string): number {
  return counts.find((one) => one.item === item)?.count ?? 0;
}

function letsIn({ only }: Connection, item: string): boolean {
  return only === null || only.includes(item);
}

/** @returns products/min of the final machines, all kinds together */
export function greatestOutput(program: Program): number {
  const names = new Map<string, string>();
  const nameOf = (variable: string): string => {
    const name = names.get(variable) ?? `x${names.size}`;
    names.set(variable, name);
    return name;
  };
  const text = (terms: readonly Term[]): string =>
    terms.map(({ variable, by }) => `${by.s < 0n ? "-" : "+"} ${approximate(by.abs())} ${nameOf(variable)}`).join(" ");
  const lines = ["Maximize", ` output: ${text(program.objective)}`, "Subject To"];
  for (const [index, { terms, most }] of program.rows.entries()) {
    lines.push(` r${index}: ${text(terms)} ${most === null ? "= 0" : `<= ${approximate(most)}`}`);
  }
  lines.push("End", "");
  const solution = highs.solve(lines.join("\n"), { output_flag: false });
  if (solution.Status !== "Optimal") throw new Error(`the program is ${solution.Status}`);
  return solution.ObjectiveValue;
}

/** The terms' sum, exactly, for given values; what is not given is 0. */
export function sumOf(terms: readonly Term[], values: ReadonlyMap<string, Rational>): Rational {
  return terms.reduce((total, { variable, by }) => total.add(by.mul(values.get(variable) ?? ZERO)), ZERO);
}
