/**
 * Feeds that give what is needed: the need of the machines that their items come to, at full speed, less what others give,
 * in equal parts where several feeds are to give it.
 */
import { type Rational, smaller, sum, whole, ZERO } from "../quantity/rational.ts";
import type { Feed, FeedStep, Line, Scenario } from "./scenario.ts";

type Plant = Pick<Scenario, "feeds" | "machines" | "lines">;

/**
 * `nothing-needed`: nobody takes what it feeds. `enough-given`: others give all of it. `need-apart`: whose part of the need is
 * whose is open, since those who give the kind do not all lead to the same machines. `need-made`: machines give the kind, too,
 * and are fed less than they need themselves, so that what they make is open.
 */
export type NeedProblem = "nothing-needed" | "enough-given" | "need-apart" | "need-made";

export interface Needs {
  /** One feed's part of the need, items/min, whatever share of it the feed is to give; or why there is none. */
  readonly partOf: (feed: Feed) => Rational | NeedProblem;
}

/** The feeds with the rates that are needed. */
export function fedAsNeeded<P extends Plant>(plant: P): P {
  if (plant.feeds.every(({ ofNeed }) => ofNeed === null)) return plant;
  const needs = needsOf(plant);
  const feeds = plant.feeds.map((feed) => {
    const need = feed.ofNeed === null ? null : needs.partOf(feed);
    if (need === null || typeof need === "string" || feed.ofNeed === null) return feed;
    return { ...feed, profile: steady(need.mul(feed.ofNeed)) };
  });
  return { ...plant, feeds };
}

export function steady(ratePerMin: Rational): FeedStep[] {
  return [{ fromMin: ZERO, ratePerMin }];
}

export function needsOf(plant: Plant): Needs {
  const supplies = new Map<string, readonly Supply[]>();
  const suppliesOf = (item: string): readonly Supply[] => {
    const found = supplies.get(item) ?? suppliesOfKind(plant, item);
    supplies.set(item, found);
    return found;
  };
  const takes = new Map(plant.machines.flatMap((group) => group.members.map((id) => [id, group.takes])));
  const fed = new Map<string, boolean>();

  /** Whether all that a machine takes is given in full: then it makes what it makes at full speed. */
  function isFed(machine: string): boolean {
    const known = fed.get(machine);
    if (known !== undefined) return known;
    // What goes round is taken to keep going.
    fed.set(machine, true);
    const found = (takes.get(machine) ?? []).every(({ item }) => {
      const supply = suppliesOf(item).find(({ machines }) => machines.has(machine));
      return supply !== undefined && isEnough(supply);
    });
    fed.set(machine, found);
    return found;
  }

  function isEnough({ asked, makers, ways, covers }: Supply): boolean {
    if (asked.some(({ ofNeed }) => ofNeed !== null && ofNeed.compare(1) >= 0)) return true;
    const stated = ways.map(({ statedPerMin }) => statedPerMin);
    return makers.every(isFed) && usable(covers, stated).equals(needOfAll(covers));
  }

  function partOf(feed: Feed): Rational | NeedProblem {
    const supply = suppliesOf(feed.items[0]?.item ?? "").find(({ wayOf }) => wayOf.has(feed.id));
    if (supply === undefined) return "nothing-needed";
    const { asked, makers, machines, ways, wayOf, covers } = supply;
    const isStated = feed.ofNeed === null;
    const sharing = isStated ? [...asked, feed] : asked;
    const leadsToAll = ({ id }: Feed): boolean => ways[wayOf.get(id) ?? -1]?.takers.length === machines.size;
    if (ways.length > MOST_WAYS || !sharing.every(leadsToAll)) return "need-apart";
    if (!makers.every(isFed)) return "need-made";
    const own = isStated ? givenBy(feed, 1) : ZERO;
    const others = ways.map(({ statedPerMin }, w) => (w === wayOf.get(feed.id) ? statedPerMin.sub(own) : statedPerMin));
    const left = needOfAll(covers).sub(usable(covers, others));
    return left.compare(0) <= 0 ? "enough-given" : left.div(whole(sharing.length));
  }
  return { partOf };
}

