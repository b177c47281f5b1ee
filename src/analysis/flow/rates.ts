/**
 * The flows while nothing gets full or empty and no feed changes. Limits run from the ends and machines back to the
 * feeds, flows from the feeds on, through the machines, to the ends.
 *
 * Where flows join, and where a machine takes several kinds, limits depend on flows that are not known before; they are
 * guessed, and `agreement.ts` looks for the guess that reproduces itself.
 */
import type { Rule } from "../../scenario/scenario.ts";
import type { FlowBuffer, FlowGraph, FlowNode } from "./graph.ts";
import { ALL, type Amount, compare, NONE, over, times, total } from "./number.ts";
import { inletLimits, share } from "./sharing.ts";
import { add, lesser, type Sloped, type SlopedLimit, scale, subtract, tighterOf } from "./slopes.ts";

/** What a buffer is at the start of a phase. */
export const EMPTY = 0;
export const BETWEEN = 1;
export const FULL = 2;
export type BufferState = typeof EMPTY | typeof BETWEEN | typeof FULL;

/** What the rates depend on from outside. */
export interface Situation {
  /** Of each buffer. */
  readonly states: readonly BufferState[];
  /** Items/min on offer from each feed. */
  readonly feedRates: readonly Amount[];
}

export interface Guess {
  /**
   * What each flow that joins others would be if nothing behind held it up, by index of flow; `null` is without limit.
   * Offers rather than flows, because a merge's sharing follows from its room and the offers alone.
   */
  readonly offers: ReadonlyMap<number, SlopedLimit>;
  /** By index of buffer, for empty infeeds of machines that draw from a full one too; `null` is more than enough. */
  readonly inflows: ReadonlyMap<number, SlopedLimit>;
}

export const NO_GUESS: Guess = { offers: new Map(), inflows: new Map() };

export interface Rates {
  /** Items/min by index of flow; free products are not among them. */
  readonly flows: readonly Sloped[];
  /** What flows would be if nothing behind held them up, where a merge asks for it. */
  readonly offers: readonly SlopedLimit[];
  /** Items/min accepted of each feed. */
  readonly accepted: readonly Sloped[];
  /** Share of the time that each machine runs. */
  readonly running: readonly Sloped[];
  /** Items/min into and out of each buffer. */
  readonly inflows: readonly Sloped[];
  readonly outflows: readonly Sloped[];
}

/** @throws BoundlessFlowError */
export function ratesIn(graph: FlowGraph, situation: Situation, guess: Guess): Rates {
  return flowsFrom(graph, situation, limitsFrom(graph, situation, guess));
}

/** A store that isn't empty before room without end, and no belt between them: never in a plant that started empty. */
export class BoundlessFlowError extends Error {}

interface Limits {
  /** What each flow can be at most. */
  readonly flows: readonly SlopedLimit[];
  /** What each outfeed or surge buffer can pass on. */
  readonly passes: readonly SlopedLimit[];
}

/** What each connection can deliver, from the ends back. */
function limitsFrom(graph: FlowGraph, { states }: Situation, guess: Guess): Limits {
  const flows: SlopedLimit[] = [...graph.beltLimits];
  const passes: SlopedLimit[] = graph.buffers.map(() => null);
  const running: Sloped[] = graph.machines.map(() => ALL);
  const limit = (inlet: number, most: SlopedLimit): void => {
    if (most !== null) flows[inlet] = tighterOf(flows[inlet] ?? null, most);
  };
  for (let index = graph.nodes.length - 1; index >= 0; index--) {
    const node = graph.nodes[index];
    switch (node?.kind) {
      case "end":
        for (const inlet of node.inlets) limit(inlet, node.limit);
        break;
      case "junction":
        limitInlets(node, roomOf(flows, node.outlets), guess, limit);
        break;
      case "infeed": {
        const buffer = graph.buffers[node.buffer];
        if (buffer === undefined || states[node.buffer] !== FULL) break;
        limitInlets(node, scale(running[buffer.owner] ?? ALL, buffer.rate), guess, limit);
        break;
      }
      case "machine":
        running[node.machine] = guessedShare(graph, states, node.machine, passes, guess);
        break;
      case "store":
        passes[node.buffer] = roomOf(flows, node.outlets);
        if (node.inlet !== null && states[node.buffer] === FULL) limit(node.inlet, passes[node.buffer] ?? null);
        break;
    }
  }
  return { flows, passes };
}

/** What all of them together can take or bring. */
function roomOf(limits: readonly SlopedLimit[], indices: readonly number[]): SlopedLimit {
  let room: Sloped = NONE;
  for (const index of indices) {
    const limit = limits[index] ?? null;
    if (limit === null) return null;
    room = add(room, limit);
  }
  return room;
}

function limitInlets(
  node: Extract<FlowNode, { kind: "junction" | "infeed" }>,
  room: SlopedLimit,
  guess: Guess,
  limit: (inlet: number, most: SlopedLimit) => void,
): void {
  const rule = node.kind === "junction" ? node.rule : "ordered";
  const offers = node.inlets.map((inlet) => guess.offers.get(inlet) ?? null);
  const most = inletLimits(rule, room, offers);
  for (const [position, inlet] of node.inlets.entries()) limit(inlet, most[position] ?? null);
}

/** At which share a machine draws from its full infeeds, as far as that can be said before flows are known. */
function guessedShare(
  { machines, buffers }: FlowGraph,
  states: readonly BufferState[],
  machine: number,
  passes: readonly SlopedLimit[],
  { inflows }: Guess,
): Sloped {
  let share = blockedShare(buffers, states, machines[machine]?.outfeed ?? [], passes);
  for (const index of machines[machine]?.infeed ?? []) {
    const inflow = inflows.get(index) ?? null;
    const buffer = buffers[index];
    if (states[index] === EMPTY && inflow !== null && buffer) share = lesser(share, shareOf(inflow, buffer));
  }
  return share;
}

