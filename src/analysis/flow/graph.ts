/**
 * The network as the flow solution sees it: feeds, junctions (dividers and merges), buffers, machines and ends, in an
 * order in which every node comes after what feeds it. Each connection carries one kind, so one number is its flow.
 * What cannot be seen this way is refused with the reason.
 */
import { finalMachines } from "../../network/graph.ts";
import { carriedAtMost } from "../../network/headroom.ts";
import type { Network } from "../../network/network.ts";
import { carriedKinds, connectionsBy, type Element, type Junction, orderedElements, perMin } from "./item-kinds.ts";
import { type Amount, amountOf, type Limit, NONE, total } from "./number.ts";

export interface FlowRefusal {
  readonly applies: false;
  /** A sentence without its full stop, for people. */
  readonly reason: string;
}

export interface FlowGraph {
  readonly network: Network;
  /** Every node after those that feed it. */
  readonly nodes: readonly FlowNode[];
  /**
   * Limit of each flow by its belt: flows by index of connection, then one more from its feed into each surge buffer,
   * whose connection stands for what leaves it.
   */
  readonly beltLimits: readonly Limit[];
  /** Machine by machine, infeeds in order of `takes`, then outfeeds in order of `makes`; surges; vehicles. */
  readonly buffers: readonly FlowBuffer[];
  /** By index in `network.machines`. */
  readonly machines: readonly FlowMachine[];
  /** By index in `network.feeds`: the buffer that stands for the vehicle it unloads. */
  readonly vehicles: readonly (number | null)[];
  /** Flows that join others, at merges and at buffers with several inlets. */
  readonly joining: readonly number[];
  /** By index of flow: whether it comes to such a place before any buffer. */
  readonly meets: readonly boolean[];
  /** Whether rates may depend on one another: flows that join, machines of several kinds. */
  readonly coupled: boolean;
  /** Whether levels may come and go for ever: with more buffers than the infeeds of one stage, or vehicles. */
  readonly mayRecur: boolean;
  /** Dividers and merges that free products run through, each after those that feed it. */
  readonly productJunctions: readonly Junction[];
  /** By index of connection: whether nothing can ever hold up what it carries. */
  readonly free: readonly boolean[];
}

/** Inlets and outlets are indices of flows. */
export type FlowNode =
  /** Serves its outlets in order. */
  | { readonly kind: "feed"; readonly feed: number; readonly outlets: readonly number[] }
  | Junction
  | { readonly kind: "infeed"; readonly buffer: number; readonly inlets: readonly number[] }
  | { readonly kind: "machine"; readonly machine: number }
  /** An outfeed buffer, or a surge buffer with its inlet; serves its outlets in order. */
  | {
      readonly kind: "store";
      readonly buffer: number;
      readonly inlet: number | null;
      readonly outlets: readonly number[];
    }
  | { readonly kind: "end"; readonly limit: Limit; readonly inlets: readonly number[] };

export interface FlowBuffer {
  readonly side: BufferSide | "vehicle";
  /** Index in `network.machines`, or in `network.feeds`. */
  readonly owner: number;
  readonly item: string;
  readonly capacity: bigint;
  /** Items/min that the machine draws or makes when it never waits; 0 at a feed. */
  readonly rate: Amount;
}

/** Which buffer of its machine, or the surge buffer of a feed. */
export type BufferSide = "infeed" | "outfeed" | "surge";

export interface FlowMachine {
  /** Indices in `buffers`; products that are never held up have no outfeed buffer here. */
  readonly infeed: readonly number[];
  readonly outfeed: readonly number[];
  /** Products/min, all kinds, when it never waits. */
  readonly makes: Amount;
  /** Of these, what counts as the plant's output. */
  readonly output: Amount;
  /** Indices of the connections that collect its products. */
  readonly outlets: readonly number[];
}

export function refuse(reason: string): FlowRefusal {
  return { applies: false, reason };
}

