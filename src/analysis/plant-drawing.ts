/** A plant as a drawing shows it: elements, the belts between them, and what passes in the long run. */
import { graphOf, sweepOf } from "../network/graph.ts";
import { carriedAtMost } from "../network/headroom.ts";
import type { Connection, Network } from "../network/network.ts";
import { hopperOf } from "../network/surges.ts";
import { exact, type Rational, rational, ZERO } from "../quantity/rational.ts";
import { type Passing, passingOf } from "./passing.ts";
import type { Exact, MachineResult, Result } from "./result.ts";

/** Rates are items per minute. */
export interface PlantDrawing {
  readonly title: string;
  /** In the order of the network: feeds, surge buffers, merges, dividers, machines, outlets that a line leads to. */
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
}

/** What passes each element and belt when all has settled. */
export function plantDrawing(network: Network, result: Result): PlantDrawing {
  const drawn = withDrawnSurges(network);
  const passing = passingOf(drawn.network, result);
  const returning = returningIn(drawn.network);
  return {
    title: result.title,
    elements: elementsOf(drawn, passing, result),
    belts: drawn.network.connections.map(({ id, from, to, belt }) => ({
      id,
      from,
      to,
      rate_per_min: belt && exact(carriedAtMost(belt)),
      ...passing.ofConnection(id),
      returns: returning.has(id),
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

function elementsOf({ network, hoppers }: Drawn, passing: Passing, result: Result): DrawnElement[] {
  const plain = (kind: ElementKind, id: string, line: string | null): DrawnElement => {
    const { flow_per_min, measured_per_min } = passing.ofElement(id);
    return { id, kind, line, per_min: flow_per_min, measured_per_min, needs_per_min: null, share: null };
  };
  const shares = sharesOf(network, passing);
  const machines = new Map(result.machines.map((machine) => [machine.id, machine]));
  const reached = new Set(network.connections.map(({ to }) => to));
  return [
    ...network.feeds.map(({ id }) => plain("feed", id, null)),
    ...network.merges.filter(({ id }) => hoppers.has(id)).map(({ id, line }) => plain("surge", id, line)),
    ...network.merges.filter(({ id }) => !hoppers.has(id)).map(({ id, line }) => plain("merge", id, line)),
    ...network.dividers.map(({ id, line }) => plain("divider", id, line)),
    ...network.machines.map((machine) => ({
      ...plain("machine", machine.id, machine.line),
      ...ratesOf(machines.get(machine.id)),
      share: shares.get(machine.id) ?? null,
    })),
    ...network.outlets.filter(({ id }) => reached.has(id)).map(({ id }) => plain("outlet", id, null)),
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
