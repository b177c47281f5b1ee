/**
 * Jams: items that stand at the head of a belt for ever because nobody there takes them, while what would be taken waits
 * behind them.
 *
 * From every standing item the way goes on to what stands before it, until one is found that nothing else explains: no
 * element at its place takes its kind, or the machine there is full of it and waits for another kind that can't pass. A
 * line that stands still because no feed or machine offers anything any more does not jam.
 */
import type { Run } from "../engine/simulate.ts";
import { offeredPerMin } from "../network/feeds.ts";
import type { Network } from "../network/network.ts";
import { JamSearch, type Root } from "./jam-search.ts";
import type { LongRun } from "./long-run.ts";
import type { Jam, Mix } from "./plant-results.ts";
import { reaching, takesKind } from "./reaching.ts";
import { type Period, type Standing, standingItems, waitsForEver } from "./standing.ts";
import { type Ways, waysOf } from "./ways.ts";

export interface FoundJams {
  readonly jams: readonly Jam[];
  /** The jam behind which a machine waits for ever for an item, or for room for its product. */
  readonly behind: (machine: string, item: string) => Jam | undefined;
}

/** @returns `null` where no recurrence proves that anything stands for ever */
export function findJams(run: Run, longRun: LongRun): FoundJams | null {
  const { recurrence, program } = run;
  if (recurrence === null) return null;
  const { network } = program;
  const ways = waysOf(network);
  const standing = standingItems(run, recurrence, ways);
  if (standing.size === 0) return { jams: [], behind: () => undefined };
  const search = new JamSearch(run, recurrence, ways, standing);
  const starved = network.machines
    .flatMap(({ id }, m) => waitsForEver(run, recurrence, m, "starved").map((item) => ({ machine: id, item })))
    .filter(({ machine, item }) => search.isOffered(machine, item));
  const found = search.find(starved);
  const held = [...standing.values()].filter(
    (one) => ways.machine(one.where) !== undefined || isHeldFeed(recurrence, ways, one),
  );
  const stopsPlant = longRun.exactCycles?.every(({ n }) => n === 0n) ?? false;
  const byKey = new Map<string, Jam>();
  const waiting = new Map<string, Jam>();
  const places = [...standing.keys()];
  for (const [key, unordered] of found.roots) {
    const roots = inOrder(unordered, places);
    const own = starved.filter(({ machine, item }) => found.ofLacking(machine, item).has(key));
    const stuck = held.filter((one) => found.ofStanding(one.where).has(key));
    const root = roots[0];
    if (root === undefined || own.length + stuck.length === 0) continue;
    const jam: Jam = {
      line: root.standing.line,
      item: root.standing.item,
      belt: root.standing.where,
      at: root.at,
      also: otherPlaces(roots, root),
      is_full: root.isFull,
      since_min: root.standing.sinceTick === null ? null : longRun.toMinutes(root.standing.sinceTick),
      starved: own.map(({ machine, item }) => ({ machine, item })),
      blocked: stuck.filter(({ where }) => ways.machine(where) !== undefined).map(({ where }) => where),
      dividers: [],
      stops_plant: stopsPlant,
    };
    byKey.set(key, jam);
    for (const { machine, item } of own) waiting.set(`${machine} ${item}`, jam);
    for (const { where, item } of stuck) waiting.set(`${where} ${item}`, jam);
  }
  return { jams: [...byKey.values()], behind: (machine, item) => waiting.get(`${machine} ${item}`) };
}

function isHeldFeed({ period }: Period, { feed, connection }: Ways, { where }: Standing): boolean {
  const source = feed(connection(where)?.from ?? where);
  return source !== undefined && period.fed[source.index] === 0 && offeredPerMin(source.feed).n !== 0n;
}

const MOST_PLACES = 20;

function otherPlaces(roots: readonly Root[], { standing }: Root): string[] {
  const places = new Set(roots.map((root) => root.standing.where));
  places.delete(standing.where);
  return [...places].slice(0, MOST_PLACES);
}

/** One that nobody takes before one that has no room, then the earliest, then the first in file order. */
function inOrder(roots: readonly Root[], places: readonly string[]): Root[] {
  const since = ({ standing }: Root): number => standing.sinceTick ?? Number.MAX_VALUE;
  const placeOf = new Map(places.map((place, index) => [place, index]));
  const place = ({ standing }: Root): number => placeOf.get(standing.where) ?? 0;
  return [...roots].sort((a, b) => Number(a.isFull) - Number(b.isFull) || since(a) - since(b) || place(a) - place(b));
}

const MOST_DIVIDERS = 20;

/** Of lines that carry several kinds. */
export function withDividers(jams: readonly Jam[], mixes: readonly Mix[], network: Network, ways: Ways): Jam[] {
  const mixed = new Set(mixes.map(({ line }) => line));
  return jams.map((jam) => (mixed.has(jam.line) ? { ...jam, dividers: dividersOf(jam, network, ways) } : jam));
}

function dividersOf(
  { line, item, is_full: isFull }: Jam,
  { connections, dividers }: Network,
  ways: Ways,
): Jam["dividers"] {
  const own = connections.filter((connection) => connection.line === line && ways.carries(connection, item));
  const goods = reaching(own, (node) => takesKind(ways, node, item));
  const parting = dividers.filter((divider) => divider.line === line && ways.outOf(divider.id, item).length > 1);
  const astray = parting.filter(({ id }) => {
    const isGood = ways.outOf(id, item).map(({ to }) => goods.has(to));
    return isGood.includes(true) && isGood.includes(false);
  });
  const named = isFull || astray.length === 0 ? parting : astray;
  return named.slice(0, MOST_DIVIDERS).map(({ id, rule }) => ({ divider: id, takes_turns: rule === "even" }));
}
