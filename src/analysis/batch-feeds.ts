/** Feeds with vehicles or surge buffers: whether the line runs through, and the room it takes. */
import type { Recurrence } from "../engine/recurrence.ts";
import type { Run } from "../engine/simulate.ts";
import { offeredPerMin } from "../network/feeds.ts";
import { graphOf, letsIn } from "../network/graph.ts";
import type { FeedElement, Network } from "../network/network.ts";
import type { Program } from "../network/program.ts";
import { exact, whole, ZERO } from "../quantity/rational.ts";
import type { LongRun } from "./long-run.ts";
import type { BatchCycle, BatchResult, SurgeResult, Vehicles } from "./plant-results.ts";

export function batchResults(run: Run, longRun: LongRun): BatchResult[] {
  const { network } = run.program;
  return network.feeds.flatMap((feed, f) => {
    const surge = surgeOf(run, feed.id);
    if (feed.batch === null && surge === null) return [];
    const cycle = run.recurrence && cycleOf(run.program, longRun, run.recurrence, feed, f);
    const fed = longRun.exactFed?.[f];
    return {
      feed: feed.id,
      vehicles: vehiclesOf(feed),
      surge,
      held_up_min: longRun.toMinutes(run.totals.feedHeldTicks[f] ?? 0),
      vehicles_wait_min: longRun.toMinutes(run.totals.vehicleWaitTicks[f] ?? 0),
      cycle,
      needed_room: neededRoom(cycle, surge),
      brings_too_much: fed === undefined ? null : fed.compare(offeredPerMin(feed)) < 0,
    };
  });
}

export function vehiclesOf({ batch, profile }: Pick<FeedElement, "batch" | "profile">): Vehicles | null {
  return (
    batch && {
      every_min: exact(batch.everyMin),
      items: batch.items,
      first_min: exact(batch.firstMin),
      unloading_per_min: exact(profile.at(-1)?.ratePerMin ?? ZERO),
      bring_per_min: exact(whole(batch.items).div(batch.everyMin)),
    }
  );
}

function surgeOf({ program, noted, settledLevels }: Run, feed: string): SurgeResult | null {
  const b = surgeBelt(program, feed);
  if (b < 0) return null;
  return {
    room: program.belt.capacity[b] ?? 0,
    peak: noted.beltHigh[b] ?? 0,
    settled_low: settledLevels?.beltLow[b] ?? null,
    settled_high: settledLevels?.beltHigh[b] ?? null,
  };
}

/** The belt that is a feed's surge buffer; -1 for none. */
export function surgeBelt({ network, connection }: Program, feed: string): number {
  const surge = network.surges.find((one) => one.feed === feed);
  const c = network.connections.findIndex(({ id }) => id === surge?.connection);
  return connection.belt[c] ?? -1;
}

function cycleOf(
  { network, machine }: Program,
  { toMinutes }: LongRun,
  { period, periodTicks }: Recurrence,
  feed: FeedElement,
  f: number,
): BatchCycle {
  const index = new Map(network.machines.map(({ id }, m) => [id, m]));
  const waits = buffersFedBy(network, feed).flatMap(({ machine: id, item }) => {
    const m = index.get(id) ?? -1;
    const buffer = machine.bufferFor[m * network.items.length + network.items.indexOf(item)] ?? -1;
    const ticks = period.lackTicks[buffer] ?? 0;
    return ticks > 0 ? [{ machine: id, item, min: toMinutes(ticks) }] : [];
  });
  return {
    length_min: toMinutes(periodTicks),
    fed: period.fed[f] ?? 0,
    held_up_min: toMinutes(period.feedHeldTicks[f] ?? 0),
    vehicles_wait_min: toMinutes(period.vehicleWaitTicks[f] ?? 0),
    runs_through: waits.length === 0,
    waits: waits.toSorted((a, b) => b.min - a.min),
  };
}

/** As much as ever lay in the buffer is room enough, since with just that much the same cycle repeats. */
function neededRoom(cycle: BatchCycle | null, surge: SurgeResult | null): number | null {
  if (cycle === null || cycle.held_up_min > 0) return null;
  return surge === null ? 0 : surge.settled_high;
}

/** What a feed's items come to: the infeed buffers that need them, or what is made of them, however many stages on. */
export interface FedBuffer {
  readonly machine: string;
  readonly item: string;
}

function buffersFedBy(network: Network, feed: Pick<FeedElement, "id" | "items">): FedBuffer[] {
  const graph = graphOf(network);
  const machines = new Map(network.machines.map((machine) => [machine.id, machine]));
  const met = new Set<string>();
  const found: FedBuffer[] = [];
  const open = feed.items.map(({ item }) => ({ element: feed.id, item }));
  for (let next = open.pop(); next; next = open.pop()) {
    const { element, item } = next;
    for (const connection of graph.outOf(element)) {
      const { to } = connection;
      const key = `${to} ${item}`;
      if (!letsIn(connection, item) || met.has(key)) continue;
      met.add(key);
      const machine = machines.get(to);
      if (machine === undefined) open.push({ element: to, item });
      else if (machine.takes.some((one) => one.item === item)) {
        found.push({ machine: to, item });
        for (const made of machine.makes) open.push({ element: to, item: made.item });
      }
    }
  }
  return found;
}
