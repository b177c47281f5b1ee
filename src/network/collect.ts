/**
 * The head of a line: what its feeds release and its machines make, brought together on one belt.
 *
 * Feeds alone join in one even merge. Where machines are among the sources, a collecting belt passes them one after
 * another, the mirror image of the dividing side; a feed joins without a belt.
 *
 *     [1] ─ collect-1 ─ merge-2 ─ collect-2 ─ merge-3 ─ through-1 …
 *                          └ join-2 ─ [2]        └ join-3 ─ [3]
 *
 * A return belt, from a chain's far end or a loop's spare outlets, joins last of all, in the merge `head`, and goes first there.
 */
import type { Rational } from "../quantity/rational.ts";
import type { ChainLine, Feed, MachineGroup, Outlet, Scenario } from "../scenario/scenario.ts";
import { groupsByName } from "./groups.ts";
import type { Connection, MergeElement } from "./network.ts";

/** What a line states of its collecting side. */
export type Collecting = Pick<ChainLine, "id" | "from" | "to" | "branch" | "collect" | "merges" | "end">;

/** What the names in a line mean. */
export interface Plant {
  readonly feeds: ReadonlyMap<string, Feed>;
  /** By their own names and those of their members. */
  readonly groups: ReadonlyMap<string, MachineGroup>;
  /** By machine: a share of what its group's cycle makes. */
  readonly speeds: ReadonlyMap<string, Rational>;
  readonly outlets: ReadonlyMap<string, Outlet>;
}

export interface Head {
  readonly merges: readonly MergeElement[];
  readonly connections: readonly Connection[];
  /** The element that the dividing side starts from. */
  readonly end: string;
  /** Kinds that its first connection lets in; `null` for all. */
  readonly only: readonly string[] | null;
  /** Connections that come after those of the dividing side: the merge `head` serves the return belt first. */
  readonly last: readonly Connection[];
}

export function plantOf(scenario: Scenario): Plant {
  return {
    feeds: new Map(scenario.feeds.map((feed) => [feed.id, feed])),
    groups: groupsByName(scenario),
    speeds: new Map(
      scenario.machines.flatMap(({ members, speeds }) =>
        members.flatMap((id, i): [string, Rational][] => (speeds[i] ? [[id, speeds[i]]] : [])),
      ),
    ),
    outlets: new Map(scenario.outlets.map((outlet) => [outlet.id, outlet])),
  };
}

/** A line's names, groups replaced by their machines. */
export function membersOf(names: readonly string[], { groups }: Plant): string[] {
  return names.flatMap((name) => {
    const group = groups.get(name);
    return group?.id === name ? group.members : [name];
  });
}

export function headOf(line: Collecting, plant: Plant): Head {
  const sources = membersOf(line.from, plant);
  const collected = (source: string): readonly string[] | null => kindsCollected(line, source, plant);
  const joined = sources.every((source) => plant.feeds.has(source))
    ? joinFeeds(line, sources)
    : collect(line, sources, plant, collected);
  if (line.end.kind !== "return") return joined;
  const head = `${line.id}.head`;
  const entry: Connection = {
    id: `${line.id}.entry`,
    line: line.id,
    from: joined.end,
    to: head,
    only: joined.only,
    belt: plant.feeds.has(joined.end) ? null : line.collect,
  };
  return {
    merges: [...joined.merges, { id: head, line: line.id, rule: "ordered" }],
    connections: joined.connections,
    end: head,
    only: null,
    last: [entry],
  };
}

function joinFeeds(line: Collecting, feeds: readonly string[]): Head {
  const [first, ...others] = feeds;
  if (first === undefined) throw new Error(`line ${line.id} has no source`);
  if (others.length === 0) return { merges: [], connections: [], end: first, only: null, last: [] };
  const merge = `${line.id}.merge`;
  return {
    merges: [{ id: merge, line: line.id, rule: "even" }],
    connections: feeds.map((feed, index) => ({
      id: `${line.id}.feed-${index + 1}`,
      line: line.id,
      from: feed,
      to: merge,
      only: null,
      belt: null,
    })),
    end: merge,
    only: null,
    last: [],
  };
}

function collect(
  line: Collecting,
  sources: readonly string[],
  { feeds }: Plant,
  collected: (source: string) => readonly string[] | null,
): Head {
  const [first, ...others] = sources;
  if (first === undefined) throw new Error(`line ${line.id} has no source`);
  if (others.length === 0) return { merges: [], connections: [], end: first, only: collected(first), last: [] };
  const mergeAt = (place: number): string => `${line.id}.merge-${place}`;
  const stretch = (place: number, from: string, only: readonly string[] | null): Connection => {
    return { id: `${line.id}.collect-${place}`, line: line.id, from, to: mergeAt(place + 1), only, belt: line.collect };
  };
  const merges: MergeElement[] = [];
  const connections: Connection[] = [];
  let before = stretch(1, first, collected(first));
  others.forEach((source, index) => {
    const place = index + 2;
    const joining: Connection = {
      id: `${line.id}.join-${place}`,
      line: line.id,
      from: source,
      to: mergeAt(place),
      only: collected(source),
      belt: feeds.has(source) ? null : line.branch,
    };
    merges.push({ id: mergeAt(place), line: line.id, rule: line.merges === "even" ? "even" : "ordered" });
    connections.push(...(line.merges === "joining-first" ? [joining, before] : [before, joining]));
    before = stretch(place, mergeAt(place), null);
  });
  return { merges, connections, end: mergeAt(sources.length), only: null, last: [] };
}

/** Of a machine's products a line collects those that somebody on it takes; the others leave by themselves. */
function kindsCollected(line: Collecting, source: string, plant: Plant): readonly string[] | null {
  const group = plant.groups.get(source);
  if (group === undefined) return null;
  const wanted = kindsWanted(line, plant);
  const taken = group.makes.map(({ item }) => item).filter((item) => wanted.has(item));
  return taken.length === group.makes.length ? null : taken;
}

function kindsWanted(line: Pick<Collecting, "to" | "end">, plant: Plant): Set<string> {
  const ends = line.end.kind === "outlet" ? [line.end.outlet] : [];
  return new Set([...line.to, ...ends].flatMap((consumer) => kindsTaken(consumer, plant)));
}

/** By a group, a machine or an outlet. */
export function kindsTaken(consumer: string, { groups, outlets }: Plant): string[] {
  const outlet = outlets.get(consumer);
  return outlet ? [outlet.item] : (groups.get(consumer)?.takes.map(({ item }) => item) ?? []);
}

/** All kinds that come onto a line. */
export function kindsCarried(line: Pick<Collecting, "from" | "to" | "end">, plant: Plant): Set<string> {
  const wanted = kindsWanted(line, plant);
  return new Set(
    line.from.flatMap((source) => [
      ...(plant.feeds.get(source)?.items.map(({ item }) => item) ?? []),
      ...(plant.groups.get(source)?.makes.map(({ item }) => item) ?? []).filter((item) => wanted.has(item)),
    ]),
  );
}