/** Machines that take a kind, and all that give it to any of them: feeds, and machines whose products lines collect. */
interface Supply {
  readonly machines: ReadonlySet<string>;
  /** Feeds that are to give what is needed. */
  readonly asked: readonly Feed[];
  readonly makers: readonly string[];
  readonly ways: readonly Way[];
  /** By feed and maker, the index of its way. */
  readonly wayOf: ReadonlyMap<string, number>;
  /** By set of ways (bit by bit of the index), what the machines to which they lead need, items/min. */
  readonly covers: readonly Rational[];
}

/** Feeds and makers that lead to the same machines. */
interface Way {
  readonly takers: readonly string[];
  readonly ids: readonly string[];
  /** Items/min that they give whatever is needed. */
  readonly statedPerMin: Rational;
}

function suppliesOfKind(plant: Plant, item: string): Supply[] {
  const needs = perMachine(plant, item, "takes");
  const makes = perMachine(plant, item, "makes");
  const feeds = plant.feeds.filter(({ items }) => items.some((one) => one.item === item));
  const given = new Map(makes);
  for (const feed of feeds) {
    const count = feed.items.find((one) => one.item === item)?.count ?? 0;
    given.set(feed.id, feed.ofNeed === null ? givenBy(feed, count) : ZERO);
  }
  return apart(waysFor(plant, item, [...needs.keys()], given)).map((ways): Supply => {
    const wayOf = new Map(ways.flatMap(({ ids }, w) => ids.map((id) => [id, w])));
    const needOf = (takers: Iterable<string>): Rational => sum([...takers].map((id) => needs.get(id) ?? ZERO));
    const sets = ways.length > MOST_WAYS ? 0 : 2 ** ways.length;
    return {
      machines: new Set(ways.flatMap(({ takers }) => takers)),
      asked: feeds.filter(({ id, ofNeed }) => ofNeed !== null && wayOf.has(id)),
      makers: [...makes.keys()].filter((id) => wayOf.has(id)),
      ways,
      wayOf,
      covers: Array.from({ length: sets }, (_, set) =>
        needOf(new Set(ways.flatMap(({ takers }, w) => (isIn(w, set) ? takers : [])))),
      ),
    };
  });
}

function waysFor(plant: Plant, item: string, takers: readonly string[], given: ReadonlyMap<string, Rational>): Way[] {
  const takersFrom = reaching(plant, item, takers);
  const byTakers = new Map<readonly string[], { takers: readonly string[]; ids: string[]; statedPerMin: Rational }>();
  for (const [id, perMin] of given) {
    const own = takersFrom(id);
    const way = byTakers.get(own) ?? { takers: own, ids: [], statedPerMin: ZERO };
    way.ids.push(id);
    way.statedPerMin = way.statedPerMin.add(perMin);
    byTakers.set(own, way);
  }
  return [...byTakers.values()].filter((way) => way.takers.length > 0);
}

/** Ways that have a machine in common, directly or by others, together. */
function apart(ways: readonly Way[]): Way[][] {
  let groups: { ways: Way[]; machines: ReadonlySet<string> }[] = [];
  for (const way of ways) {
    const own = groups.filter(({ machines }) => way.takers.some((taker) => machines.has(taker)));
    const others = groups.filter((group) => !own.includes(group));
    const machines = new Set([...own.flatMap((group) => [...group.machines]), ...way.takers]);
    groups = [...others, { ways: [...own.flatMap((group) => group.ways), way], machines }];
  }
  return groups.map((group) => group.ways);
}

