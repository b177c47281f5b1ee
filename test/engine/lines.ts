/** Networks for the tests of the engine, and short ways to run them. */

import { createHash } from "node:crypto";
import { type Run, type SimulationOptions, simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import type { DividerElement, FeedElement, MachineElement, MergeElement, Network } from "../../src/network/network.ts";
import { autoTickS, ticksWithin } from "../../src/network/tick.ts";
import { exact, rational, whole } from "../../src/quantity/rational.ts";
import type { BeltSpec, ItemCount, Rule } from "../../src/scenario/scenario.ts";
import { plainFeed } from "../plain-feed.ts";

export function feed(id: string, perMin: string, item = "pouch"): FeedElement {
  return profiled(id, [["0", perMin]], item);
}

/** @param steps minutes and rates */
export function profiled(id: string, steps: readonly (readonly [string, string])[], item = "pouch"): FeedElement {
  const profile = steps.map(([fromMin, perMin]) => ({ fromMin: rational(fromMin), ratePerMin: rational(perMin) }));
  return plainFeed(id, item, profile);
}

export function belt(perMin: string, capacity = 1000, transitS = "0"): BeltSpec {
  return { ratePerMin: rational(perMin), capacity, transitMin: rational(transitS).div(60n), metres: null };
}

export function divider(id: string, rule: Rule = "even"): DividerElement {
  return { id, line: "line", rule };
}

export function merge(id: string, rule: Rule = "even"): MergeElement {
  return { id, line: "line", rule };
}

interface MachineGiven {
  readonly takes?: Readonly<Record<string, number>>;
  readonly makes?: Readonly<Record<string, number>>;
  /** Room for each kind. */
  readonly infeed?: number;
  readonly outfeed?: number;
}

export function machine(id: string, cycleS: string, given: MachineGiven = {}): MachineElement {
  const { takes = { pouch: 1 }, makes = { carton: 1 }, infeed = 10, outfeed = 10 } = given;
  const counts = (of: Readonly<Record<string, number>>): ItemCount[] =>
    Object.entries(of).map(([item, count]) => ({ item, count }));
  const rooms = (of: Readonly<Record<string, number>>, count: number): ItemCount[] =>
    Object.keys(of).map((item) => ({ item, count }));
  return {
    id,
    line: "line",
    cycleMin: rational(cycleS).div(60n),
    takes: counts(takes),
    makes: counts(makes),
    infeed: rooms(takes, infeed),
    outfeed: rooms(makes, outfeed),
  };
}

export interface RunGiven extends Omit<SimulationOptions, "horizonTicks"> {
  /** As `tick: auto` unless told otherwise. */
  readonly tickS?: string;
  readonly minutes?: string;
}

/** Runs an hour unless told otherwise; every item is recounted at every tick. */
export function run(network: Network, { tickS, minutes = "60", ...options }: RunGiven = {}): Run {
  const tick = tickS === undefined ? autoTickS(network) : rational(tickS);
  const horizonTicks = ticksWithin(rational(minutes), tick);
  return simulate(compile(network, tick), { horizonTicks, check: true, ...options });
}

export function indexOf(elements: readonly { readonly id: string }[], id: string): number {
  const index = elements.findIndex((element) => element.id === id);
  if (index < 0) throw new Error(`no element is called ${id}`);
  return index;
}

/** Items that have passed a connection up to the horizon. */
export function passed({ program, totals }: Run, connection: string): number {
  return totals.passed[indexOf(program.network.connections, connection)] ?? Number.NaN;
}

/** The proved long-run rate of a connection, items/min. */
export function settledFlow(run: Run, connection: string): string {
  return perMin(run, run.recurrence?.period.passed[indexOf(run.program.network.connections, connection)]);
}

/** The proved long-run rate of a machine, cycles/min. */
export function settledCycles(run: Run, id: string): string {
  return perMin(run, run.recurrence?.period.cycles[indexOf(run.program.network.machines, id)]);
}

function perMin({ recurrence, program }: Run, count: number | undefined): string {
  if (recurrence === null || count === undefined) return "not proved";
  return exact(
    whole(count)
      .mul(60n)
      .div(program.tickS.mul(whole(recurrence.periodTicks))),
  );
}

/** The ticks at which a machine has finished a cycle, as far as the run was stepped. */
export function finishes({ program, completions }: Run, id: string): number[] {
  const index = indexOf(program.network.machines, id);
  const all = Array.from(completions.tick.subarray(0, completions.count));
  return all.filter((_, i) => completions.machine[i] === index);
}

/** Of everything that a run holds but names and units. */
export function fingerprint({
  totals,
  noted,
  completions,
  samples,
  openCycleTicks,
  recurrence,
  steppedTicks,
}: Run): string {
  const hash = createHash("sha256");
  const arrays = [
    totals.all,
    noted.firstItem,
    noted.fullAt,
    noted.low,
    noted.high,
    noted.holdUp,
    Float64Array.of(noted.peakHoldUp, noted.peakTick, noted.longestDwell),
    completions.machine.subarray(0, completions.count),
    completions.tick.subarray(0, completions.count),
    samples.tick.subarray(0, samples.count),
    samples.level,
    samples.stateTicks,
    samples.holdUp,
    openCycleTicks,
    Float64Array.of(steppedTicks, recurrence?.atTick ?? 0, recurrence?.periodTicks ?? 0),
  ];
  // As text, since the order of bytes in a typed array is the machine's own.
  for (const array of arrays) hash.update(`${array.join(" ")}\n`);
  return hash.digest("hex").slice(0, 16);
}
