/** The whole set of tactics with sensible defaults for a line, for those that the file does not declare. */
import { expand } from "../../network/expand.ts";
import { feedingOrder } from "../../network/flow-order.ts";
import { total } from "../../quantity/counts.ts";
import { ratio, rational, whole } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import type { FarEndFirst, LowLevel, Metered } from "../../scenario/tactic-parts.ts";
import type { Amount, Prefill } from "../../scenario/tactic-prefill.ts";
import type { Among } from "../../scenario/tactic-shapes.ts";
import { NO_TACTIC } from "../play.ts";
import { BY_HAND_PER_MIN } from "../set-rates.ts";

const WHILE_MIN = whole(10);
const EVERY_MIN = rational("1/4");

/**
 * What the floor grants is used as it is granted: hands at their pace and for no more than they place, feeds as much faster as
 * they can run, the second feed where it can join.
 */
export function standardTactics(scenario: Scenario): Tactic[] {
  const { means, machines } = scenario;
  const tactic = (id: string, parts: Partial<Tactic>): Tactic => ({ ...NO_TACTIC, ...parts, id });
  const boost = means.feed ?? { factor: rational("6/5"), forMin: WHILE_MIN };
  // Without machines there is nothing to fill or to hold.
  if (machines.length === 0) return [tactic("boosted", { boost })];
  const order = feedingOrder(scenario, expand(scenario));
  const longest = Math.max(...order.map((members) => members.length), 1);
  const third = Math.max(1, Math.ceil(longest / 3));
  const rooms = machines.flatMap(({ infeed }) => infeed.map(({ count }) => count));
  const least = Math.min(...rooms);
  const all: Among = { which: "all" };
  const hands = means.hands?.ratePerMin ?? BY_HAND_PER_MIN;
  const before: Partial<Prefill> = means.hands ? { byHandPerMin: hands, while: means.hands.while } : {};
  const stocked = (among: Among, amount: Amount, more: Partial<Prefill> = before): Prefill => {
    return { amounts: { among, amount }, belts: false, byHandPerMin: null, while: "stopped", ...more };
  };
  const middle = {
    ...stocked(all, null),
    amounts: { byMachine: middleThird(order).map((machine) => ({ machine, amount: null })) },
  };
  const levelled = (share: number, forMin: LowLevel["forMin"]): LowLevel => {
    return { level: Math.max(1, Math.round(least * share)), among: all, forMin };
  };
  const farEndFirst: FarEndFirst = { until: "tail-full" };
  const metered = (perCent: bigint): Metered => ({ factor: ratio(perCent, 100n) });
  const ofAll = total(order.flat().map((id) => total(infeedOf(machines, id))));
  const within = means.hands === null ? 0 : Math.floor(means.hands.items / Math.max(1, buffersIn(machines, order)));
  return [
    tactic("stocked", { prefill: stocked(all, null) }),
    tactic("stocked-by-hand", { prefill: stocked(all, null, { byHandPerMin: hands }) }),
    tactic("stocked-beside", { prefill: stocked(all, null, { byHandPerMin: hands, while: "running" }) }),
    tactic("half-stocked", { prefill: stocked(all, Math.max(1, Math.floor(least / 2))) }),
    tactic("head-stocked", { prefill: stocked({ which: "first", count: third }, null) }),
    ...(middle.amounts.byMachine.length > 0 ? [tactic("mid-stocked", { prefill: middle })] : []),
    tactic("tail-stocked", { prefill: stocked({ which: "last", count: third }, null) }),
    ...(within > 0 && means.hands !== null && means.hands.items < ofAll
      ? [tactic("stocked-as-granted", { prefill: stocked(all, within) })]
      : []),
    tactic("fill-then-go", { hold: { until: "all-full", release: "together", everyMin: whole(0) } }),
    tactic("own-fill-then-go", { hold: { until: "own-full", release: "together", everyMin: whole(0) } }),
    tactic("tail-starts-first", { stagger: { first: "tail", everyMin: EVERY_MIN } }),
    tactic("head-starts-first", { stagger: { first: "head", everyMin: EVERY_MIN } }),
    tactic("boosted", { boost }),
    tactic("half-level", { lowLevel: levelled(1 / 2, null) }),
    tactic("quarter-level", { lowLevel: levelled(1 / 4, null) }),
    tactic("metered-100", { metered: metered(100n) }),
    tactic("metered-102", { metered: metered(102n) }),
    tactic("metered-105", { metered: metered(105n) }),
    tactic("far-end-first", { farEndFirst }),
    tactic("second-feed", {
      secondFeed: {
        share: rational("1/3"),
        at: means.secondFeed ?? twoThirdsAlong(order),
        forMin: WHILE_MIN,
      },
    }),
    // Together: what fills the far end sooner with more to fill it with, and low levels that are lifted once all run.
    tactic("low-then-full", { lowLevel: levelled(1 / 4, WHILE_MIN) }),
    tactic("boosted-metered", { boost, metered: metered(102n) }),
    tactic("boosted-far-end", { boost, farEndFirst }),
    tactic("boosted-low-then-full", { boost, lowLevel: levelled(1 / 4, boost.forMin) }),
    tactic("head-stocked-far-end", { prefill: stocked({ which: "first", count: third }, null), farEndFirst }),
  ];
}

function infeedOf(machines: Scenario["machines"], id: string): number[] {
  return machines.find(({ members }) => members.includes(id))?.infeed.map(({ count }) => count) ?? [];
}

function buffersIn(machines: Scenario["machines"], order: readonly (readonly string[])[]): number {
  return total([...new Set(order.flat())].map((id) => infeedOf(machines, id).length));
}

/** Of each line's machines in feeding order; none of a line of two. */
function middleThird(order: readonly (readonly string[])[]): string[] {
  const found = order.flatMap((members) => {
    const third = Math.max(1, Math.ceil(members.length / 3));
    const first = Math.floor((members.length - third) / 2);
    return members.length < 3 ? [] : members.slice(first, first + third);
  });
  return [...new Set(found)];
}

/** The file's own, and the standard ones that it does not name. */
export function knownTactics(scenario: Scenario): Tactic[] {
  const own = new Set(scenario.tactics.map(({ id }) => id));
  return [...scenario.tactics, ...standardTactics(scenario).filter(({ id }) => !own.has(id))];
}

/** The machine from which on the last third of the first line is fed. */
export function twoThirdsAlong([machines = []]: readonly (readonly string[])[]): string | null {
  return machines[Math.floor((2 * machines.length) / 3)] ?? null;
}
