/**
 * Compiling a network to the arrays the engine runs on. The only place, with compile-paces.ts and compile-limits.ts, where
 * exact rationals become whole numbers.
 */
import type { Rational } from "../quantity/rational.ts";
import type { BeltSpec } from "../scenario/scenario.ts";
import { bufferGroups, compileLimits, dwellLimits } from "./compile-limits.ts";
import { compilePaces, transitTicks } from "./compile-paces.ts";
import { sequenceOf } from "./feeds.ts";
import { graphOf, letsIn, sweepOf } from "./graph.ts";
import type { Connection, Network } from "./network.ts";
import { DIVIDER, EVEN, FEED, type Lists, MACHINE, MERGE, ORDERED, OUTLET, type Program } from "./program.ts";
import type { RandomProgram } from "./random-program.ts";
import { ticksUntil } from "./tick.ts";
import { turnsOf } from "./turns.ts";

export { TooFineError } from "./compile-paces.ts";

/**
 * @param tickS tick length, seconds, at most half the interval of the fastest element
 * @param random what is left to chance, compiled with the same tick
 * @throws TooFineError where an interval is no ratio of 31-bit numbers of ticks
 */
export function compile(network: Network, tickS: Rational, random: RandomProgram | null = null): Program {
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

  const paces = compilePaces(network, belts, tickS);
  const buffers = compileBuffers(network, items, (machine, item) =>
    connectionsOf(graph.outOf(machine).filter((connection) => letsIn(connection, item))),
  );
  const beltRings = rings(belts.map(placesOf));
  const mergeInlets = network.merges.map(({ id }) => graph.into(id));
  const { order } = sweepOf(graph);
  const sweepPlaces = indexOf(order);
  const dividers = new Set(network.dividers.map(({ id }) => id));
  // A divider without a belt before it has no turn of its own.
  const giverOf = (node: string): string => {
    const [inlet] = dividers.has(node) ? graph.into(node) : [];
    return inlet?.belt === null ? giverOf(inlet.from) : node;
  };

  return {
    network,
    tickS,
    itemCount: network.items.length,
    sweepKind: Uint8Array.from(order, (node) => at(nodes, node).kind),
    sweepIndex: Int32Array.from(order, (node) => at(nodes, node).index),
    pace: paces.pace,
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
      entryPace: paces.entry,
      exitPace: paces.exit,
      connection: Int32Array.from(belts, ({ connection }) => at(connectionIndex, connection.id)),
      at: Int32Array.from(belts, ({ connection }) => placeOf(connection)),
      giver: Int32Array.from(belts, ({ connection }) => at(sweepPlaces, giverOf(connection.from))),
      taker: Int32Array.from(belts, ({ connection }) => at(sweepPlaces, connection.to)),
    },
    places: [
      ...network.lines.map((id) => ({ id, isSurge: false })),
      ...network.surges.map(({ feed }) => ({ id: feed, isSurge: true })),
    ],
    feed: {
      count: network.feeds.length,
      sequence: lists(network.feeds.map((feed) => sequenceOf(feed).map((item) => at(items, item)))),
      batchItems: Int32Array.from(network.feeds, ({ batch }) => batch?.items ?? 0),
      hasVehicles: network.feeds.some(({ batch }) => batch !== null),
      firstVehicle: Int32Array.from(network.feeds, ({ batch }) => (batch ? ticksUntil(batch.firstMin, tickS) : 0)),
      connection: Int32Array.from(network.feeds, ({ id }) => connectionsOf(graph.outOf(id))[0] ?? -1),
      pulled: Uint8Array.from(network.feeds, ({ id }) => {
        const connection = graph.outOf(id)[0];
        return connection && connection.belt === null && at(nodes, connection.to).kind === MERGE ? 1 : 0;
      }),
      steps: paces.steps,
    },
    divider: {
      count: network.dividers.length,
      inletBelt: Int32Array.from(network.dividers, ({ id }) => beltOf(graph.into(id)[0])),
      outlets: lists(
        network.dividers.map(({ id, weights }) => {
          const own = connectionsOf(graph.outOf(id));
          return weights === undefined ? own : turnsOf(weights).map((turn) => own[turn] ?? 0);
        }),
      ),
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
      place: Int32Array.from(network.machines, ({ id }) => at(sweepPlaces, id)),
      pace: paces.machine,
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
    random,
  };
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
      ...bufferGroups(network),
      outlets: lists(table.map(({ outlets }) => outlets)),
    },
  };
}

/** The network's lists of elements; a new one that is forgotten here does not compile. */
type ElementLists = Exclude<
  { [List in keyof Network]: Network[List] extends readonly { readonly id: string }[] ? List : never }[keyof Network],
  "connections"
>;
const KIND_IN: Readonly<Record<ElementLists, number>> = {
  feeds: FEED,
  dividers: DIVIDER,
  merges: MERGE,
  machines: MACHINE,
  outlets: OUTLET,
};

function nodeIndex(network: Network): Map<string, { kind: number; index: number }> {
  const elementsOf = (list: ElementLists) =>
    network[list].map(({ id }, index) => [id, { kind: KIND_IN[list], index }] as const);
  return new Map(Object.keys(KIND_IN).filter(isElementList).flatMap(elementsOf));
}

function isElementList(name: string): name is ElementLists {
  return name in KIND_IN;
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