/** The share at most 1 that its full outfeeds leave a machine. */
function blockedShare(
  buffers: readonly FlowBuffer[],
  states: readonly BufferState[],
  outfeed: readonly number[],
  passes: readonly SlopedLimit[],
): Sloped {
  let share: Sloped = ALL;
  for (const index of outfeed) {
    const passed = passes[index] ?? null;
    const buffer = buffers[index];
    if (states[index] === FULL && passed !== null && buffer) share = lesser(share, shareOf(passed, buffer));
  }
  return share;
}

function shareOf(flow: Sloped, { rate }: FlowBuffer): Sloped {
  return compare(flow, rate) >= 0 ? ALL : scale(flow, over(ALL, rate));
}

function flowsFrom(graph: FlowGraph, { states, feedRates }: Situation, limits: Limits): Rates {
  const flows: Sloped[] = limits.flows.map(() => NONE);
  const offers: SlopedLimit[] = limits.flows.map(() => NONE);
  const accepted: Sloped[] = graph.network.feeds.map(() => NONE);
  const running: Sloped[] = graph.machines.map(() => ALL);
  const inflows: Sloped[] = graph.buffers.map(() => NONE);
  const outflows: Sloped[] = graph.buffers.map(() => NONE);
  const sumOf = (indices: readonly number[]): Sloped => {
    let sum: Sloped = NONE;
    for (const index of indices) sum = add(sum, flows[index] ?? NONE);
    return sum;
  };
  /** @param offered what would come if nothing held it up, with which outlets that lead to a merge are offered */
  const pass = (
    rule: Rule,
    arriving: SlopedLimit,
    offered: SlopedLimit,
    outlets: readonly number[],
    weights: readonly number[] | null = null,
  ): void => {
    const most = outlets.map((outlet) => limits.flows[outlet] ?? null);
    const shares = arriving === null ? most.map(bounded) : share(rule, arriving, most, weights);
    for (const [position, outlet] of outlets.entries()) {
      flows[outlet] = shares[position] ?? NONE;
      if (!graph.meets[outlet]) continue;
      const own = graph.beltLimits[outlet] ?? null;
      offers[outlet] =
        offered === null ? own : (share(rule, offered, most.with(position, own), weights)[position] ?? NONE);
    }
  };
  for (const node of graph.nodes) {
    switch (node.kind) {
      case "feed": {
        const offered = feedRates[node.feed] ?? NONE;
        pass("ordered", offered, offered, node.outlets);
        accepted[node.feed] = sumOf(node.outlets);
        const vehicle = graph.vehicles[node.feed] ?? null;
        if (vehicle !== null) outflows[vehicle] = accepted[node.feed] ?? NONE;
        break;
      }
      case "junction":
        pass(node.rule, sumOf(node.inlets), roomOf(offers, node.inlets), node.outlets, node.weights);
        break;
      case "infeed":
        inflows[node.buffer] = sumOf(node.inlets);
        break;
      case "machine": {
        const machine = graph.machines[node.machine];
        let share = blockedShare(graph.buffers, states, machine?.outfeed ?? [], limits.passes);
        for (const index of machine?.infeed ?? []) {
          const buffer = graph.buffers[index];
          if (states[index] === EMPTY && buffer) share = lesser(share, shareOf(inflows[index] ?? NONE, buffer));
        }
        running[node.machine] = share;
        for (const index of machine?.infeed ?? []) outflows[index] = drawn(graph, states, index, share, inflows);
        for (const index of machine?.outfeed ?? []) inflows[index] = scale(share, graph.buffers[index]?.rate ?? NONE);
        break;
      }
      case "store": {
        if (node.inlet !== null) inflows[node.buffer] = flows[node.inlet] ?? NONE;
        const offered = states[node.buffer] === EMPTY ? (inflows[node.buffer] ?? NONE) : null;
        pass("ordered", offered, offered, node.outlets);
        outflows[node.buffer] = sumOf(node.outlets);
        break;
      }
      case "end":
        break;
    }
  }
  return { flows, offers, accepted, running, inflows, outflows };
}

/** What a machine draws from an infeed; from an empty one that alone sets its pace, all that comes. */
function drawn(
  { buffers, machines }: FlowGraph,
  states: readonly BufferState[],
  index: number,
  share: Sloped,
  inflows: readonly Sloped[],
): Sloped {
  const { owner, rate } = buffers[index] ?? { owner: -1, rate: NONE };
  const inflow = inflows[index] ?? NONE;
  const isPace =
    states[index] === EMPTY &&
    machines[owner]?.infeed.length === 1 &&
    machines[owner]?.outfeed.every((outfeed) => states[outfeed] !== FULL) === true;
  return isPace && compare(inflow, rate) <= 0 ? inflow : scale(share, rate);
}

function bounded(limit: SlopedLimit): Sloped {
  if (limit === null) throw new BoundlessFlowError("a store would empty at once");
  return limit;
}

/** Items/min by which each buffer's level rises. */
export function netsOf({ inflows, outflows }: Rates): Sloped[] {
  return inflows.map((inflow, index) => subtract(inflow, outflows[index] ?? NONE));
}

/** Products/min that count as the plant's output; without machines, items/min that leave. */
export function outputOf(graph: FlowGraph, { running, flows }: Rates): Amount {
  if (graph.machines.length === 0) {
    const leaving = graph.nodes.flatMap((node) => (node.kind === "end" && node.limit === null ? node.inlets : []));
    return total(leaving.map((inlet) => flows[inlet] ?? NONE));
  }
  return total(running.map((share, machine) => times(graph.machines[machine]?.output ?? NONE, share)));
}
