/** Items that stand for ever: at the head of a belt, or where a feed or a machine hands over without one. */
import type { Run } from "../engine/simulate.ts";
import { BLOCKED, STARVED, STATE_COUNT } from "../engine/states.ts";
import { offeredPerMin, sequenceOf } from "../network/feeds.ts";
import type { Connection } from "../network/network.ts";
import { eachBuffer, type WaitState } from "./settled-view.ts";
import type { Ways } from "./ways.ts";

/** What stands at a place, and where it would go. */
export interface Standing {
  /** A connection with a belt, a feed or a machine, by id. */
  readonly where: string;
  readonly line: string;
  readonly item: string;
  /** The connections it would go along; `null` where it has come to an element by a belt. */
  readonly along: readonly Connection[] | null;
  /** The element at the belt's end; the giver itself without a belt. */
  readonly at: string;
  /** `null` where that is not recorded. */
  readonly sinceTick: number | null;
}

/** By place, belts first, then feeds and machines, each in file order. */
export function standingItems(run: Run, period: Period, ways: Ways): Map<string, Standing> {
  const standing = [...onBelts(run, period), ...atFeeds(run, period, ways), ...atMachines(run, period, ways)];
  return new Map(standing.map((one) => [one.where, one]));
}

export type Period = NonNullable<Run["recurrence"]>;

function onBelts({ program, heads, noted }: Run, { period }: Period): Standing[] {
  const { network, belt } = program;
  return Array.from(belt.connection).flatMap((c, b): Standing[] => {
    const connection = network.connections[c];
    const item = network.items[heads.item[b] ?? -1];
    // What enters in a period also leaves in it.
    if (connection === undefined || item === undefined || period.passed[c] !== 0) return [];
    const sinceTick = Math.max(0, noted.beltLeftAt[b] ?? 0, heads.readyTick[b] ?? 0);
    return [{ where: connection.id, line: connection.line, item, along: null, at: connection.to, sinceTick }];
  });
}

function atFeeds({ program, totals }: Run, { period }: Period, { graph }: Ways): Standing[] {
  return program.network.feeds.flatMap((feed, f): Standing[] => {
    const [connection] = graph.outOf(feed.id);
    const offers = offeredPerMin(feed).n !== 0n;
    if (connection === undefined || connection.belt !== null || !offers || period.fed[f] !== 0) return [];
    const sequence = sequenceOf(feed);
    const item = sequence[(totals.fed[f] ?? 0) % sequence.length];
    if (item === undefined) return [];
    return [{ where: feed.id, line: connection.line, item, along: [connection], at: feed.id, sinceTick: null }];
  });
}

function atMachines(run: Run, period: Period, { outOf }: Ways): Standing[] {
  return run.program.network.machines.flatMap(({ id }, m): Standing[] => {
    const [product] = waitsForEver(run, period, m, "blocked");
    if (product === undefined) return [];
    const along = outOf(id, product);
    return [{ where: id, line: along[0]?.line ?? "", item: product, along, at: id, sinceTick: null }];
  });
}

/** The kinds that a machine lacks, or has no room for, all the time, so that it never runs again. */
export function waitsForEver(run: Run, { period, periodTicks }: Period, m: number, state: WaitState): string[] {
  const engineState = state === "starved" ? STARVED : BLOCKED;
  if (period.stateTicks[m * STATE_COUNT + engineState] !== periodTicks) return [];
  return eachBuffer(run.program, m, (buffer, of, item) =>
    of === state && period.lackTicks[buffer] === periodTicks ? [item] : [],
  );
}