export function buildFlowGraph(network: Network): FlowGraph | FlowRefusal {
  const elements = orderedElements(network);
  if (elements === null) {
    return refuse("the line has a return loop, and the flow solution follows flows only forward");
  }
  for (const { id, items } of network.feeds) {
    if (items.length > 1) {
      const named = items.map(({ item }) => item).join(", ");
      return refuse(
        `feed ${id} mixes several kinds (${named}), and the flow solution follows one kind on each connection`,
      );
    }
  }
  const { kinds, free } = carriedKinds(network, elements);
  for (const [index, { id }] of network.connections.entries()) {
    const carried = kinds[index] ?? [];
    if (carried.length > 1 && !free[index]) {
      return refuse(
        `connection ${id} carries several kinds (${carried.join(", ")}), and the flow solution follows one kind on each connection`,
      );
    }
  }
  return new GraphBuilder(network, kinds, free).build(elements);
}

class GraphBuilder {
  readonly #network: Network;
  readonly #kinds: readonly (readonly string[])[];
  readonly #free: readonly boolean[];
  readonly #leaving: ReadonlyMap<string, readonly number[]>;
  readonly #arriving: ReadonlyMap<string, readonly number[]>;
  readonly #nodes: FlowNode[] = [];
  readonly #buffers: FlowBuffer[] = [];
  /** Flows that nothing takes, so far. */
  readonly #stuck: Set<number>;

  constructor(network: Network, kinds: readonly (readonly string[])[], free: readonly boolean[]) {
    this.#network = network;
    this.#kinds = kinds;
    this.#free = free;
    this.#leaving = connectionsBy(network, "from");
    this.#arriving = connectionsBy(network, "to");
    this.#stuck = new Set([...network.connections.keys()].filter((index) => this.#isLive(index)));
  }

