/**
 * What it takes to make one drawing of a line into another: elements added, and elements torn out.
 *
 * An element stays if the other drawing has one like it at the same place. A divider is known by the way that leads to it
 * (the source, and the number of the outlet taken at each divider) and by how many outlets it has; a merge by what it leads
 * to, the next divider, merge, machine or outlet, however many inlets it has; a belt by where it begins, at which outlet, and
 * by what it ends at, so that a belt whose divider goes, goes too. So a chain that grows by a machine keeps all but its last
 * stretch, and an even tree from eight to nine nothing.
 */
import { groupBy } from "../quantity/counts.ts";
import type { Connection, LineElements } from "./network.ts";

export interface ElementCounts {
  readonly dividers: number;
  readonly merges: number;
  readonly belts: number;
}

export interface Change {
  readonly added: ElementCounts;
  readonly torn_out: ElementCounts;
}

export function changeBetween(before: LineElements, after: LineElements): Change {
  const number = numbering();
  const [old, fresh] = [signsOf(before, number), signsOf(after, number)];
  const stay = {
    dividers: common(old.dividers, fresh.dividers),
    merges: common(old.merges, fresh.merges),
    belts: common(old.belts, fresh.belts),
  };
  return { added: less(countsOf(after), stay), torn_out: less(countsOf(before), stay) };
}

export function countsOf({ dividers, merges, connections }: LineElements): ElementCounts {
  return { dividers: dividers.length, merges: merges.length, belts: connections.length };
}

/** What elements are known by; equal in both drawings where they are alike. */
interface Signs {
  readonly dividers: readonly string[];
  readonly merges: readonly string[];
  readonly belts: readonly string[];
}

/** A short text for a long one, the same for the same: the way to a chain's last divider names all dividers before. */
function numbering(): (text: string) => string {
  const known = new Map<string, string>();
  return (text) => {
    const short = known.get(text) ?? `#${known.size}`;
    known.set(text, short);
    return short;
  };
}

function signsOf(line: LineElements, number: (text: string) => string): Signs {
  const outOf = groupBy(line.connections, ({ from }) => from);
  const dividers = new Set(line.dividers.map(({ id }) => id));
  const merges = new Set(line.merges.map(({ id }) => id));
  const ways = waysOf(line.connections, outOf, dividers, merges, number);
  const signs = new Map<string, string>();
  for (const { id } of line.dividers) {
    signs.set(id, number(`divider ${ways.get(id) ?? ""} ${outOf.get(id)?.length ?? 0}`));
  }
  for (const { id } of line.merges) {
    // Towards what has a sign or needs none, and back; merges that lead in a circle end where it closes.
    const chain = new Set<string>();
    let next: string | undefined = id;
    while (next !== undefined && merges.has(next) && !signs.has(next) && !chain.has(next)) {
      chain.add(next);
      next = outOf.get(next)?.at(0)?.to;
    }
    let end = endSign(next, dividers, signs, ways);
    for (const merge of [...chain].toReversed()) {
      end = number(`merge ${end}`);
      signs.set(merge, end);
    }
  }
  const belts = [...outOf].flatMap(([from, outlets]) =>
    outlets.map(({ to }, outlet) => `${signs.get(from) ?? from} ${outlet} ${signs.get(to) ?? to}`),
  );
  const signsFor = (ids: Iterable<string>): string[] => [...ids].map((id) => signs.get(id) ?? "");
  return { dividers: signsFor(dividers), merges: signsFor(merges), belts };
}

/** For a merge before a divider its way counts, not its outlets: the merge stays where the divider gives way to another. */
function endSign(
  id: string | undefined,
  dividers: ReadonlySet<string>,
  signs: ReadonlyMap<string, string>,
  ways: ReadonlyMap<string, string>,
): string {
  if (id === undefined) return "";
  return (dividers.has(id) ? ways.get(id) : signs.get(id)) ?? id;
}

/** By divider, the first way from a source; merges on it make no difference. An own stack: chains are long. */
function waysOf(
  connections: readonly Connection[],
  outOf: ReadonlyMap<string, readonly Connection[]>,
  dividers: ReadonlySet<string>,
  merges: ReadonlySet<string>,
  number: (text: string) => string,
): Map<string, string> {
  const ways = new Map<string, string>();
  const seen = new Set<string>();
  const starts = connections.filter(({ from }) => !dividers.has(from) && !merges.has(from));
  const open = starts.map(({ from, to }) => ({ id: to, way: number(`from ${from}`) })).toReversed();
  for (let top = open.pop(); top; top = open.pop()) {
    const { id, way } = top;
    if (seen.has(id)) continue;
    seen.add(id);
    if (dividers.has(id)) ways.set(id, way);
    const outlets = outOf.get(id) ?? [];
    if (!dividers.has(id) && !merges.has(id)) continue;
    const next = outlets.map(({ to }, outlet) => ({
      id: to,
      way: dividers.has(id) ? number(`${way} ${outlet}`) : way,
    }));
    open.push(...next.toReversed());
  }
  return ways;
}

/** How many of one list are found in the other, each once. */
function common(one: readonly string[], other: readonly string[]): number {
  const left = new Map<string, number>();
  for (const sign of one) left.set(sign, (left.get(sign) ?? 0) + 1);
  let found = 0;
  for (const sign of other) {
    const rest = left.get(sign) ?? 0;
    if (rest === 0) continue;
    left.set(sign, rest - 1);
    found++;
  }
  return found;
}

function less(counts: ElementCounts, stay: ElementCounts): ElementCounts {
  return {
    dividers: counts.dividers - stay.dividers,
    merges: counts.merges - stay.merges,
    belts: counts.belts - stay.belts,
  };
}
