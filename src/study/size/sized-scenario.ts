/** A draft with counts and feeds filled in. */

import { offeredPerMin } from "../../network/feeds.ts";
import { ONE, type Rational, whole, ZERO } from "../../quantity/rational.ts";
import { fedAsNeeded, needsOf, steady } from "../../scenario/as-needed.ts";
import type { CustomLine, Feed, Line, MachineGroup, Scenario } from "../../scenario/scenario.ts";
import { type Demand, type Draft, perMachine, shareAsked } from "./demand.ts";

export interface Fill {
  readonly counts: readonly number[];
  /** Groups that run at the speed that fits. */
  readonly slowed: ReadonlySet<string>;
}

/** Of each group the share of its capacity that is used, all machines together. */
export function busyOf({ machines }: Scenario, counts: readonly number[], { cyclesPerMin }: Demand): Rational[] {
  return machines.map((group, g) => {
    const all = perMachine(group).mul(whole(counts[g] ?? 0));
    return all.n === 0n ? ZERO : (cyclesPerMin[g] ?? ZERO).div(all);
  });
}

/** Belts stay as they are. */
export function filledIn({ scenario, open }: Draft, demand: Demand, { counts, slowed }: Fill): Scenario {
  const busy = busyOf(scenario, counts, demand);
  const machines = scenario.machines.flatMap((group, g) => {
    const count = counts[g] ?? 0;
    const slower = slowed.has(group.id) ? (busy[g] ?? ONE) : ONE;
    return count === 0 ? [] : [counted(group, count, slower, open.counts.has(group.id))];
  });
  const gone = new Set(
    scenario.machines.filter((_, g) => counts[g] === 0).flatMap(({ id, members }) => [id, ...members]),
  );
  const lines = scenario.lines.flatMap((line) => withMembers(line, machines, gone));
  const used = new Set(
    lines.flatMap((line) => (line.layout === "custom" ? line.belts.map(({ from }) => from) : line.from)),
  );
  const plant = {
    ...scenario,
    machines,
    lines,
    random: { ...scenario.random, machines: scenario.random.machines.filter(({ id }) => !gone.has(id)) },
  };
  const feeds = scenario.feeds.flatMap((feed, f) => {
    const neededPerMin = demand.feedsPerMin[f] ?? ZERO;
    return used.has(feed.id) && neededPerMin.n > 0n ? [{ feed, neededPerMin }] : [];
  });
  return fed(
    { ...plant, feeds: feeds.map(({ feed }) => feed) },
    feeds.map(({ neededPerMin }) => neededPerMin),
    open,
  );
}

function counted(group: MachineGroup, count: number, slower: Rational, isOpen: boolean): MachineGroup {
  const isOne = count === 1 && isOpen;
  return {
    ...group,
    members: isOne ? [group.id] : Array.from({ length: count }, (_, i) => `${group.id}-${i + 1}`),
    speeds: Array.from({ length: count }, (_, i) => (group.speeds[i] ?? group.speeds.at(-1) ?? ONE).mul(slower)),
  };
}

/** Where a line names machines of a group one by one, those added come after the last. */
function withMembers(line: Line, machines: readonly MachineGroup[], gone: ReadonlySet<string>): Line[] {
  if (line.layout === "custom") return [line satisfies CustomLine];
  const completed = (names: readonly string[]): string[] => {
    const kept = names.filter((name) => !gone.has(name));
    return machines.reduce<string[]>((list, { id, members }) => {
      const last = list.findLastIndex((name) => name !== id && members.includes(name));
      const missing = members.filter((member) => !list.includes(member));
      return last < 0 || list.includes(id) ? list : list.toSpliced(last + 1, 0, ...missing);
    }, kept);
  };
  const [from, to] = [completed(line.from), completed(line.to)];
  return from.length === 0 || to.length === 0 ? [] : [{ ...line, from, to }];
}

/** Feeds give what is needed where that is at least what they must; else just that. */
function fed(plant: Scenario, neededPerMin: readonly Rational[], open: Draft["open"]): Scenario {
  const enough = (feed: Feed, f: number): boolean => offeredPerMin(feed).compare(neededPerMin[f] ?? ZERO) >= 0;
  const asking = plant.feeds.map((feed, f) => {
    const isAsked = open.feeds.has(feed.id);
    if (!isAsked && !open.returns.has(feed.id) && enough(feed, f)) return feed;
    const ofNeed = isAsked ? shareAsked(open.feeds.get(feed.id) ?? "") : ONE;
    return { ...feed, ofNeed: feed.items.length > 1 ? null : ofNeed, profile: [], batch: null };
  });
  const needs = needsOf({ ...plant, feeds: asking });
  const feeds = asking.map((feed, f) => {
    if (feed.profile.length > 0) return feed;
    const part = feed.items.length > 1 ? "need-apart" : needs.partOf(feed);
    const needed = neededPerMin[f] ?? ZERO;
    // What comes back is just so much, whatever machines could take.
    const isEnough =
      !open.returns.has(feed.id) && typeof part !== "string" && part.mul(feed.ofNeed ?? ONE).compare(needed) >= 0;
    return isEnough ? feed : { ...feed, ofNeed: null, profile: steady(needed) };
  });
  return fedAsNeeded({ ...plant, feeds });
}
