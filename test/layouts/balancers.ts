/**
 * Networks of balancers, each an even merge of two wires and an even divider to two, as a custom line. Wires enter from feeds
 * that let in so many items each, and end at outlets.
 */
import { expand } from "../../src/network/expand.ts";
import type { Network } from "../../src/network/network.ts";
import { exact, whole } from "../../src/quantity/rational.ts";
import { passed, run } from "../engine/lines.ts";
import { scenarioOf } from "./shared-lines.ts";

/** Two wires in and the same two out; the first is served first. */
export interface Balancers {
  readonly width: number;
  /** In an order in which items can pass them; wires by number. */
  readonly balancers: readonly (readonly [number, number])[];
  /** The wires in the order in which their counts are looked at. */
  readonly outputs: readonly number[];
}

/** J. Aspnes, M. Herlihy, N. Shavit, "Counting Networks", Journal of the ACM 41(5), 1994, section 3: two half networks and a merger. */
export function bitonic(width: number): Balancers {
  const balancers: (readonly [number, number])[] = [];
  const network = (wires: readonly number[]): number[] => {
    if (wires.length === 1) return [...wires];
    const half = wires.length / 2;
    return merger(network(wires.slice(0, half)), network(wires.slice(half)));
  };
  /** The even places of one sequence go with the odd ones of the other; the results are interleaved. */
  const merger = (x: readonly number[], y: readonly number[]): number[] => {
    const balance = (first: number, second: number): number[] => {
      balancers.push([first, second]);
      return [first, second];
    };
    if (x.length === 1) return balance(x[0] ?? 0, y[0] ?? 0);
    const places = (list: readonly number[], odd: 0 | 1): number[] => list.filter((_, index) => index % 2 === odd);
    const first = merger(places(x, 0), places(y, 1));
    const second = merger(places(x, 1), places(y, 0));
    return first.flatMap((wire, index) => balance(wire, second[index] ?? 0));
  };
  const outputs = network(Array.from({ length: width }, (_, wire) => wire));
  return { width, balancers, outputs };
}

/** One layer for each power of two; wires that differ in that place of their number meet. */
export function butterfly(width: number): Balancers {
  const balancers: (readonly [number, number])[] = [];
  for (let stride = width / 2; stride >= 1; stride /= 2) {
    for (let wire = 0; wire < width; wire++) {
      if (Math.floor(wire / stride) % 2 === 0) balancers.push([wire, wire + stride]);
    }
  }
  // One item after another on one wire comes out in this order.
  const reversed = (wire: number): number => {
    let [rest, turned] = [wire, 0];
    for (let place = 1; place < width; place *= 2) [rest, turned] = [Math.floor(rest / 2), 2 * turned + (rest % 2)];
    return turned;
  };
  return { width, balancers, outputs: Array.from({ length: width }, (_, wire) => reversed(wire)) };
}

/** The most balancers on any way through. */
export function depthOf({ width, balancers }: Balancers): number {
  const depth = Array.from({ length: width }, () => 0);
  for (const [a, b] of balancers) {
    const below = 1 + Math.max(depth[a] ?? 0, depth[b] ?? 0);
    [depth[a], depth[b]] = [below, below];
  }
  return Math.max(...depth);
}

/**
 * @param entering items by wire; none on a wire whose feed comes too late
 * @returns items that have left when all is at rest, by place in `outputs`
 */
export function countsAfter(given: Balancers, entering: readonly number[]): number[] {
  const network = expand(scenarioOf(scenarioText(given, entering)));
  // Belts let through twice what a feed brings, and nothing passes one twice.
  const minutes = whole(2 * Math.max(...entering))
    .div(whole(RATE_PER_MIN))
    .add("1/10");
  const done = run(network, { minutes: exact(minutes), stepAll: true, check: false });
  const counts = given.outputs.map((wire) => passed(done, lastBelt(network, wire)));
  const fed = entering.reduce((sum, items) => sum + items, 0);
  const left = counts.reduce((sum, count) => sum + count, 0);
  if (left !== fed) throw new Error(`${fed} items entered, ${left} have left`);
  return counts;
}

const RATE_PER_MIN = 3000;

function lastBelt({ connections }: Network, wire: number): string {
  return connections.find(({ to }) => to === `out-${wire}`)?.id ?? "";
}

function scenarioText({ width, balancers }: Balancers, entering: readonly number[]): string {
  const wires = Array.from({ length: width }, (_, wire) => wire);
  const feeds = wires.map((wire) => {
    const items = entering[wire] ?? 0;
    const first = items === 0 ? "30 min" : `${exact(whole(wire).div(whole(10)))} s`;
    return `  in-${wire}: { item: can, batch: { every: 30 min, items: ${Math.max(1, items)}, rate: ${RATE_PER_MIN}/min, first: ${first} } }`;
  });
  const places: string[] = [];
  const belt = (from: string, to: string): void => {
    const rate = `rate: ${2 * RATE_PER_MIN}/min, capacity: 6, transit: 0 s`;
    places.push(`      belt-${places.length + 1}: { from: ${from}, to: ${to}, ${rate} }`);
  };
  /** Where a wire leads to from a balancer, or with -1 from its feed. */
  const next = (wire: number, after: number): string => {
    const index = balancers.findIndex((pair, place) => place > after && pair.includes(wire));
    return index < 0 ? `out-${wire}` : `join-${index}`;
  };
  for (const wire of wires) belt(`in-${wire}`, next(wire, -1));
  for (const [index, pair] of balancers.entries()) {
    belt(`join-${index}`, `part-${index}`);
    for (const wire of pair) belt(`part-${index}`, next(wire, index));
  }
  const named = (name: string): string => balancers.map((_, index) => `${name}-${index}: even`).join(", ");
  return `
horizon: 20 min
feeds:
${feeds.join("\n")}
machines: { idle: { cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 1 } }
lines:
  main:
    layout: custom
    dividers: { ${named("part")} }
    merges: { ${named("join")} }
    belts:
${places.join("\n")}
outlets: { ${wires.map((wire) => `out-${wire}: { item: can }`).join(", ")} }
`;
}
