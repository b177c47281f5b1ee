/** From a draft to what is asked of each group and each feed. */

import { offeredPerMin, sharesOf } from "../../network/feeds.ts";
import { larger, ONE, type Rational, rational, smaller, sum, whole, ZERO } from "../../quantity/rational.ts";
import { parseQuantity } from "../../quantity/units.ts";
import type { Open } from "../../scenario/draft.ts";
import type { Feed, MachineGroup, Scenario } from "../../scenario/scenario.ts";
import { balanceOf, countIn, flowOf, kindsIn, ofKind, type Recipes, unbalanced, wantedOf } from "./balance.ts";
import { type Capacity, fewestMachines } from "./fewest-machines.ts";
import type { Choice } from "./size-results.ts";

export interface Draft {
  readonly scenario: Scenario;
  readonly open: Open;
}

export interface Demand {
  readonly counts: readonly number[];
  /** All machines of a group together. */
  readonly cyclesPerMin: readonly Rational[];
  /** What they do at least, whatever the plan. */
  readonly leastPerMin: readonly Rational[];
  readonly proved: boolean;
  /** Items/min that each feed must give, in file order. */
  readonly feedsPerMin: readonly Rational[];
}

/** `left-over`: more of a kind is made than is taken, with nowhere to go. `short`: recipes use up more than they make. */
export interface SizeRefusal {
  readonly why: "nothing-wanted" | "left-over" | "short";
  readonly items: readonly { readonly item: string; readonly perMin: Rational }[];
}

/** @param availability of each group's machines: the share of the time for which they are not down */
export function demandOf(
  { scenario, open }: Draft,
  availability: (group: MachineGroup) => Rational = () => ONE,
): Demand | SizeRefusal {
  const recipes = recipesOf({ scenario, open });
  if (scenario.wanted.length === 0) return { why: "nothing-wanted", items: [] };
  const capacities = scenario.machines.map((group): Capacity => {
    return {
      perMachine: perMachine(group).mul(availability(group)),
      least: open.counts.has(group.id) ? 0 : group.members.length,
    };
  });
  const plan = fewestMachines(balanceOf(recipes), capacities);
  if (plan === null) {
    const items = unbalanced(recipes);
    return { why: items.some(({ perMin }) => perMin.compare(0) < 0) ? "short" : "left-over", items };
  }
  return { ...plan, feedsPerMin: scenario.feeds.map((feed) => feedRate(feed, { scenario, open }, plan.cyclesPerMin)) };
}

/** Cycles per minute of one machine; where speeds differ, the mean. */
export function perMachine({ cycleMin, speeds }: MachineGroup): Rational {
  return sum(speeds)
    .div(whole(Math.max(1, speeds.length)))
    .div(cycleMin);
}

function recipesOf({ scenario, open }: Draft): Recipes {
  const feeds = scenario.feeds.filter(({ id }) => !open.returns.has(id));
  const { machines: groups, outlets, wanted } = scenario;
  const mostFed = (item: string): Rational | null => {
    const own = feeds.filter(({ items }) => countIn(items, item) > 0);
    return own.some(({ id }) => open.feeds.has(id)) ? null : sum(own.map((feed) => givenOf(feed, item)));
  };
  return { groups, feeds, outlets, wanted, mostFed };
}

/** Items/min of a kind that a feed gives as stated. */
function givenOf(feed: Feed, item: string): Rational {
  const share = sharesOf(feed).find((one) => one.item === item)?.share ?? ZERO;
  return offeredPerMin(feed).mul(share);
}

/**
 * What machines take of a kind and do not make; a feed that stands for a way back gives what is made there. Stated feeds give
 * their part first, where others give what is needed; all else is shared in equal parts, or in the proportions stated.
 */
function feedRate(feed: Feed, draft: Draft, cyclesPerMin: readonly Rational[]): Rational {
  const { scenario, open } = draft;
  const back = open.returns.get(feed.id);
  const rates = sharesOf(feed).map(({ item, share }) => {
    const taken = flowOf(item, "takes", scenario.machines, cyclesPerMin);
    const made = flowOf(item, "makes", scenario.machines, cyclesPerMin);
    const collected = madeOnward(item, draft, cyclesPerMin);
    if (back !== undefined) return made.sub(collected);
    const { isMade } = ofKind(item, { ...scenario, groups: scenario.machines });
    const wanted = isMade ? wantedOf(item, scenario.wanted) : ZERO;
    const needed = larger(taken.add(wanted).sub(made), ZERO);
    const feeds = scenario.feeds.filter(({ id, items }) => countIn(items, item) > 0 && !open.returns.has(id));
    const asked = feeds.filter(({ id }) => open.feeds.has(id));
    const stated = sum(feeds.filter((one) => !asked.includes(one)).map((one) => givenOf(one, item)));
    const own = givenOf(feed, item);
    const isAsked = open.feeds.has(feed.id);
    if (isAsked) return larger(needed.sub(stated), ZERO).div(whole(asked.length)).div(share);
    const least = asked.length > 0 ? smaller(needed, stated) : needed;
    return stated.n === 0n ? ZERO : least.mul(own).div(stated).div(share);
  });
  return rates.reduce(larger, ZERO);
}

/** Items/min of a kind by groups whose products some line collects. */
function madeOnward(item: string, { scenario }: Draft, cyclesPerMin: readonly Rational[]): Rational {
  const onward = new Set(
    scenario.lines
      .filter((line) => line.layout !== "custom" && line.to.some((name) => takesKind(name, item, scenario)))
      .flatMap((line) => (line.layout === "custom" ? [] : line.from)),
  );
  return sum(
    scenario.machines.map(({ id, makes }, g) =>
      onward.has(id) ? whole(countIn(makes, item)).mul(cyclesPerMin[g] ?? ZERO) : ZERO,
    ),
  );
}

function takesKind(name: string, item: string, { machines }: Scenario): boolean {
  return machines.some(({ id, members, takes }) => (id === name || members.includes(name)) && countIn(takes, item) > 0);
}

/** "110 % of need", as a share. */
export function shareAsked(text: string): Rational {
  const parsed = parseQuantity("percentage", text.replace(/\s*of need$/, ""));
  return parsed.ok ? parsed.value : rational("1");
}

/** From 1; one more than the latest stage that makes something for a group. What leads back counts as little. */
export function stagesOf({ machines }: Pick<Scenario, "machines">): number[] {
  const known = new Map<string, number>();
  const stageOf = (group: MachineGroup): number => {
    const found = known.get(group.id);
    if (found !== undefined) return found;
    known.set(group.id, 0);
    const before = machines.filter(({ makes }) => makes.some(({ item }) => countIn(group.takes, item) > 0));
    const stage = 1 + Math.max(0, ...before.map(stageOf));
    known.set(group.id, stage);
    return stage;
  };
  return machines.map(stageOf);
}

/** Kinds that several groups make, where it is not given by the recipes how much each makes. */
export function choicesIn({ machines }: Pick<Scenario, "machines">, { cyclesPerMin, leastPerMin }: Demand): Choice[] {
  return kindsIn({ groups: machines }).flatMap((item) => {
    const makers = machines.flatMap(({ makes }, g) => (countIn(makes, item) > 0 ? [g] : []));
    const isOpen = makers.some((g) => (leastPerMin[g] ?? ZERO).compare(cyclesPerMin[g] ?? ZERO) < 0);
    return makers.length > 1 && isOpen ? [{ item, groups: makers.map((g) => machines[g]?.id ?? "") }] : [];
  });
}
