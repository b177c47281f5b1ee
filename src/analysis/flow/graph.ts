/**
 * The network as the flow solution sees it: feeds, junctions (dividers and merges), infeed buffers and ends, in an order
 * in which every node comes after what feeds it. Each connection carries one kind, so one number is its flow. What
 * cannot be seen this way is refused with the reason.
 */
import type { Connection, MachineElement, Network } from "../../network/network.ts";
import type { Rule } from "../../scenario/scenario.ts";
import { type Amount, amountOf, countOf, type Limit, NONE, over } from "./number.ts";

export interface FlowRefusal {
  readonly applies: false;
  /** A sentence without its full stop, for people. */
  readonly reason: string;
}

export interface FlowGraph {
  readonly network: Network;
  /** Every node after those that feed it. */
  readonly nodes: readonly FlowNode[];
  /** Limit of each connection by its belt, by index in `network.connections`. */
  readonly beltLimits: readonly Limit[];
  /** In order of the machines, and of `takes` within one. */
  readonly buffers: readonly FlowBuffer[];
  /** By index in `network.machines`. */
  readonly machines: readonly FlowMachine[];
  /** Whether limits depend on flows (merges, machines of several kinds), so that rates need more than one round. */
  readonly coupled: boolean;
  /** Dividers and merges that products run through, each after those that feed it. */
  readonly productJunctions: readonly Junction[];
}

/** Inlets and outlets are indices of connections. A feed serves several connections in order. */
export type FlowNode =
  | {
      readonly kind: "feed";
      readonly feed: number;
      readonly inlets: readonly number[];
      readonly outlets: readonly number[];
    }
  | Junction
  | { readonly kind: "buffer"; readonly buffer: number; readonly inlets: readonly number[] }
  | { readonly kind: "end"; readonly limit: Limit; readonly inlets: readonly number[] };

export interface Junction {
  readonly kind: "junction";
  readonly id: string;
  readonly rule: Rule;
  readonly inlets: number[];
  readonly outlets: number[];
}

export interface FlowBuffer {
  /** Index in `network.machines`. */
  readonly machine: number;
  readonly item: string;
  readonly capacity: bigint;
  /** Items/min that the machine draws when it never waits. */
  readonly need: Amount;
}

export interface FlowMachine {
  /** Indices in `buffers`. */
  readonly buffers: readonly number[];
  /** Products/min, all kinds, when it never waits. */
  readonly makes: Amount;
  /** Indices of the connections that collect its products. */
  readonly outlets: readonly number[];
}

export function refuse(reason: string): FlowRefusal {
  return { applies: false, reason };
}

export function letsIn(connection: Connection, item: string): boolean {
  return connection.only === null || connection.only.includes(item);
}

export function buildFlowGraph(network: Network): FlowGraph | FlowRefusal {
  const junctions = orderedJunctions(network);
  if (junctions === null) return refuse("the line has a return loop, and the flow solution follows flows only forward");
  const kinds = fedKinds(network, junctions);
  const machineIds = new Set(network.machines.map(({ id }) => id));
  const products = productReach(network, junctions, machineIds);
  for (const [index, connection] of network.connections.entries()) {
    const carried = kinds[index] ?? [];
    if (carried.length > 1) {
      return refuse(
        `connection ${connection.id} carries several kinds (${carried.join(", ")}), and the flow solution follows one kind on each connection`,
      );
    }
    if (!products[index]) continue;
    if (carried.length > 0) {
      return refuse(
        `connection ${connection.id} carries products and fed items, and the flow solution keeps them apart`,
      );
    }
    if (machineIds.has(connection.to)) {
      return refuse(
        `machine ${connection.to} is fed with another machine's products (${connection.id}), and the flow solution covers a single stage`,
      );
    }
  }

  const { buffers, machines } = machinesOf(network);
  const nodes = buildNodes(network, junctions, kinds, buffers);
  const merging = nodes.some(({ kind, inlets }) => kind !== "end" && inlets.length > 1);
  return {
    network,
    nodes,
    beltLimits: network.connections.map(({ belt }) => (belt === null ? null : amountOf(belt.ratePerMin))),
    buffers,
    machines,
    coupled: merging || machines.some((machine) => machine.buffers.length > 1),
    productJunctions: junctions.filter(({ inlets }) => inlets.some((inlet) => products[inlet])),
  };
}

/** Dividers and merges, each after those that feed it; `null` if they form a loop. */
function orderedJunctions(network: Network): Junction[] | null {
  const junctions = new Map<string, Junction>();
  for (const { id, rule } of [...network.dividers, ...network.merges]) {
    junctions.set(id, { kind: "junction", id, rule, inlets: [], outlets: [] });
  }
  const waitingFor = new Map<string, number>();
  for (const [index, { from, to }] of network.connections.entries()) {
    junctions.get(from)?.outlets.push(index);
    junctions.get(to)?.inlets.push(index);
    if (junctions.has(from) && junctions.has(to)) waitingFor.set(to, (waitingFor.get(to) ?? 0) + 1);
  }
  const ordered = [...junctions.values()].filter(({ id }) => !waitingFor.has(id));
  for (const { outlets } of ordered) {
    for (const outlet of outlets) {
      const next = junctions.get(network.connections[outlet]?.to ?? "");
      if (next === undefined) continue;
      const left = (waitingFor.get(next.id) ?? 0) - 1;
      waitingFor.set(next.id, left);
      if (left === 0) ordered.push(next);
    }
  }
  return ordered.length === junctions.size ? ordered : null;
}

