/** A plant as a drawing shows it: elements, the belts between them, and what passes in the long run. */
import { graphOf, sweepOf } from "../network/graph.ts";
import { carriedAtMost } from "../network/headroom.ts";
import { needPerMin } from "../network/needs.ts";
import type { Connection, Network } from "../network/network.ts";
import { hopperOf } from "../network/surges.ts";
import { exact, rational, sum } from "../quantity/rational.ts";
import { type Passing, passingOf } from "./passing.ts";
import type { Exact, Result } from "./result.ts";

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
  /** What it feeds, takes or lets out in the long run; the exact one `null` where that is only measured. */
  readonly per_min: Exact | null;
  readonly measured_per_min: number | null;
  /** Of a machine: its need, and its part of all that the machines of its line take. */
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
  const shares = sharesOf(result);
  const reached = new Set(network.connections.map(({ to }) => to));
  return [
    ...network.feeds.map(({ id }) => plain("feed", id, null)),
    ...network.merges.filter(({ id }) => hoppers.has(id)).map(({ id, line }) => plain("surge", id, line)),
    ...network.merges.filter(({ id }) => !hoppers.has(id)).map(({ id, line }) => plain("merge", id, line)),
    ...network.dividers.map(({ id, line }) => plain("divider", id, line)),
    ...network.machines.map((machine) => ({
      ...plain("machine", machine.id, machine.line),
      needs_per_min: exact(needPerMin(machine)),
      share: shares.get(machine.id) ?? null,
    })),
    ...network.outlets.filter(({ id }) => reached.has(id)).map(({ id }) => plain("outlet", id, null)),
  ];
}

/** Each machine's part of what the machines of its line take, where that is known and more than nothing. */
function sharesOf({ machines, lines }: Result): Map<string, Exact> {
  const taken = new Map(machines.map(({ id, settled_per_min }) => [id, settled_per_min]));
  return new Map(
    lines.flatMap((line) => {
      const rates = line.machines.map((id) => taken.get(id) ?? null).filter((rate) => rate !== null);
      const total = sum(rates.map(rational));
      if (rates.length < line.machines.length || total.n === 0n) return [];
      return line.machines.map((id, m) => [id, exact(rational(rates[m] ?? "0").div(total))] as const);
    }),
  );
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
