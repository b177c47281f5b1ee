/**
 * The chain: one through belt passes the consumers one after another, and a divider before each turns part of the flow
 * aside. The last one needs no divider; the end of the through belt feeds it directly.
 *
 *     feed ─ through-1 ─ divider-1 ─ through-2 ─ divider-2 ─ through-3 ─┐
 *                            └ branch-1 ─ [1]        └ branch-2 ─ [2]   [3]
 *
 * Several feeds join in an even merge before through-1.
 */
import type { ChainLine, Feed, MachineGroup, Rule } from "../scenario/scenario.ts";
import type { Connection, DividerElement, LineElements, MergeElement } from "./network.ts";

/** @param groups by their own names and those of their members */
export function expandChain(
  line: ChainLine,
  feeds: readonly Feed[],
  groups: ReadonlyMap<string, MachineGroup>,
): LineElements {
  const consumers = line.to.flatMap((name) => {
    const group = groups.get(name);
    return group?.id === name ? group.members : [name];
  });
  const rule: Rule = line.dividers === "even" ? "even" : "ordered";
  const only = branchKinds(line, feeds, groups);
  const dividerAt = (place: number): string => `${line.id}.divider-${place}`;
  const through = (place: number, from: string): Connection => ({
    id: `${line.id}.through-${place}`,
    line: line.id,
    from,
    to: place < consumers.length ? dividerAt(place) : (consumers[place - 1] ?? ""),
    only: null,
    belt: line.belt,
  });
  const branch = (place: number, to: string): Connection => ({
    id: `${line.id}.branch-${place}`,
    line: line.id,
    from: dividerAt(place),
    to,
    only: only(to),
    belt: line.branch,
  });

  const head = joinFeeds(line);
  const dividers: DividerElement[] = [];
  const connections: Connection[] = [...head.connections, through(1, head.end)];
  consumers.slice(0, -1).forEach((consumer, index) => {
    const place = index + 1;
    const outlets = [branch(place, consumer), through(place + 1, dividerAt(place))];
    dividers.push({ id: dividerAt(place), line: line.id, rule });
    connections.push(...(line.dividers === "through-first" ? outlets.reverse() : outlets));
  });
  return { dividers, merges: head.merges, connections };
}

interface Head {
  readonly merges: readonly MergeElement[];
  readonly connections: readonly Connection[];
  /** The element that through-1 starts from. */
  readonly end: string;
}

function joinFeeds(line: ChainLine): Head {
  const [first, ...others] = line.from;
  if (first === undefined) throw new Error(`chain ${line.id} has no feed`);
  if (others.length === 0) return { merges: [], connections: [], end: first };
  const merge = `${line.id}.merge`;
  return {
    merges: [{ id: merge, line: line.id, rule: "even" }],
    connections: line.from.map((feed, index) => ({
      id: `${line.id}.feed-${index + 1}`,
      line: line.id,
      from: feed,
      to: merge,
      only: null,
      belt: null,
    })),
    end: merge,
  };
}

/** Where a line carries several kinds, a branch lets in what its machine takes; else it needs no restriction. */
function branchKinds(
  line: ChainLine,
  feeds: readonly Feed[],
  groups: ReadonlyMap<string, MachineGroup>,
): (consumer: string) => readonly string[] | null {
  const from = new Set(line.from);
  const carried = new Set(feeds.filter(({ id }) => from.has(id)).map(({ item }) => item));
  return (consumer) => {
    if (carried.size < 2) return null;
    return groups.get(consumer)?.takes.map(({ item }) => item) ?? null;
  };
}
