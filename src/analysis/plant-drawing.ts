/** A plant as a drawing shows it: elements, the belts between them, and what passes in the long run. */
import { graphOf, leavesByItself, sweepOf } from "../network/graph.ts";
import { carriedAtMost } from "../network/headroom.ts";
import type { Connection, Network } from "../network/network.ts";
import { hopperOf } from "../network/surges.ts";
import { groupBy } from "../quantity/counts.ts";
import { exact, type Rational, rational, sum, ZERO } from "../quantity/rational.ts";
import type { Rule } from "../scenario/scenario.ts";
import { type Passing, passingOf } from "./passing.ts";
import type { Exact, MachineResult, Result } from "./result.ts";
import { waysOf } from "./ways.ts";

/** Rates are items per minute. */
export interface PlantDrawing {
  readonly title: string;
  /** Nothing is made in the long run. */
  readonly stands_still: boolean;
  /** In the order of the network: feeds, surge buffers, merges, dividers, machines, outlets. */
  readonly elements: readonly DrawnElement[];
  readonly belts: readonly DrawnBelt[];
}

export type ElementKind = "feed" | "surge" | "merge" | "divider" | "machine" | "outlet";

export interface DrawnElement {
  readonly id: string;
  readonly kind: ElementKind;
  /** `null` for feeds, outlets, and machines that no line reaches. */
  readonly line: string | null;
  /**
   * What it feeds, takes or lets out in the long run, and of a machine that takes several kinds what it makes; the exact one
   * `null` where that is only measured.
   */
  readonly per_min: Exact | null;
  readonly measured_per_min: number | null;
  /** Of a feed what it brings, of an outlet what it takes, of a machine what leaves it by itself, since no line collects it. */
  readonly items: readonly string[];
  /** Of a feed. */
  readonly offered_per_min: Exact | null;
  /** Of a divider or merge. */
  readonly rule: Rule | null;
  /** An outlet to which no belt leads: products that no line collects leave by it. */
  readonly has_no_belt: boolean;
  /** Of a machine: that rate when it never waits, and its part of all that its line brings to machines. */
  readonly needs_per_min: Exact | null;
  readonly share: Exact | null;
}

export interface DrawnBelt {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  /** What it could carry; `null` for a direct hand-over. */
  readonly rate_per_min: Exact | null;
  readonly flow_per_min: Exact | null;
  readonly measured_per_min: number | null;
  /** Whether it leads back to an element before it. */
  readonly returns: boolean;
  /** The kinds that can come along it, on a line of several; none where there is but one. */
  readonly kinds: readonly string[];
  /** The end at which an ordered divider or merge serves it before the others. */
  readonly comes_first: readonly ("from" | "to")[];
  /** The kind that stands at its head for ever. */
  readonly jammed_by: string | null;
}

/** What passes each element and belt when all has settled. */
export function plantDrawing(network: Network, result: Result): PlantDrawing {
  const drawn = withDrawnSurges(network);
  const passing = passingOf(drawn.network, result);
  const returning = returningIn(drawn.network);
  const kindsOn = mixedKinds(drawn.network);
  const firstAt = servedFirst(drawn.network);
  const jammed = new Map(
    (result.jams ?? []).flatMap(({ belt, also, item }) => [belt, ...also].map((id): [string, string] => [id, item])),
  );
  return {
    title: result.title,
    stands_still: result.output.settled_per_min === "0",
    elements: elementsOf(drawn, passing, result),
    belts: drawn.network.connections.map(({ id, from, to, belt }) => ({
      id,
      from,
      to,
      rate_per_min: belt && exact(carriedAtMost(belt)),
      ...passing.ofConnection(id),
      returns: returning.has(id),
      kinds: kindsOn(id),
      comes_first: firstAt(id),
      jammed_by: jammed.get(id) ?? null,
    })),
  };
}

interface Drawn {
  readonly network: Network;
  readonly hoppers: ReadonlySet<string>;
}

/** Every surge buffer an element of its own, what lies before and behind it handed over. */
function withDrawnSurges(network: Network): Drawn {
  const queues = new Map(network.surges.map(({ feed, connection }) => [connection, feed]));
  const merges = [...network.merges];
  const known = new Set(merges.map(({ id }) => id));
  const connections = network.connections.flatMap((connection): Connection[] => {
    const feed = queues.get(connection.id);
    if (feed === undefined) return [connection];
    const hopper = hopperOf(feed);
    const queue = { ...connection, belt: null };
    if (connection.to === hopper) return [queue];
    // Where its line takes from it directly, the queue itself leads on.
    if (!known.has(hopper)) merges.push({ id: hopper, line: connection.line, rule: "ordered" });
    known.add(hopper);
    return [
      { ...queue, id: `${feed}.surge`, to: hopper },
      { ...queue, from: hopper },
    ];
  });
  const hoppers = new Set(network.surges.map(({ feed }) => hopperOf(feed)));
  return { network: { ...network, merges, connections }, hoppers };
}

function mixedKinds(network: Network): (connection: string) => readonly string[] {
  const { carries, connection } = waysOf(network);
  const kindsOf = (one: Connection): string[] => network.items.filter((item) => carries(one, item));
  const ofLine = groupBy(network.connections, ({ line }) => line);
  const mixed = new Set([...ofLine].flatMap(([line, all]) => (new Set(all.flatMap(kindsOf)).size > 1 ? [line] : [])));
  return (id) => {
    const one = connection(id);
    return one === undefined || !mixed.has(one.line) ? [] : kindsOf(one);
  };
}