/** The kinds that feeds can send along each connection. */
function fedKinds(network: Network, junctions: readonly Junction[]): string[][] {
  const itemOfFeed = new Map(network.feeds.map(({ id, item }) => [id, item]));
  const kinds = network.connections.map((connection) => {
    const item = itemOfFeed.get(connection.from);
    return item !== undefined && letsIn(connection, item) ? [item] : [];
  });
  for (const { inlets, outlets } of junctions) {
    const arriving = [...new Set(inlets.flatMap((inlet) => kinds[inlet] ?? []))];
    for (const outlet of outlets) {
      const connection = network.connections[outlet];
      if (connection !== undefined) kinds[outlet] = arriving.filter((item) => letsIn(connection, item));
    }
  }
  return kinds;
}

/** Whether machines' products can run along each connection. */
function productReach(network: Network, junctions: readonly Junction[], machineIds: ReadonlySet<string>): boolean[] {
  const reached = network.connections.map(({ from }) => machineIds.has(from));
  for (const { inlets, outlets } of junctions) {
    if (!inlets.some((inlet) => reached[inlet])) continue;
    for (const outlet of outlets) reached[outlet] = true;
  }
  return reached;
}

function machinesOf(network: Network): { buffers: FlowBuffer[]; machines: FlowMachine[] } {
  const buffers: FlowBuffer[] = [];
  const leaving = connectionsBy(network, "from", () => true);
  const machines = network.machines.map((machine, index) => {
    const first = buffers.length;
    for (const { item, count } of machine.takes) {
      if (count === 0) continue;
      buffers.push({ machine: index, item, capacity: roomFor(machine, item), need: perMin(count, machine) });
    }
    const made = machine.makes.reduce((sum, { count }) => sum + count, 0);
    return {
      buffers: Array.from({ length: buffers.length - first }, (_, offset) => first + offset),
      makes: perMin(made, machine),
      outlets: leaving.get(machine.id) ?? [],
    };
  });
  return { buffers, machines };
}

export function perMin(count: number, machine: MachineElement): Amount {
  return over(countOf(count), amountOf(machine.cycleMin));
}

function roomFor(machine: MachineElement, item: string): bigint {
  return BigInt(machine.infeed.find((room) => room.item === item)?.count ?? 0);
}

/** Leaves out the connections that nothing fed can enter; their flow is 0. */
function buildNodes(
  network: Network,
  junctions: readonly Junction[],
  kinds: readonly (readonly string[])[],
  buffers: readonly FlowBuffer[],
): FlowNode[] {
  const isLive = (index: number) => kinds[index]?.length === 1;
  const leaving = connectionsBy(network, "from", isLive);
  const arriving = connectionsBy(network, "to", isLive);
  const nodes: FlowNode[] = [];
  const stuck = new Set([...network.connections.keys()].filter(isLive));
  const reach = (inlets: readonly number[]) => {
    for (const inlet of inlets) stuck.delete(inlet);
    return inlets;
  };

  for (const [feed, { id }] of network.feeds.entries()) {
    nodes.push({ kind: "feed", feed, inlets: [], outlets: leaving.get(id) ?? [] });
  }
  for (const junction of junctions) {
    const outlets = junction.outlets.filter(isLive);
    const passing = new Set(outlets.map((outlet) => kinds[outlet]?.[0]));
    const inlets = junction.inlets.filter((inlet) => isLive(inlet) && passing.has(kinds[inlet]?.[0]));
    if (inlets.length > 0) nodes.push({ ...junction, inlets: [...reach(inlets)], outlets });
  }
  for (const [buffer, { machine, item }] of buffers.entries()) {
    const atMachine = arriving.get(network.machines[machine]?.id ?? "") ?? [];
    const inlets = atMachine.filter((inlet) => kinds[inlet]?.[0] === item);
    if (inlets.length > 0) nodes.push({ kind: "buffer", buffer, inlets: reach(inlets) });
  }
  for (const { id, item } of network.outlets) {
    const inlets = (arriving.get(id) ?? []).filter((inlet) => item === null || kinds[inlet]?.[0] === item);
    if (inlets.length > 0) nodes.push({ kind: "end", limit: null, inlets: reach(inlets) });
  }
  // What has arrived where nothing takes it stays, and holds its connection back.
  if (stuck.size > 0) nodes.push({ kind: "end", limit: NONE, inlets: [...stuck] });
  return nodes;
}

function connectionsBy(network: Network, side: "from" | "to", keep: (index: number) => boolean): Map<string, number[]> {
  const found = new Map<string, number[]>();
  for (const [index, connection] of network.connections.entries()) {
    if (!keep(index)) continue;
    const list = found.get(connection[side]);
    if (list === undefined) found.set(connection[side], [index]);
    else list.push(index);
  }
  return found;
}
