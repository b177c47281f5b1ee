/** What of a plant can be observed, by name: what is made and fed since the start, and what lies in buffers and on belts. */
import { outputPerCycle, productsPerCycle } from "../../analysis/makers.ts";
import type { Observation } from "../../engine/observe.ts";
import type { Program } from "../../network/program.ts";
import { approximate } from "../../quantity/rational.ts";

export interface Target {
  readonly name: string;
  /** What one event adds or takes, items: cycles come whole. */
  readonly grain: number;
  /** The time from one event to the next, about: a machine's cycle, of several the longest. */
  readonly stepMin: number;
  /** Counted from the start, so that it never falls: what is made or fed. */
  readonly isTotal?: true;
  /** At a row of an observation, items. */
  readonly at: (seen: Observation, row: number) => number;
}

/** Names that need a kind besides, with the names that have one. */
export interface Targets {
  readonly known: ReadonlyMap<string, Target>;
  readonly ambiguous: ReadonlyMap<string, readonly string[]>;
}

export function targetsOf(program: Program): Targets {
  const known = new Map<string, Target>();
  const ambiguous = new Map<string, readonly string[]>();
  const add = (target: Target): void => {
    known.set(target.name, target);
  };
  add(wholeOutput(program));
  const stepMin = longestCycle(program);
  add({ name: "hold-up", grain: 1, stepMin, at: (seen, row) => held(program, seen, row) });
  for (const target of [...machineCounts(program), ...feedCounts(program), ...lineLevels(program)]) add(target);
  for (const { name, kinds } of bufferLevels(program)) {
    for (const target of kinds) add(target);
    const [only, ...others] = kinds;
    if (only === undefined) continue;
    if (others.length === 0) add({ ...only, name });
    else
      ambiguous.set(
        name,
        kinds.map((kind) => kind.name),
      );
  }
  return { known, ambiguous };
}

/** Products that no other machine takes. */
function wholeOutput(program: Program): Target {
  const { network, machine } = program;
  const perCycle = outputPerCycle(network);
  return {
    name: "made",
    isTotal: true,
    grain: Math.max(1, ...perCycle),
    stepMin: longestCycle(program),
    at: (seen, row) =>
      perCycle.reduce((total, each, m) => total + each * (seen.cycles[row * machine.count + m] ?? 0), 0),
  };
}

function machineCounts({ network, machine }: Program): Target[] {
  return network.machines.map((element, m) => {
    const each = productsPerCycle(element);
    return {
      name: `${element.id}.made`,
      isTotal: true,
      grain: each,
      stepMin: approximate(element.cycleMin),
      at: (seen, row) => each * (seen.cycles[row * machine.count + m] ?? 0),
    };
  });
}

function feedCounts(program: Program): Target[] {
  const { network, feed } = program;
  return network.feeds.map(({ id }, f) => ({
    name: `${id}.fed`,
    isTotal: true,
    grain: 1,
    stepMin: longestCycle(program),
    at: (seen, row) => seen.fed[row * feed.count + f] ?? 0,
  }));
}

/** Items on the belts of a line, or in a feed's surge buffer. */
function lineLevels(program: Program): Target[] {
  const { places, itemCount } = program;
  return places.map(({ id, isSurge }, p) => ({
    name: isSurge ? `${id}.surge` : `${id}.belts`,
    grain: 1,
    stepMin: longestCycle(program),
    at: (seen, row) => {
      const from = (row * places.length + p) * itemCount;
      return seen.onPlaces.subarray(from, from + itemCount).reduce((total, count) => total + count, 0);
    },
  }));
}

function bufferLevels({ network, machine, buffer }: Program): { name: string; kinds: Target[] }[] {
  return network.machines.flatMap(({ id, cycleMin }, m) => {
    const first = machine.infeed[m] ?? 0;
    const firstOutfeed = machine.outfeed[m] ?? 0;
    const end = machine.infeed[m + 1] ?? 0;
    const level = (name: string, b: number): Target => ({
      name: `${name}.${network.items[buffer.item[b] ?? -1] ?? ""}`,
      grain: buffer.perCycle[b] ?? 1,
      stepMin: approximate(cycleMin),
      at: (seen, row) => seen.levels[row * buffer.count + b] ?? 0,
    });
    const part = (name: string, from: number, to: number) => ({
      name,
      kinds: Array.from({ length: to - from }, (_, i) => level(name, from + i)),
    });
    return [part(`${id}.infeed`, first, firstOutfeed), part(`${id}.outfeed`, firstOutfeed, end)];
  });
}

function longestCycle({ network }: Program): number {
  return Math.max(...network.machines.map(({ cycleMin }) => approximate(cycleMin)));
}

/** All that lies on belts and in buffers. */
function held({ buffer, places, itemCount }: Program, seen: Observation, row: number): number {
  const sum = (counts: Int32Array, width: number): number =>
    counts.subarray(row * width, (row + 1) * width).reduce((total, count) => total + count, 0);
  return sum(seen.levels, buffer.count) + sum(seen.onPlaces, places.length * itemCount);
}