function perMachine({ machines }: Plant, item: string, side: "takes" | "makes"): Map<string, Rational> {
  return new Map(
    machines.flatMap(({ members, speeds, cycleMin, [side]: counts }) => {
      const count = counts.find((one) => one.item === item)?.count;
      if (count === undefined) return [];
      return members.map(
        (id, m) =>
          [
            id,
            whole(count)
              .mul(speeds[m] ?? whole(1))
              .div(cycleMin),
          ] as const,
      );
    }),
  );
}

function givenBy({ items, profile, batch }: Feed, count: number): Rational {
  const last = profile.at(-1)?.ratePerMin ?? ZERO;
  const perMin = batch === null ? last : smaller(last, whole(batch.items).div(batch.everyMin));
  return perMin.mul(whole(count)).div(sum(items.map((one) => whole(one.count))));
}

/** Beyond so many, nobody keeps account of who feeds whom. */
const MOST_WAYS = 10;

function isIn(way: number, set: number): boolean {
  return ((set >> way) & 1) === 1;
}

function needOfAll(covers: readonly Rational[]): Rational {
  return covers.at(-1) ?? ZERO;
}

/**
 * How much of what is given can come to machines that need it: the greatest flow, by the least cut (L. R. Ford, D. R.
 * Fulkerson, "Maximal flow through a network", Canadian Journal of Mathematics 8, 1956; from memory).
 */
function usable(covers: readonly Rational[], givenPerMin: readonly Rational[]): Rational {
  return covers
    .map((needed, set) => sum(givenPerMin.filter((_, way) => !isIn(way, set))).add(needed))
    .reduce(smaller, sum(givenPerMin));
}

/** From a feed or machine by lines to those machines that take the kind, in file order; equal lists are the same one. */
function reaching(
  { machines, lines }: Plant,
  item: string,
  takers: readonly string[],
): (id: string) => readonly string[] {
  const members = new Map(machines.map((group) => [group.id, group.members]));
  const onward = new Map<string, string[]>();
  for (const line of lines) {
    for (const [from, to] of stepsOf(line, item, (name) => members.get(name) ?? [name])) {
      const steps = onward.get(from);
      if (steps === undefined) onward.set(from, [to]);
      else steps.push(to);
    }
  }
  const known = new Map<string, readonly string[]>();
  const once = (key: string, make: () => readonly string[]): readonly string[] => {
    const list = known.get(key) ?? make();
    known.set(key, list);
    return list;
  };
  return (id) => {
    const first = onward.get(id) ?? [];
    return once(`by ${first.join()}`, () => {
      const found = reached(first);
      return once(`to ${found.join()}`, () => found);
    });
  };

  function reached(first: readonly string[]): string[] {
    const met = new Set(first);
    for (const at of met) {
      // A set goes on to what is added while it is gone through; a machine keeps what it is given.
      if (isWithin(at)) for (const next of onward.get(at) ?? []) met.add(next);
    }
    return takers.filter((one) => met.has(one));
  }
}

type Step = readonly [from: string, to: string];

/** Of a custom line its belts, of any other its sources to its middle, and from there to its consumers. */
function stepsOf(line: Line, item: string, membersOf: (name: string) => readonly string[]): Step[] {
  if (line.layout !== "custom") {
    const middle = within(line, "");
    const sources = line.from.flatMap(membersOf).map((id): Step => [id, middle]);
    return [...sources, ...line.to.flatMap(membersOf).map((id): Step => [middle, id])];
  }
  const junctions = new Set([...line.dividers, ...line.merges].map(({ id }) => id));
  const nameOf = (id: string): string => (junctions.has(id) ? within(line, id) : id);
  return line.belts
    .filter(({ only }) => only === null || only.includes(item))
    .map(({ from, to }): Step => [nameOf(from), nameOf(to)]);
}

/** No name in a file holds a space. */
function within(line: Line, name: string): string {
  return `${line.id} ${name}`;
}

function isWithin(name: string): boolean {
  return name.includes(" ");
}
