/**
 * Random acyclic plants of several stages, one kind on each connection: each kind has a line of its own, from whatever
 * feeds or makes it, through merges, then dividers, to whatever takes it. Everything follows from one number.
 */
import type { Connection, DividerElement, MachineElement, MergeElement, Network } from "../../src/network/network.ts";
import { rational, whole, ZERO } from "../../src/quantity/rational.ts";
import type { BeltOrNone, ItemCount, Rule } from "../../src/scenario/scenario.ts";
import { network } from "./flow-networks.ts";

export interface PlantOptions {
  /** Feeds may step, come in vehicles and have surge buffers. */
  readonly uneven?: boolean;
}

export function randomPlant(seed: number, { uneven = false }: PlantOptions = {}): Network {
  const draw = drawFrom(seed);
  const stages = draw.among([2, 2, 3]);
  const raw = draw.among([1, 2]);
  const kindsOf: string[][] = [Array.from({ length: raw }, (_, k) => `raw-${k}`)];
  const machines: MachineElement[] = [];
  for (let stage = 1; stage <= stages; stage++) {
    const kinds = Array.from({ length: stage === stages ? 1 : draw.among([1, 2]) }, (_, k) => `made-${stage}-${k}`);
    const lower = kindsOf.flat();
    const below = kindsOf[stage - 1] ?? [];
    for (const kind of kinds) {
      const first = draw.among(below);
      const others = lower.filter((item) => item !== first);
      const takes = [first, ...(others.length > 0 && draw.chance(0.5) ? [draw.among(others)] : [])].map((item) => ({
        item,
        count: draw.among([1, 1, 2, 3]),
      }));
      for (let m = draw.among([1, 2, 3]); m > 0; m--) {
        const makes: ItemCount[] = [{ item: kind, count: draw.among([1, 1, 2]) }];
        machines.push({
          id: `${kind}-by-${m}`,
          line: null,
          cycleMin: whole(1).div(whole(draw.among([4, 5, 6, 8, 10, 12, 15]))),
          takes,
          makes,
          infeed: takes.map(({ item, count }) => ({ item, count: count * draw.among([2, 3, 5, 10]) })),
          outfeed: makes.map(({ item, count }) => ({ item, count: count * draw.among([1, 2, 6]) })),
        });
      }
    }
    kindsOf.push(kinds);
  }
  const feeds = (kindsOf[0] ?? []).map((item) => feedOf(item, machines, draw, uneven));
  const outlets = [{ id: "out", item: kindsOf.at(-1)?.[0] ?? "" }];
  const lines = kindsOf.flat().map((item) => {
    const sources = [
      ...feeds.filter(({ items }) => items[0]?.item === item).map(({ id }) => id),
      ...machines.filter(({ makes }) => makes.some((made) => made.item === item)).map(({ id }) => id),
    ];
    const takers = machines.filter(({ takes }) => takes.some((taken) => taken.item === item)).map(({ id }) => id);
    const ends = [...takers, ...outlets.filter((outlet) => outlet.item === item).map(({ id }) => id)];
    return lineOf(item, sources, ends, draw);
  });
  const connections = lines.flatMap((line) => line.connections);
  const surges = feeds.flatMap(({ id, profile }) => {
    const first = connections.findIndex(({ from }) => from === id);
    const connection = connections[first];
    if (!uneven || connection === undefined || draw.chance(0.4)) return [];
    const queue = { ratePerMin: profile[0]?.ratePerMin ?? ZERO, capacity: draw.among([20, 60]), transitMin: ZERO };
    connections[first] = { ...connection, belt: { ...queue, metres: null } };
    return [{ feed: id, connection: connection.id }];
  });
  return network({
    items: kindsOf.flat(),
    lines: kindsOf.flat(),
    feeds,
    machines,
    outlets,
    connections,
    surges,
    dividers: lines.flatMap((line) => line.dividers),
    merges: lines.flatMap((line) => line.merges),
  });
}

type Draw = ReturnType<typeof drawFrom>;

function feedOf(
  item: string,
  machines: readonly MachineElement[],
  draw: Draw,
  uneven: boolean,
): Network["feeds"][number] {
  let need = ZERO;
  for (const { takes, cycleMin } of machines) {
    for (const taken of takes) if (taken.item === item) need = need.add(whole(taken.count).div(cycleMin));
  }
  if (need.equals(ZERO)) need = whole(1);
  const ratePerMin = need.mul(rational(draw.among(["1/2", "3/4", "1", "5/4", "2"])));
  const plain = { id: `feed-${item}`, items: [{ item, count: 1 }], order: "spread" as const, batch: null };
  const profile = [{ fromMin: ZERO, ratePerMin }];
  if (!uneven) return { ...plain, profile };
  if (draw.chance(0.4)) {
    const stop = { fromMin: whole(draw.among([2, 5])), ratePerMin: ZERO };
    return { ...plain, profile: [...profile, stop, { fromMin: whole(draw.among([6, 9])), ratePerMin }] };
  }
  const items = draw.among([30, 60, 100]);
  const everyMin = whole(items)
    .div(need)
    .mul(rational(draw.among(["3/4", "1", "3/2"])));
  return { ...plain, profile, batch: { everyMin, items, firstMin: whole(draw.among([0, 0, 1])) } };
}

function lineOf(item: string, sources: readonly string[], ends: readonly string[], draw: Draw) {
  const connections: Connection[] = [];
  const merges: MergeElement[] = [];
  const dividers: DividerElement[] = [];
  const rule = (): Rule => draw.among(["even", "even", "ordered"]);
  const belt = (): BeltOrNone =>
    draw.chance(0.6)
      ? null
      : { ratePerMin: whole(draw.among([6, 10, 20, 40])), capacity: 1, transitMin: ZERO, metres: null };
  const connect = (from: string, to: string): void => {
    connections.push({ id: `${from}>${to}`, line: item, from, to, only: null, belt: belt() });
  };
  let head = sources[0] ?? "";
  for (const [k, source] of sources.slice(1).entries()) {
    const id = `${item}.merge-${k}`;
    merges.push({ id, line: item, rule: rule() });
    connect(head, id);
    connect(source, id);
    head = id;
  }
  for (const [k, end] of ends.slice(0, -1).entries()) {
    const id = `${item}.divider-${k}`;
    dividers.push({ id, line: item, rule: rule() });
    connect(head, id);
    connect(id, end);
    head = id;
  }
  const last = ends.at(-1);
  if (last !== undefined) connect(head, last);
  return { connections, merges, dividers };
}

/** Numbers as if by chance, always the same for one seed (mulberry32, T. Ettinger, public domain; from memory). */
function drawFrom(seed: number) {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), state | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  };
  return {
    chance: (share: number): boolean => next() < share,
    among: <T>(values: readonly T[]): T => {
      const value = values[Math.floor(next() * values.length)];
      if (value === undefined) throw new Error("there is nothing to draw from");
      return value;
    },
  };
}