  build(elements: readonly Element[]): FlowGraph {
    const network = this.#network;
    const beltLimits = network.connections.map(({ belt }) => (belt === null ? null : amountOf(carriedAtMost(belt))));
    const machines = this.#machines();
    const entries = this.#surges(beltLimits);
    const vehicles = this.#vehicles();
    for (const element of elements) {
      if (element.kind === "feed") this.#addFeed(element.feed, element.id, entries);
      else if (element.kind === "machine") this.#addMachine(element.machine, element.id, machines);
      else this.#addJunction(element);
    }
    this.#addEnds();
    const junctions = elements.filter((element) => element.kind === "junction");
    const joining = this.#nodes.flatMap((node) => {
      return (node.kind === "junction" || node.kind === "infeed") && node.inlets.length > 1 ? node.inlets : [];
    });
    const meets = beltLimits.map(() => false);
    for (const inlet of joining) meets[inlet] = true;
    for (const node of this.#nodes.toReversed()) {
      if (node.kind !== "junction" || !node.outlets.some((outlet) => meets[outlet])) continue;
      for (const inlet of node.inlets) meets[inlet] = true;
    }
    return {
      network,
      nodes: this.#nodes,
      beltLimits,
      buffers: this.#buffers,
      machines,
      vehicles,
      joining,
      meets,
      coupled: joining.length > 0 || machines.some(({ infeed }) => infeed.length > 1),
      mayRecur: this.#buffers.some(({ side }) => side !== "infeed") || machines.some(({ infeed }) => infeed.length > 1),
      productJunctions: junctions.filter(({ inlets }) => inlets.some((inlet) => this.#free[inlet])),
      free: this.#free,
    };
  }

  /** Connections that nothing can enter have no flow, and what is free is left out of the count. */
  #isLive(index: number): boolean {
    return this.#kinds[index]?.length === 1 && !this.#free[index];
  }

  #kindOf(index: number): string | undefined {
    return this.#kinds[index]?.[0];
  }

  #leavingAs(id: string, item: string): number[] {
    return (this.#leaving.get(id) ?? []).filter((index) => this.#isLive(index) && this.#kindOf(index) === item);
  }

  #machines(): FlowMachine[] {
    const isFinal = finalMachines(this.#network);
    return this.#network.machines.map((machine, owner) => {
      const { id, takes, makes, infeed, outfeed } = machine;
      const add = (side: BufferSide, item: string, count: number, room: number): number => {
        const rate = perMin(count, machine);
        return this.#buffers.push({ side, owner, item, capacity: BigInt(room), rate }) - 1;
      };
      const roomFor = (rooms: typeof infeed, item: string): number | undefined =>
        rooms.find((room) => room.item === item)?.count;
      const all = total(makes.map(({ count }) => perMin(count, machine)));
      return {
        infeed: takes
          .filter(({ count }) => count > 0)
          .map(({ item, count }) => add("infeed", item, count, roomFor(infeed, item) ?? 0)),
        outfeed: makes
          .filter(({ item, count }) => count > 0 && this.#leavingAs(id, item).length > 0)
          .map(({ item, count }) => add("outfeed", item, count, roomFor(outfeed, item) ?? count)),
        makes: all,
        output: isFinal.has(id) ? all : NONE,
        outlets: this.#leaving.get(id) ?? [],
      };
    });
  }

  /** Adds the flow into each surge buffer. By index of its connection: that flow and the buffer. */
  #surges(beltLimits: Limit[]): Map<number, { readonly entry: number; readonly buffer: number }> {
    const { surges, connections, feeds } = this.#network;
    const entries = new Map<number, { entry: number; buffer: number }>();
    for (const { feed, connection } of surges) {
      const index = connections.findIndex(({ id }) => id === connection);
      const belt = connections[index]?.belt;
      if (belt === undefined || belt === null || !this.#isLive(index)) continue;
      const owner = feeds.findIndex(({ id }) => id === feed);
      const item = this.#kindOf(index) ?? "";
      const capacity = BigInt(belt.capacity);
      const buffer = this.#buffers.push({ side: "surge", owner, item, capacity, rate: NONE }) - 1;
      entries.set(index, { entry: beltLimits.push(amountOf(belt.ratePerMin)) - 1, buffer });
    }
    return entries;
  }

  #vehicles(): (number | null)[] {
    return this.#network.feeds.map(({ items, batch }, owner) => {
      if (batch === null) return null;
      const item = items[0]?.item ?? "";
      return this.#buffers.push({ side: "vehicle", owner, item, capacity: BigInt(batch.items), rate: NONE }) - 1;
    });
  }

  #addFeed(feed: number, id: string, entries: ReadonlyMap<number, { entry: number; buffer: number }>): void {
    const outlets = (this.#leaving.get(id) ?? []).filter((index) => this.#isLive(index));
    this.#nodes.push({ kind: "feed", feed, outlets: outlets.map((index) => entries.get(index)?.entry ?? index) });
    for (const index of outlets) {
      const surge = entries.get(index);
      if (surge === undefined) continue;
      this.#nodes.push({ kind: "store", buffer: surge.buffer, inlet: surge.entry, outlets: [index] });
    }
  }

  #addMachine(machine: number, id: string, machines: readonly FlowMachine[]): void {
    const atMachine = (this.#arriving.get(id) ?? []).filter((index) => this.#isLive(index));
    for (const buffer of machines[machine]?.infeed ?? []) {
      const inlets = atMachine.filter((inlet) => this.#kindOf(inlet) === this.#buffers[buffer]?.item);
      if (inlets.length > 0) this.#nodes.push({ kind: "infeed", buffer, inlets: this.#taken(inlets) });
    }
    this.#nodes.push({ kind: "machine", machine });
    for (const buffer of machines[machine]?.outfeed ?? []) {
      const outlets = this.#leavingAs(id, this.#buffers[buffer]?.item ?? "");
      this.#nodes.push({ kind: "store", buffer, inlet: null, outlets });
    }
  }

  #addJunction(junction: Junction): void {
    const outlets = junction.outlets.filter((index) => this.#isLive(index));
    const passing = new Set(outlets.map((outlet) => this.#kindOf(outlet)));
    const inlets = junction.inlets.filter((inlet) => this.#isLive(inlet) && passing.has(this.#kindOf(inlet)));
    if (inlets.length > 0) this.#nodes.push({ ...junction, inlets: [...this.#taken(inlets)], outlets });
  }

  #addEnds(): void {
    for (const { id, item } of this.#network.outlets) {
      const inlets = (this.#arriving.get(id) ?? []).filter(
        (inlet) => this.#isLive(inlet) && (item === null || this.#kindOf(inlet) === item),
      );
      if (inlets.length > 0) this.#nodes.push({ kind: "end", limit: null, inlets: this.#taken(inlets) });
    }
    // What has arrived where nothing takes it stays, and holds its connection back.
    if (this.#stuck.size > 0) this.#nodes.push({ kind: "end", limit: NONE, inlets: [...this.#stuck] });
  }

  #taken(inlets: readonly number[]): readonly number[] {
    for (const inlet of inlets) this.#stuck.delete(inlet);
    return inlets;
  }
}
