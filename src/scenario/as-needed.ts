/**
 * Feeds that give what is needed: the need of the machines that their lines lead to, at full speed, less what other feeds
 * and machines give, in equal parts where several are to give it.
 */
import { type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import type { Feed, FeedStep, Line, MachineGroup, Scenario } from "./scenario.ts";

/** Where feeds of a kind and the machines that take it are joined by lines, perhaps by several. */
interface Supply {
  readonly feeds: readonly Feed[];
  /** Items/min that its machines take when none of them ever waits. */
  readonly neededPerMin: Rational;
  /** Items/min that other feeds, and machines whose products its lines collect, give. */
  readonly givenPerMin: Rational;
}

export type NeedProblem = "nothing-needed" | "enough-given";

type Plant = Pick<Scenario, "feeds" | "machines" | "lines">;

/** The feeds with the rates that are needed. */
export function fedAsNeeded<P extends Plant>(plant: P): P {
  if (plant.feeds.every(({ ofNeed }) => ofNeed === null)) return plant;
  const feeds = plant.feeds.map((feed) => {
    if (feed.ofNeed === null) return feed;
    const need = needOf(plant, feed);
    return typeof need === "string" ? feed : { ...feed, profile: steady(need.mul(feed.ofNeed)) };
  });
  return { ...plant, feeds };
}

export function steady(ratePerMin: Rational): FeedStep[] {
  return [{ fromMin: ZERO, ratePerMin }];
}

/** What one feed's part of the need is, items/min, whatever share of it the feed is to give; or why there is none. */
export function needOf(plant: Plant, feed: Feed): Rational | NeedProblem {
  const { feeds, neededPerMin, givenPerMin } = supplyOf(plant, feed);
  if (neededPerMin.equals(0)) return "nothing-needed";
  const left = neededPerMin.sub(givenPerMin);
  return left.compare(0) <= 0 ? "enough-given" : left.div(whole(Math.max(1, feeds.length)));
}

/** `feeds`: those that are to give what is needed. */
function supplyOf({ feeds, machines, lines }: Plant, { id, items }: Feed): Supply {
  const [kind] = items;
  const memberOf = membership(machines);
  const joined = joinedLines(
    lines.map((line) => endsOf(line, memberOf)),
    id,
  );
  const takers = new Set(joined.flatMap(({ to }) => to));
  const givers = new Set(joined.flatMap(({ from }) => from));
  const others = feeds.filter((feed) => givers.has(feed.id) && feed.items.some(({ item }) => item === kind?.item));
  const ratesOf = (ids: ReadonlySet<string>, counts: (group: MachineGroup) => MachineGroup["takes"]): Rational =>
    sum(
      machines.flatMap((group) => {
        const each = counts(group).find(({ item }) => item === kind?.item)?.count ?? 0;
        return group.members.flatMap((member, m) =>
          ids.has(member) && each > 0
            ? whole(each)
                .mul(group.speeds[m] ?? whole(1))
                .div(group.cycleMin)
            : [],
        );
      }),
    );
  return {
    feeds: others.filter(({ ofNeed }) => ofNeed !== null),
    neededPerMin: ratesOf(takers, ({ takes }) => takes),
    givenPerMin: sum(others.map((feed) => (feed.ofNeed === null ? givenBy(feed, kind?.item) : ZERO))).add(
      ratesOf(givers, ({ makes }) => makes),
    ),
  };
}

/** By its last step; vehicles on average; of several kinds the share of one. */
function givenBy({ items, profile, batch }: Feed, item: string | undefined): Rational {
  const count = items.find((one) => one.item === item)?.count ?? 0;
  const share = whole(count).div(sum(items.map((one) => whole(one.count))));
  const perMin = batch === null ? (profile.at(-1)?.ratePerMin ?? ZERO) : whole(batch.items).div(batch.everyMin);
  return perMin.mul(share);
}

interface Ends {
  readonly from: readonly string[];
  readonly to: readonly string[];
}

/** Lines that a feed's line shares machines with, and those that these do. */
function joinedLines(lines: readonly Ends[], feed: string): Ends[] {
  const found = new Set(lines.filter(({ from }) => from.includes(feed)));
  for (let size = 0; size < found.size; ) {
    size = found.size;
    const takers = new Set([...found].flatMap(({ to }) => to));
    for (const line of lines) if (line.to.some((id) => takers.has(id))) found.add(line);
  }
  return [...found];
}

function endsOf(line: Line, memberOf: (name: string) => readonly string[]): Ends {
  if (line.layout !== "custom") return { from: line.from.flatMap(memberOf), to: line.to.flatMap(memberOf) };
  return { from: line.belts.map(({ from }) => from), to: line.belts.map(({ to }) => to) };
}

function membership(machines: readonly MachineGroup[]): (name: string) => readonly string[] {
  const groups = new Map(machines.map(({ id, members }) => [id, members]));
  return (name) => groups.get(name) ?? [name];
}
