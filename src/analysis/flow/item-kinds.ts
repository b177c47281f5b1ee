/** In which order flows run through a plant, and which kinds each connection can carry. */
import { letsIn } from "../../network/graph.ts";
import { carriedAtMost } from "../../network/headroom.ts";
import type { MachineElement, Network } from "../../network/network.ts";
import type { Rule } from "../../scenario/scenario.ts";
import { type Amount, amountOf, compare, countOf, NONE, over, plus } from "./number.ts";

/** Inlets and outlets are indices of connections. */
export interface Junction {
  readonly kind: "junction";
  readonly id: string;
  readonly rule: Rule;
  /** Of a weighted divider, in the order of its outlets. */
  readonly weights: readonly number[] | null;
  readonly inlets: number[];
  readonly outlets: number[];
}

export type Element =
  | { readonly kind: "feed"; readonly feed: number; readonly id: string }
  | { readonly kind: "machine"; readonly machine: number; readonly id: string }
  | Junction;

/** Feeds, machines, dividers and merges, each after those that feed it; `null` if they form a loop. */
export function orderedElements(network: Network): Element[] | null {
  const junctions = new Map<string, Junction>();
  for (const { id, rule, weights = null } of [
    ...network.dividers,
    ...network.merges.map((merge) => ({ ...merge, weights: null })),
  ]) {
    junctions.set(id, { kind: "junction", id, rule, weights, inlets: [], outlets: [] });
  }
  const elements = new Map<string, Element>([
    ...network.feeds.map(({ id }, feed): [string, Element] => [id, { kind: "feed", feed, id }]),
    ...network.machines.map(({ id }, machine): [string, Element] => [id, { kind: "machine", machine, id }]),
    ...junctions,
  ]);
  const next = new Map<string, string[]>();
  const waitingFor = new Map<string, number>();
  for (const [index, { from, to }] of network.connections.entries()) {
    junctions.get(from)?.outlets.push(index);
    junctions.get(to)?.inlets.push(index);
    if (!elements.has(from) || !elements.has(to)) continue;
    waitingFor.set(to, (waitingFor.get(to) ?? 0) + 1);
    const list = next.get(from);
    if (list === undefined) next.set(from, [to]);
    else list.push(to);
  }
  const ordered = [...elements.values()].filter(({ id }) => !waitingFor.has(id));
  for (const { id } of ordered) {
    for (const to of next.get(id) ?? []) {
      const left = (waitingFor.get(to) ?? 0) - 1;
      waitingFor.set(to, left);
      const element = elements.get(to);
      if (left === 0 && element !== undefined) ordered.push(element);
    }
  }
  return ordered.length === elements.size ? ordered : null;
}

export interface Carried {
  /** By index of connection, in order of first arrival. */
  readonly kinds: readonly (readonly string[])[];
  /**
   * By index of connection: whether it carries only products that nothing can ever hold up, on their way out. Such
   * products flow as fast as they are made, whatever their kinds.
   */
  readonly free: readonly boolean[];
}

export function carriedKinds(network: Network, elements: readonly Element[]): Carried {
  const leaving = connectionsBy(network, "from");
  const kinds: string[][] = network.connections.map(() => []);
  const most: Amount[] = network.connections.map(() => NONE);
  const free = network.connections.map(() => true);
  const open = (from: string, item: string) =>
    (leaving.get(from) ?? []).filter((index) => isOpen(network, index, item));

  for (const element of elements) {
    switch (element.kind) {
      case "feed":
        for (const { item } of network.feeds[element.feed]?.items ?? []) {
          for (const index of open(element.id, item)) {
            kinds[index]?.push(item);
            free[index] = false;
          }
        }
        break;
      case "machine": {
        const machine = network.machines[element.machine];
        for (const { item, count } of machine?.makes ?? []) {
          if (machine === undefined || count === 0) continue;
          const [first, ...others] = open(element.id, item);
          if (first === undefined) continue;
          for (const index of [first, ...others]) kinds[index]?.push(item);
          most[first] = plus(most[first] ?? NONE, perMin(count, machine));
        }
        break;
      }
      case "junction": {
        const { inlets, outlets } = element;
        const arriving = [...new Set(inlets.flatMap((inlet) => kinds[inlet] ?? []))];
        const atMost = inlets.reduce((sum, inlet) => plus(sum, most[inlet] ?? NONE), NONE);
        for (const outlet of outlets) {
          kinds[outlet] = arriving.filter((item) => isOpen(network, outlet, item));
          most[outlet] = atMost;
        }
        break;
      }
    }
  }
  const machines = new Set(network.machines.map(({ id }) => id));
  const taken = new Map(network.outlets.map(({ id, item }) => [id, item]));
  for (const [index, { to, belt }] of network.connections.entries()) {
    const isTight = belt !== null && compare(most[index] ?? NONE, amountOf(carriedAtMost(belt))) > 0;
    const wanted = taken.get(to) ?? null;
    const isWrong = wanted !== null && kinds[index]?.some((item) => item !== wanted);
    if (isTight || isWrong || machines.has(to)) free[index] = false;
  }
  spreadTies(network, elements, { kinds, free }, open);
  return { kinds, free };
}

function isOpen({ connections }: Network, index: number, item: string): boolean {
  const connection = connections[index];
  return connection !== undefined && letsIn(connection, item);
}

/** What meets something that can be held up, at a junction or a machine, can be held up too. */
function spreadTies(
  network: Network,
  elements: readonly Element[],
  { kinds, free }: { readonly kinds: readonly (readonly string[])[]; readonly free: boolean[] },
  open: (from: string, item: string) => number[],
): void {
  const carries = (index: number) => (kinds[index] ?? []).length > 0;
  const backwards = elements.toReversed();
  // Turn about, since along a chain ties spread with the flow in one pass, and in another against it.
  for (let changed = true, pass = 0; changed; pass++) {
    changed = false;
    const tie = (indices: readonly number[], broken: boolean) => {
      if (!broken) return;
      for (const index of indices) {
        if (free[index]) changed = true;
        free[index] = false;
      }
    };
    for (const element of pass % 2 === 0 ? elements : backwards) {
      if (element.kind === "junction") {
        const inlets = element.inlets.filter(carries);
        const all = [...inlets, ...element.outlets.filter(carries)];
        const arriving = new Set(inlets.flatMap((inlet) => kinds[inlet] ?? []));
        const stuck = [...arriving].some((item) => open(element.id, item).length === 0);
        tie(all, stuck || all.some((index) => !free[index]));
      }
      if (element.kind === "machine") {
        for (const { item, count } of network.machines[element.machine]?.makes ?? []) {
          const all = count > 0 ? open(element.id, item) : [];
          tie(all, all[0] !== undefined && !free[all[0]]);
        }
      }
    }
  }
}

export function perMin(count: number, machine: MachineElement): Amount {
  return over(countOf(count), amountOf(machine.cycleMin));
}

export function connectionsBy(network: Network, side: "from" | "to"): Map<string, number[]> {
  const found = new Map<string, number[]>();
  for (const [index, connection] of network.connections.entries()) {
    const list = found.get(connection[side]);
    if (list === undefined) found.set(connection[side], [index]);
    else list.push(index);
  }
  return found;
}