function servedFirst(network: Network): (connection: string) => ("from" | "to")[] {
  const graph = graphOf(network);
  const ordered = (list: Network["dividers"]): string[] =>
    list.flatMap(({ id, rule }) => (rule === "ordered" ? [id] : []));
  const first = (list: readonly Connection[]): string[] => list.slice(0, list.length > 1 ? 1 : 0).map(({ id }) => id);
  const out = new Set(ordered(network.dividers).flatMap((id) => first(graph.outOf(id))));
  const into = new Set(ordered(network.merges).flatMap((id) => first(graph.into(id))));
  return (id) => [...(out.has(id) ? ["from" as const] : []), ...(into.has(id) ? ["to" as const] : [])];
}

function elementsOf({ network, hoppers }: Drawn, passing: Passing, result: Result): DrawnElement[] {
  const plain = (kind: ElementKind, id: string, line: string | null, rule: Rule | null = null): DrawnElement => {
    const { flow_per_min, measured_per_min } = passing.ofElement(id);
    const passes = { per_min: flow_per_min, measured_per_min };
    const others = { items: [], offered_per_min: null, has_no_belt: false, needs_per_min: null, share: null };
    return { id, kind, line, ...passes, ...others, rule };
  };
  const shares = sharesOf(network, passing);
  const machines = new Map(result.machines.map((machine) => [machine.id, machine]));
  const graph = graphOf(network);
  const reached = new Set(network.connections.map(({ to }) => to));
  const offered = new Map(result.feeds.map(({ id, rate_per_min }) => [id, rate_per_min]));
  return [
    ...network.feeds.map(({ id, items }) => ({
      ...plain("feed", id, null),
      items: items.map(({ item }) => item),
      offered_per_min: offered.get(id) ?? null,
    })),
    ...network.merges.filter(({ id }) => hoppers.has(id)).map(({ id, line }) => plain("surge", id, line)),
    ...network.merges.filter(({ id }) => !hoppers.has(id)).map(({ id, line, rule }) => plain("merge", id, line, rule)),
    ...network.dividers.map(({ id, line, rule }) => plain("divider", id, line, rule)),
    ...network.machines.map((machine) => ({
      ...plain("machine", machine.id, machine.line),
      ...ratesOf(machines.get(machine.id)),
      items: machine.makes.flatMap(({ item }) => (leavesByItself(graph, machine, item) ? [item] : [])),
      share: shares.get(machine.id) ?? null,
    })),
    ...network.outlets.map(({ id, item }) => {
      const outlet = { ...plain("outlet", id, null), items: item === null ? [] : [item] };
      return reached.has(id) ? outlet : { ...outlet, has_no_belt: true, ...leavingByItself(network, item, result) };
    }),
  ];
}

function ratesOf(
  machine: MachineResult | undefined,
): Pick<DrawnElement, "per_min" | "measured_per_min" | "needs_per_min"> {
  return {
    per_min: machine?.settled_per_min ?? null,
    measured_per_min: machine?.measured_per_min ?? null,
    needs_per_min: machine?.needs_per_min ?? null,
  };
}

/** What machines make of a kind and no line collects, where all their rates are exact. */
function leavingByItself(
  network: Network,
  item: string | null,
  result: Result,
): Pick<DrawnElement, "per_min" | "measured_per_min"> {
  const graph = graphOf(network);
  const products = new Map(result.machines.map((machine) => [machine.id, machine.products]));
  const rates = network.machines.flatMap((machine) => {
    const made = machine.makes.find((one) => one.item === item);
    if (made === undefined || !leavesByItself(graph, machine, made.item)) return [];
    return [products.get(machine.id)?.find((one) => one.item === item)?.settled_per_min ?? null];
  });
  const known = rates.flatMap((rate) => (rate === null ? [] : rational(rate)));
  return { per_min: known.length < rates.length ? null : exact(sum(known)), measured_per_min: null };
}

/** Each machine's part of what its line brings to machines, where that is known and more than nothing. */
function sharesOf({ machines, connections }: Network, passing: Passing): Map<string, Exact> {
  const brought = new Map<string, Rational | null>();
  const lineOf = new Map(machines.map(({ id, line }) => [id, line]));
  for (const { id, line, to } of connections) {
    if (!lineOf.has(to)) continue;
    const flow = passing.ofConnection(id).flow_per_min;
    for (const key of [line, ...(lineOf.get(to) === line ? [keyOf(line, to)] : [])]) {
      const before = brought.get(key);
      brought.set(key, flow === null || before === null ? null : (before ?? ZERO).add(rational(flow)));
    }
  }
  return new Map(
    machines.flatMap(({ id, line }) => {
      const own = line === null ? null : brought.get(keyOf(line, id));
      const all = line === null ? null : brought.get(line);
      return own && all && all.n !== 0n ? [[id, exact(own.div(all))] as const] : [];
    }),
  );
}

/** No name holds a space. */
function keyOf(line: string, machine: string): string {
  return `${line} ${machine}`;
}

/** Connections that close a loop, and those by which everything goes to such a one. */
function returningIn(network: Network): Set<string> {
  const graph = graphOf(network);
  const { order, cuts } = sweepOf(graph);
  const junctions = new Set([...network.dividers, ...network.merges].map(({ id }) => id));
  const returning = new Set(cuts.map(({ id }) => id));
  const back = new Set<string>();
  for (const node of order) {
    const out = graph.outOf(node);
    for (const { id, to } of out) if (back.has(to)) returning.add(id);
    if (junctions.has(node) && out.length > 0 && out.every(({ id }) => returning.has(id))) back.add(node);
  }
  return returning;
}
