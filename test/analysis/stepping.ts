/**
 * A second method for plants, to test the flow solution against: small steps in floating-point numbers. A machine works
 * on what lies in its infeeds and makes what its outfeeds have room for; then every line hands on what lies ready as far
 * as there is room. Nothing is solved: what depends on one another meets in the levels, a step later. Lines must be
 * merges first, dividers after.
 */
import type { Connection, MachineElement, Network } from "../../src/network/network.ts";
import { approximate } from "../../src/quantity/rational.ts";
import type { Rule } from "../../src/scenario/scenario.ts";

export interface Stepped {
  /** Items by `machine side item`, or `feed surge`. */
  readonly levels: ReadonlyMap<string, number>;
  /** Minutes by machine. */
  readonly running: ReadonlyMap<string, number>;
}

interface Supply {
  /** Items ready to leave in this step, and what to do with those that do. */
  readonly ready: () => number;
  readonly take: (items: number) => void;
}

export class SteppedPlant {
  readonly #network: Network;
  readonly #dt: number;
  #step = 0;
  readonly #levels = new Map<string, number>();
  readonly #running = new Map<string, number>();
  readonly #vehicles = new Map<string, { left: number; due: number }>();
  readonly #rooms = new Map<string, number>();
  readonly #order: readonly string[];

  constructor(network: Network, dt: number) {
    this.#network = network;
    this.#dt = dt;
    this.#order = junctionOrder(network);
    for (const machine of network.machines) {
      this.#running.set(machine.id, 0);
      for (const { item, count } of machine.infeed) this.#open(`${machine.id} infeed ${item}`, count);
      for (const { item, count } of machine.outfeed) this.#open(`${machine.id} outfeed ${item}`, count);
    }
    for (const { feed, connection } of network.surges) {
      this.#open(`${feed} surge`, network.connections.find(({ id }) => id === connection)?.belt?.capacity ?? 0);
    }
    for (const { id, batch } of network.feeds) {
      if (batch !== null) this.#vehicles.set(id, { left: 0, due: approximate(batch.firstMin) });
    }
  }

