/**
 * Whether the belts of a tree or loop can carry what is to pass them, before anything is built. Nothing held up, the first
 * stretch carries what comes in and what comes back, and each other belt its part of that.
 */
import { withoutFactors } from "../quantity/counts.ts";
import { larger, type Rational, smaller, sum, whole, ZERO } from "../quantity/rational.ts";
import type { BeltSpec, Feed } from "../scenario/scenario.ts";
import { kindsCarried, membersOf, type Plant } from "./collect.ts";
import { leadsToOutlets } from "./needs.ts";
import { type SharedLine, type Sharing, sharedElements } from "./shared-line.ts";
import { circulation, type Shares, sharesOfCounts, type Ways } from "./shares.ts";

export interface BeltLoad {
  readonly connection: string;
  readonly flowPerMin: Rational;
  /** What the belt carries at most. */
  readonly ratePerMin: Rational;
  /** The most that may come in for this belt to carry its part. */
  readonly greatestInputPerMin: Rational;
}

/**
 * What comes in at most for long: all that feeds and machines offer, and no more than machines need.
 * @param needs by consumer
 */
export function inputOf(line: Pick<SharedLine, "from" | "to">, needs: readonly Rational[], plant: Plant): Rational {
  const offered = offeredTo(line, plant, greatestRate);
  return leadsToOutlets(membersOf(line.to, plant), plant) ? offered : smaller(offered, sum(needs));
}

/** What each consumer takes at most, items/min: outlets alone all that comes in. @param needs as shares go by them */
export function takenAtMost(
  line: Pick<SharedLine, "from" | "to">,
  needs: readonly Rational[],
  plant: Plant,
): readonly Rational[] {
  const input = inputOf(line, needs, plant);
  const areOutlets = leadsToOutlets(membersOf(line.to, plant), plant);
  return areOutlets && !input.equals(ZERO) ? needs.map(() => input) : needs;
}

/**
 * By the line's feeds, and by its machines if they never wait.
 * @param rateOf what counts of a feed
 */
export function offeredTo(
  { from, to }: Pick<SharedLine, "from" | "to">,
  plant: Plant,
  rateOf: (feed: Feed) => Rational,
): Rational {
  const kinds = kindsCarried({ from, to, end: { kind: "stop" } }, plant);
  return sum(membersOf(from, plant).map((source) => mostFrom(source, kinds, plant, rateOf)));
}

/** Items/min of some kinds that a feed releases or a machine makes at most. */
export function mostFrom(
  source: string,
  kinds: ReadonlySet<string>,
  plant: Plant,
  rateOf: (feed: Feed) => Rational = greatestRate,
): Rational {
  const feed = plant.feeds.get(source);
  if (feed) return rateOf(feed);
  const group = plant.groups.get(source);
  const speed = group?.speeds[group.members.indexOf(source)];
  if (group === undefined || speed === undefined) return ZERO;
  const made = group.makes.filter(({ item }) => kinds.has(item)).reduce((all, { count }) => all + count, 0);
  return whole(made).mul(speed).div(group.cycleMin);
}

function greatestRate({ profile }: Feed): Rational {
  return profile.map(({ ratePerMin }) => ratePerMin).reduce(larger, ZERO);
}

/** Items/min: its rate, or what has room on it over its length, if that is less. */
export function carriedAtMost({ ratePerMin, capacity, transitMin }: BeltSpec): Rational {
  return transitMin.n === 0n ? ratePerMin : smaller(ratePerMin, whole(capacity).div(transitMin));
}

/** The belts of the dividing side with what is to pass them, in order. @param input what comes in */
export function beltLoads(
  line: SharedLine,
  sharing: Extract<Sharing, { ok: true }>,
  plant: Plant,
  input = inputOf(line, sharing.needs, plant),
): BeltLoad[] {
  const { connections, shares } = sharedElements(line, sharing, plant);
  return connections.flatMap(({ id, belt }) => {
    const share = shares.get(id);
    if (belt === null || share === undefined) return [];
    const perInput = share.mul(circulation(sharing.shares));
    const ratePerMin = carriedAtMost(belt);
    const greatestInputPerMin = ratePerMin.div(perInput);
    return [{ connection: id, flowPerMin: input.mul(perInput), ratePerMin, greatestInputPerMin }];
  });
}

/** What a belt is to carry beyond its rate; below zero where it has headroom. */
export function lackOf({ flowPerMin, ratePerMin }: Pick<BeltLoad, "flowPerMin" | "ratePerMin">): Rational {
  return flowPerMin.sub(ratePerMin);
}

/** Of the belts that are too slow, the one that lacks the most under each key. */
export function worstByKey<L extends BeltLoad>(loads: readonly L[], keyOf: (connection: string) => string): L[] {
  const worst = new Map<string, L>();
  for (const load of loads) {
    const key = keyOf(load.connection);
    const before = worst.get(key);
    if (lackOf(load).compare(before ? lackOf(before) : ZERO) > 0) worst.set(key, load);
  }
  return [...worst.values()];
}

/**
 * The first consumer without which, fed by itself, the others' first stretch carries no more than a rate; `null` if there is
 * none, or if a tree of the others could not be drawn up.
 */
export function splitOff(line: SharedLine, shares: Shares, input: Rational, ratePerMin: Rational): number | null {
  const tried = new Set<number>();
  for (const [index, count] of shares.counts.entries()) {
    if (shares.counts.length < 2 || tried.has(count)) continue;
    tried.add(count);
    const rest = sharesOfCounts(shares.counts.toSpliced(index, 1), line.ways);
    if (line.layout === "tree" && rest.odd !== 1) continue;
    const left = input.mul(whole(shares.total - count)).div(whole(shares.total));
    if (left.mul(circulation(rest)).compare(ratePerMin) <= 0) return index;
  }
  return null;
}

/** Numbers of equal consumers for which a tree can be drawn up: the nearest below and above. */
export function nearestEqual(count: number, ways: Ways): readonly [number, number] {
  let [below, above] = [count, count];
  while (withoutFactors(below, ways) !== 1) below--;
  while (withoutFactors(above, ways) !== 1) above++;
  return [below, above];
}
