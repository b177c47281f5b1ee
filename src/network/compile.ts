/** Compiling a network to the arrays the engine runs on. The only place where exact rationals become whole numbers. */
import type { Rational } from "../quantity/rational.ts";
import type { BeltSpec } from "../scenario/scenario.ts";
import { compileLimits, dwellLimits } from "./compile-limits.ts";
import { sequenceOf } from "./feeds.ts";
import { graphOf, letsIn, sweepOf } from "./graph.ts";
import type { Connection, Network } from "./network.ts";
import {
  DIVIDER,
  EVEN,
  FEED,
  type FeedStepTicks,
  type Lists,
  MACHINE,
  MERGE,
  ORDERED,
  OUTLET,
  type Program,
} from "./program.ts";
import { inTicks, nearestTicks, ticksUntil, ticksWithin } from "./tick.ts";

/** Schedules are kept in 32-bit integers. */
const MOST_PARTS = 2n ** 31n - 1n;

/** From the last tick of the longest run, an interval to a belt's next slot and its transit must not go beyond them. */
const MOST_TICKS = 2 ** 29;

/** An interval or transit that the engine's whole numbers cannot hold, for its digits or its length. */
export class TooFineError extends Error {
  override readonly name = "TooFineError";
  readonly element: string;
  constructor(element: string) {
    super(`the interval or transit of ${element} has too many digits or ticks to be counted`);
    this.element = element;
  }
}

/**
 * @param tickS tick length, seconds, at most half the interval of the fastest element
 * @throws TooFineError where an interval is no ratio of 31-bit numbers of ticks
 */