  /** Goes on to a time, minutes. */
  to(tMin: number): Stepped {
    while (this.#step * this.#dt < tMin - this.#dt / 2) {
      for (const machine of this.#network.machines) this.#work(machine);
      for (const feed of this.#network.feeds) this.#unload(feed);
      this.#handOn();
      this.#step++;
    }
    return { levels: new Map(this.#levels), running: new Map(this.#running) };
  }

  #open(name: string, room: number): void {
    this.#levels.set(name, 0);
    this.#rooms.set(name, room);
  }

  #add(name: string, items: number): void {
    this.#levels.set(name, (this.#levels.get(name) ?? 0) + items);
  }

  #level(name: string): number {
    return this.#levels.get(name) ?? 0;
  }

  #room(name: string): number {
    return Math.max(0, (this.#rooms.get(name) ?? 0) - this.#level(name));
  }

  #work({ id, cycleMin, takes, makes }: MachineElement): void {
    const most = this.#dt / approximate(cycleMin);
    const isHeld = (item: string) => this.#outOf(id, item).length > 0;
    const cycles = Math.min(
      most,
      ...takes.map(({ item, count }) => this.#level(`${id} infeed ${item}`) / count),
      ...makes.filter(({ item }) => isHeld(item)).map(({ item, count }) => this.#room(`${id} outfeed ${item}`) / count),
    );
    for (const { item, count } of takes) this.#add(`${id} infeed ${item}`, -cycles * count);
    for (const { item, count } of makes) if (isHeld(item)) this.#add(`${id} outfeed ${item}`, cycles * count);
    this.#running.set(id, (this.#running.get(id) ?? 0) + (cycles / most) * this.#dt);
  }

  #outOf(id: string, item: string): Connection[] {
    return this.#network.connections.filter(({ from, only }) => from === id && (only === null || only.includes(item)));
  }

  /** Vehicles come and go; what is on offer goes into the surge buffer, where there is one. */
  #unload(feed: Network["feeds"][number]): void {
    const now = this.#step * this.#dt;
    const vehicle = this.#vehicles.get(feed.id);
    if (feed.batch !== null && vehicle !== undefined && vehicle.left <= 1e-9 && vehicle.due <= now + 1e-9) {
      const every = approximate(feed.batch.everyMin);
      vehicle.left = feed.batch.items;
      vehicle.due = (now - vehicle.due >= every ? now : vehicle.due) + every;
    }
    if (!this.#network.surges.some((surge) => surge.feed === feed.id)) return;
    const items = Math.min(this.#offer(feed), this.#room(`${feed.id} surge`));
    this.#add(`${feed.id} surge`, items);
    if (vehicle !== undefined) vehicle.left -= items;
  }

  #offer({ id, profile }: Network["feeds"][number]): number {
    const now = (this.#step + 0.5) * this.#dt;
    const step = profile.findLast(({ fromMin }) => approximate(fromMin) <= now);
    return Math.min(
      step === undefined ? 0 : approximate(step.ratePerMin) * this.#dt,
      this.#vehicles.get(id)?.left ?? Infinity,
    );
  }

  #supplyOf(id: string): Supply | null {
    const feed = this.#network.feeds.find((one) => one.id === id);
    const machine = this.#network.machines.find((one) => one.id === id);
    if (machine !== undefined) {
      const name = `${id} outfeed ${machine.makes[0]?.item}`;
      return { ready: () => this.#level(name), take: (items) => this.#add(name, -items) };
    }
    if (feed === undefined) return null;
    const surge = `${id} surge`;
    if (this.#rooms.has(surge)) return { ready: () => this.#level(surge), take: (items) => this.#add(surge, -items) };
    const vehicle = this.#vehicles.get(id);
    return {
      ready: () => this.#offer(feed),
      take: (items) => {
        if (vehicle !== undefined) vehicle.left -= items;
      },
    };
  }

  #handOn(): void {
    const { connections, dividers, merges, machines } = this.#network;
    const rules = new Map<string, Rule>([...dividers, ...merges].map(({ id, rule }) => [id, rule]));
    const into = (id: string) => connections.filter(({ to }) => to === id);
    const outOf = (id: string) => connections.filter(({ from }) => from === id);
    const beltOf = ({ belt }: Connection) => (belt === null ? Infinity : approximate(belt.ratePerMin) * this.#dt);
    const offers = new Map<string, number>();
    const limits = new Map<string, number>();
    const kinds = new Map<string, string>();
    const offer = (connection: Connection, items: number, item: string) => {
      offers.set(connection.id, Math.min(items, beltOf(connection)));
      kinds.set(connection.id, item);
    };
    const supplies = [...this.#network.feeds, ...machines].map(({ id }) => id);
    for (const id of supplies) {
      const item =
        this.#network.feeds.find((feed) => feed.id === id)?.items[0]?.item ??
        machines.find((one) => one.id === id)?.makes[0]?.item ??
        "";
      for (const connection of outOf(id)) offer(connection, this.#supplyOf(id)?.ready() ?? 0, item);
    }
    for (const id of this.#order) {
      const arriving = into(id);
      const all = arriving.reduce((sum, { id: inlet }) => sum + (offers.get(inlet) ?? 0), 0);
      for (const outlet of outOf(id)) offer(outlet, all, kinds.get(arriving[0]?.id ?? "") ?? "");
    }
    for (const connection of connections) {
      const machine = machines.find(({ id }) => id === connection.to);
      const room = machine ? this.#room(`${machine.id} infeed ${kinds.get(connection.id)}`) : Infinity;
      limits.set(connection.id, Math.min(room, beltOf(connection)));
    }
    for (const id of this.#order.toReversed()) {
      const room = outOf(id).reduce((sum, outlet) => sum + (limits.get(outlet.id) ?? 0), 0);
      const inlets = into(id);
      const granted = shared(
        rules.get(id) ?? "even",
        room,
        inlets.map((inlet) => offers.get(inlet.id) ?? 0),
      );
      for (const [k, inlet] of inlets.entries())
        limits.set(inlet.id, Math.min(limits.get(inlet.id) ?? 0, granted[k] ?? 0));
    }
    const moved = new Map<string, number>();
    for (const id of supplies) {
      const supply = this.#supplyOf(id);
      for (const connection of outOf(id)) {
        const items = Math.min(supply?.ready() ?? 0, limits.get(connection.id) ?? 0);
        moved.set(connection.id, items);
        supply?.take(items);
      }
    }
    for (const id of this.#order) {
      const arrived = into(id).reduce((sum, inlet) => sum + (moved.get(inlet.id) ?? 0), 0);
      const outlets = outOf(id);
      const given = shared(
        rules.get(id) ?? "even",
        arrived,
        outlets.map((outlet) => limits.get(outlet.id) ?? 0),
      );
      for (const [k, outlet] of outlets.entries()) moved.set(outlet.id, given[k] ?? 0);
    }
    for (const connection of connections) {
      if (!machines.some(({ id }) => id === connection.to)) continue;
      this.#add(`${connection.to} infeed ${kinds.get(connection.id)}`, moved.get(connection.id) ?? 0);
    }
  }
}

/** Even shares by raising a common level, the least limits first; ordered ones in turn. */
function shared(rule: Rule, amount: number, limits: readonly number[]): number[] {
  const shares = limits.map(() => 0);
  let rest = amount;
  const turn = [...limits.keys()];
  if (rule === "even") turn.sort((a, b) => (limits[a] ?? 0) - (limits[b] ?? 0));
  for (const [served, k] of turn.entries()) {
    shares[k] = Math.min(limits[k] ?? 0, rule === "even" ? rest / (turn.length - served) : rest);
    rest -= shares[k] ?? 0;
  }
  return shares;
}

/** Dividers and merges, each after those that feed it. */
function junctionOrder({ dividers, merges, connections }: Network): string[] {
  const ordered: string[] = [];
  const junctions = new Set([...dividers, ...merges].map(({ id }) => id));
  const visit = (id: string): void => {
    if (ordered.includes(id)) return;
    for (const { from, to } of connections) if (to === id && junctions.has(from)) visit(from);
    ordered.push(id);
  };
  for (const id of junctions) visit(id);
  return ordered;
}
