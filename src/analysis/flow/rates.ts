/**
 * The flows while nothing gets full or empty and no feed steps. Limits run from the machines back to the feeds, flows
 * from the feeds on. A buffer that is not full takes whatever comes, a full one what its machine draws; a machine whose
 * empty buffer receives less than it needs runs at that share.
 */
import type { FlowGraph, FlowNode } from "./graph.ts";
import {
  ALL,
  type Amount,
  compare,
  equal,
  type Limit,
  least,
  minus,
  NONE,
  over,
  plus,
  tighter,
  times,
  total,
} from "./number.ts";
import { inletLimits, share } from "./sharing.ts";

/** What a buffer is at the start of a phase. */
export const EMPTY = 0;
export const BETWEEN = 1;
export const FULL = 2;
export type BufferState = typeof EMPTY | typeof BETWEEN | typeof FULL;

export interface Rates {
  /** Items/min on each connection, by index; products are not among them. */
  readonly flows: readonly Amount[];
  /** Items/min accepted of each feed. */
  readonly accepted: readonly Amount[];
  /** Share of the time that each machine runs. */
  readonly running: readonly Amount[];
  /** Items/min into each buffer. */
  readonly inflows: readonly Amount[];
  /** Items/min by which each buffer's level rises. */
  readonly nets: readonly Amount[];
}

/** Rounds after which flows that still change are taken not to settle. A network without merges needs one or two. */
const MOST_ROUNDS = 200;

/**
 * @param states of each buffer
 * @param feedRates items/min on offer from each feed
 * @returns `null` if the flows do not come to agree
 */
export function ratesIn(graph: FlowGraph, states: readonly BufferState[], feedRates: readonly Amount[]): Rates | null {
  let flows: Amount[] = graph.network.connections.map(() => NONE);
  let running: Amount[] = graph.machines.map(() => ALL);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const limits = limitsFrom(graph, states, running, flows);
    const { flows: nextFlows, accepted, inflows } = flowsFrom(graph, limits, feedRates);
    const nextRunning = graph.machines.map((_, machine) => runningShare(graph, states, inflows, machine));
    const agrees = !graph.coupled || (sameAmounts(flows, nextFlows) && sameAmounts(running, nextRunning));
    flows = nextFlows;
    running = nextRunning;
    if (agrees) return { flows, accepted, running, inflows, nets: netsFrom(graph, states, inflows, running) };
  }
  return null;
}

/** What each connection can deliver, from the machines back. */
function limitsFrom(
  graph: FlowGraph,
  states: readonly BufferState[],
  running: readonly Amount[],
  flows: readonly Amount[],
): Limit[] {
  const limits: Limit[] = [...graph.beltLimits];
  for (let index = graph.nodes.length - 1; index >= 0; index--) {
    const node = graph.nodes[index];
    if (node === undefined || node.kind === "feed") continue;
    const room = roomOf(graph, node, limits, states, running);
    if (room === null) continue;
    const rule = node.kind === "junction" ? node.rule : "ordered";
    const shares = inletLimits(
      rule,
      room,
      node.inlets.map((inlet) => flows[inlet] ?? NONE),
    );
    for (const [position, inlet] of node.inlets.entries()) {
      limits[inlet] = tighter(limits[inlet] ?? null, shares[position] ?? null);
    }
  }
  return limits;
}

/** What a node can take in all. */
function roomOf(
  graph: FlowGraph,
  node: Exclude<FlowNode, { kind: "feed" }>,
  limits: readonly Limit[],
  states: readonly BufferState[],
  running: readonly Amount[],
): Limit {
  switch (node.kind) {
    case "end":
      return node.limit;
    case "buffer": {
      const buffer = graph.buffers[node.buffer];
      if (buffer === undefined || states[node.buffer] !== FULL) return null;
      return times(buffer.need, running[buffer.machine] ?? ALL);
    }
    case "junction": {
      let room = NONE;
      for (const outlet of node.outlets) {
        const limit = limits[outlet] ?? null;
        if (limit === null) return null;
        room = plus(room, limit);
      }
      return room;
    }
  }
}

function flowsFrom(graph: FlowGraph, limits: readonly Limit[], feedRates: readonly Amount[]) {
  const flows: Amount[] = limits.map(() => NONE);
  const accepted: Amount[] = graph.network.feeds.map(() => NONE);
  const inflows: Amount[] = graph.buffers.map(() => NONE);
  for (const node of graph.nodes) {
    const arriving = node.kind === "feed" ? (feedRates[node.feed] ?? NONE) : sumAt(flows, node.inlets);
    if (node.kind === "buffer") inflows[node.buffer] = arriving;
    if (node.kind === "buffer" || node.kind === "end") continue;
    const rule = node.kind === "junction" ? node.rule : "ordered";
    const shares = share(
      rule,
      arriving,
      node.outlets.map((outlet) => limits[outlet] ?? null),
    );
    for (const [position, outlet] of node.outlets.entries()) flows[outlet] = shares[position] ?? NONE;
    if (node.kind === "feed") accepted[node.feed] = total(shares);
  }
  return { flows, accepted, inflows };
}

function sumAt(flows: readonly Amount[], indices: readonly number[]): Amount {
  let sum = NONE;
  for (const index of indices) sum = plus(sum, flows[index] ?? NONE);
  return sum;
}

function runningShare(
  graph: FlowGraph,
  states: readonly BufferState[],
  inflows: readonly Amount[],
  machine: number,
): Amount {
  let running = ALL;
  for (const index of graph.machines[machine]?.buffers ?? []) {
    const need = graph.buffers[index]?.need ?? ALL;
    const inflow = inflows[index] ?? NONE;
    if (states[index] === EMPTY && compare(inflow, need) < 0) running = least(running, over(inflow, need));
  }
  return running;
}

function netsFrom(
  graph: FlowGraph,
  states: readonly BufferState[],
  inflows: readonly Amount[],
  running: readonly Amount[],
): Amount[] {
  return graph.buffers.map(({ machine, need }, index) => {
    const inflow = inflows[index] ?? NONE;
    const passesAll = states[index] === EMPTY && graph.machines[machine]?.buffers.length === 1;
    if (passesAll && compare(inflow, need) <= 0) return NONE;
    return minus(inflow, times(need, running[machine] ?? ALL));
  });
}

function sameAmounts(a: readonly Amount[], b: readonly Amount[]): boolean {
  return a.every((amount, index) => equal(amount, b[index] ?? NONE));
}