export function compile(network: Network, tickS: Rational): Program {
  const items = indexOf(network.items);
  const graph = graphOf(network);
  const lines = indexOf(network.lines);
  const surges = indexOf(network.surges.map(({ connection }) => connection));
  const placeOf = ({ id, line }: Connection): number => {
    const surge = surges.get(id);
    return surge === undefined ? at(lines, line) : network.lines.length + surge;
  };
  const nodes = nodeIndex(network);
  const belts = network.connections.flatMap((connection) =>
    connection.belt ? [{ ...connection.belt, connection }] : [],
  );
  const connectionIndex = indexOf(network.connections.map(({ id }) => id));
  const beltIndex = indexOf(belts.map(({ connection }) => connection.id));
  const beltOf = (connection: Connection | undefined): number =>
    connection ? (beltIndex.get(connection.id) ?? -1) : -1;
  const connectionsOf = (list: readonly Connection[]): number[] => list.map(({ id }) => at(connectionIndex, id));
  const beltsInto = (node: string): number[] =>
    graph
      .into(node)
      .map(beltOf)
      .filter((belt) => belt >= 0);

  const paces: Interval[] = [];
  const addPace = (interval: Interval): number => paces.push(interval) - 1;

  const steps: FeedStepTicks[] = [];
  for (const [feed, { id, profile }] of network.feeds.entries()) {
    addPace(STOPPED);
    for (const { fromMin, ratePerMin } of profile) {
      const interval = ratePerMin.equals(0) ? STOPPED : intervalOf(ratePerMin.inverse(), tickS, id);
      steps.push({ feed, tick: ticksWithin(fromMin, tickS), ...interval });
    }
  }
  for (const { id, batch } of network.feeds) addPace(batch === null ? STOPPED : intervalOf(batch.everyMin, tickS, id));
  steps.sort((a, b) => a.tick - b.tick || a.feed - b.feed);

  const beltIntervals = belts.map(({ ratePerMin, connection }) =>
    intervalOf(ratePerMin.inverse(), tickS, connection.id),
  );
  const entryPace = beltIntervals.map(addPace);
  const exitPace = beltIntervals.map(addPace);
  const machinePace = network.machines.map(({ id, cycleMin }) => addPace(intervalOf(cycleMin, tickS, id)));

  const buffers = compileBuffers(network, items, (machine, item) =>
    connectionsOf(graph.outOf(machine).filter((connection) => letsIn(connection, item))),
  );
  const beltRings = rings(belts.map(placesOf));
  const mergeInlets = network.merges.map(({ id }) => graph.into(id));
  const { order } = sweepOf(graph);

  return {
    network,
    tickS,
    itemCount: network.items.length,
    sweepKind: Uint8Array.from(order, (node) => at(nodes, node).kind),
    sweepIndex: Int32Array.from(order, (node) => at(nodes, node).index),
    pace: {
      count: paces.length,
      whole: Int32Array.from(paces, ({ whole }) => whole),
      rest: Int32Array.from(paces, ({ rest }) => rest),
      parts: Int32Array.from(paces, ({ parts }) => parts),
    },
    connection: {
      count: network.connections.length,
      allows: Uint8Array.from(
        network.connections.flatMap((connection) => network.items.map((item) => (letsIn(connection, item) ? 1 : 0))),
      ),
      belt: Int32Array.from(network.connections, beltOf),
      toKind: Uint8Array.from(network.connections, ({ to }) => at(nodes, to).kind),
      toIndex: Int32Array.from(network.connections, ({ to }) => at(nodes, to).index),
    },
    belt: {
      count: belts.length,
      capacity: Int32Array.from(belts, placesOf),
      room: Int32Array.from(belts, ({ capacity }) => capacity),
      transitTicks: Int32Array.from(belts, (belt) => transitTicks(belt, tickS, belt.connection.id)),
      ring: beltRings.start,
      places: beltRings.places,
      entryPace: Int32Array.from(entryPace),
      exitPace: Int32Array.from(exitPace),
      connection: Int32Array.from(belts, ({ connection }) => at(connectionIndex, connection.id)),
      at: Int32Array.from(belts, ({ connection }) => placeOf(connection)),
    },
    places: [
      ...network.lines.map((id) => ({ id, isSurge: false })),
      ...network.surges.map(({ feed }) => ({ id: feed, isSurge: true })),
    ],
    feed: {
      count: network.feeds.length,
      sequence: lists(network.feeds.map((feed) => sequenceOf(feed).map((item) => at(items, item)))),
      batchItems: Int32Array.from(network.feeds, ({ batch }) => batch?.items ?? 0),
      firstVehicle: Int32Array.from(network.feeds, ({ batch }) => (batch ? ticksUntil(batch.firstMin, tickS) : 0)),
      connection: Int32Array.from(network.feeds, ({ id }) => connectionsOf(graph.outOf(id))[0] ?? -1),
      pulled: Uint8Array.from(network.feeds, ({ id }) => {
        const connection = graph.outOf(id)[0];
        return connection && connection.belt === null && at(nodes, connection.to).kind === MERGE ? 1 : 0;
      }),
      steps,
    },
    divider: {
      count: network.dividers.length,
      inletBelt: Int32Array.from(network.dividers, ({ id }) => beltOf(graph.into(id)[0])),
      outlets: lists(network.dividers.map(({ id }) => connectionsOf(graph.outOf(id)))),
      rule: Uint8Array.from(network.dividers, ({ rule }) => (rule === "even" ? EVEN : ORDERED)),
    },
    merge: {
      count: network.merges.length,
      inlets: lists(mergeInlets.map(connectionsOf)),
      inletFeed: Int32Array.from(
        mergeInlets.flat().map(({ from, belt }) => {
          const node = at(nodes, from);
          return belt === null && node.kind === FEED ? node.index : -1;
        }),
      ),
      outlet: Int32Array.from(network.merges, ({ id }) => connectionsOf(graph.outOf(id))[0] ?? -1),
      even: Uint8Array.from(network.merges, ({ rule }) => (rule === "even" ? 1 : 0)),
    },
    machine: {
      count: network.machines.length,
      pace: Int32Array.from(machinePace),
      infeed: buffers.infeed,
      outfeed: buffers.outfeed,
      bufferFor: buffers.bufferFor,
      inletBelts: lists(network.machines.map(({ id }) => beltsInto(id))),
    },
    buffer: buffers.arrays,
    limits: compileLimits(
      network,
      items,
      (id) => {
        const connection = belts[beltIndex.get(id) ?? -1]?.connection;
        return connection ? placeOf(connection) : -1;
      },
      buffers,
    ),
    dwellLimit: dwellLimits(network, tickS),
    outlet: {
      count: network.outlets.length,
      item: Int32Array.from(network.outlets, ({ item }) => (item === null ? -1 : at(items, item))),
      inletBelts: lists(network.outlets.map(({ id }) => beltsInto(id))),
    },
  };
}

interface Interval {
  readonly whole: number;
  readonly rest: number;
  readonly parts: number;
}

const STOPPED: Interval = { whole: 0, rest: 0, parts: 0 };

function intervalOf(intervalMin: Rational, tickS: Rational, element: string): Interval {
  const ticks = inTicks(intervalMin, tickS);
  if (ticks.d > MOST_PARTS || ticks.n / ticks.d >= MOST_TICKS) throw new TooFineError(element);
  return { whole: Number(ticks.n / ticks.d), rest: Number(ticks.n % ticks.d), parts: Number(ticks.d) };
}

/**
 * An item that waits at the entrance for its slot is not on the belt yet. Where the belt has just room for what it carries
 * at its rate, it needs a place of its own there, or the belt would miss slots: 58 would be taken out of 110/min, not 60. It is only used while the belt moves.
 */
function placesOf({ ratePerMin, capacity, transitMin }: BeltSpec): number {
  const onTheWay = ratePerMin.mul(transitMin);
  const isJustEnough = onTheWay.compare(capacity) <= 0 && onTheWay.add(1n).compare(capacity) > 0;
  return isJustEnough ? capacity + 1 : capacity;
}

/**
 * The transit rounded to ticks, but never so long that a belt which has room for all it carries at its rate
 * (capacity ≥ rate × transit) would lose throughput to the rounding.
 */
function transitTicks(belt: BeltSpec, tickS: Rational, element: string): number {
  if (inTicks(belt.transitMin, tickS).compare(MOST_TICKS) >= 0) throw new TooFineError(element);
  const nearest = nearestTicks(belt.transitMin, tickS);
  const roomMin = belt.ratePerMin.inverse().mul(BigInt(belt.capacity));
  return belt.transitMin.compare(roomMin) <= 0 ? Math.min(nearest, Math.max(1, ticksWithin(roomMin, tickS))) : nearest;
}

function compileBuffers(
  network: Network,
  items: ReadonlyMap<string, number>,
  outletsOf: (machine: string, item: string) => number[],
) {
  const table: { item: number; capacity: number; perCycle: number; outlets: number[] }[] = [];
  const infeed: number[] = [];
  const outfeed: number[] = [];
  const bufferFor = new Int32Array(network.machines.length * network.items.length).fill(-1);
  for (const [m, machine] of network.machines.entries()) {
    infeed.push(table.length);
    machine.takes.forEach(({ item, count }, i) => {
      bufferFor[m * network.items.length + at(items, item)] = table.length;
      table.push({ item: at(items, item), capacity: machine.infeed[i]?.count ?? count, perCycle: count, outlets: [] });
    });
    outfeed.push(table.length);
    machine.makes.forEach(({ item, count }, i) => {
      const outlets = outletsOf(machine.id, item);
      table.push({ item: at(items, item), capacity: machine.outfeed[i]?.count ?? count, perCycle: count, outlets });
    });
  }
  infeed.push(table.length);
  const { start, places } = rings(table.map(({ capacity }) => capacity));
  return {
    infeed: Int32Array.from(infeed),
    outfeed: Int32Array.from(outfeed),
    bufferFor,
    arrays: {
      count: table.length,
      item: Int32Array.from(table, ({ item }) => item),
      capacity: Int32Array.from(table, ({ capacity }) => capacity),
      perCycle: Int32Array.from(table, ({ perCycle }) => perCycle),
      ring: start,
      places,
      outlets: lists(table.map(({ outlets }) => outlets)),
    },
  };
}

function nodeIndex(network: Network): Map<string, { kind: number; index: number }> {
  const nodes = new Map<string, { kind: number; index: number }>();
  const add = (kind: number, elements: readonly { id: string }[]): void => {
    for (const [index, { id }] of elements.entries()) nodes.set(id, { kind, index });
  };
  add(FEED, network.feeds);
  add(DIVIDER, network.dividers);
  add(MERGE, network.merges);
  add(MACHINE, network.machines);
  add(OUTLET, network.outlets);
  return nodes;
}

function indexOf(names: readonly string[]): Map<string, number> {
  return new Map(names.map((name, index) => [name, index]));
}

function at<K, V>(map: ReadonlyMap<K, V>, key: K): V {
  const value = map.get(key);
  if (value === undefined) throw new Error(`the network names an element it does not have: ${String(key)}`);
  return value;
}

function lists(groups: readonly (readonly number[])[]): Lists {
  const start = new Int32Array(groups.length + 1);
  for (const [i, group] of groups.entries()) start[i + 1] = (start[i] ?? 0) + group.length;
  return { start, values: Int32Array.from(groups.flat()) };
}

function rings(capacities: readonly number[]): { start: Int32Array; places: number } {
  const start = new Int32Array(capacities.length);
  let places = 0;
  for (const [i, capacity] of capacities.entries()) {
    start[i] = places;
    places += capacity;
  }
  return { start, places };
}
