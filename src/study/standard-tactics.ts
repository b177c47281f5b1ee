/** The whole set of tactics with sensible defaults for a line, for those that the file does not declare. */
import { expand } from "../network/expand.ts";
import { feedingOrder } from "../network/feeding-order.ts";
import { rational, whole } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Among, Amount, Prefill, Tactic } from "../scenario/tactic.ts";
import { NO_TACTIC } from "./play.ts";

/** Hands place one item a second; common practice, no source. */
const BY_HAND_PER_MIN = whole(60);
const WHILE_MIN = whole(10);
const EVERY_MIN = rational("1/4");
const SHARE_OF_LEVEL = 0.2;

export function standardTactics(scenario: Scenario): Tactic[] {
  const order = feedingOrder(scenario, expand(scenario));
  const third = Math.max(1, Math.ceil(Math.max(...order.map((machines) => machines.length), 1) / 3));
  const least = Math.min(...scenario.machines.flatMap(({ infeed }) => infeed.map(({ count }) => count)));
  const level = Math.max(1, Math.round(least * SHARE_OF_LEVEL));
  const all: Among = { which: "all" };
  const stocked = (among: Among, amount: Amount, more: Partial<Prefill> = {}): Prefill => {
    return { amounts: { among, amount }, belts: false, byHandPerMin: null, while: "stopped", ...more };
  };
  const tactic = (id: string, parts: Partial<Tactic>): Tactic => ({ ...NO_TACTIC, ...parts, id });
  return [
    tactic("stocked", { prefill: stocked(all, null) }),
    tactic("stocked-by-hand", { prefill: stocked(all, null, { byHandPerMin: BY_HAND_PER_MIN }) }),
    tactic("stocked-beside", { prefill: stocked(all, null, { byHandPerMin: BY_HAND_PER_MIN, while: "running" }) }),
    tactic("tail-stocked", { prefill: stocked({ which: "last", count: third }, null) }),
    tactic("half-stocked", { prefill: stocked(all, Math.max(1, Math.floor(least / 2))) }),
    tactic("fill-then-go", { hold: { until: "all-full", release: "together", everyMin: whole(0) } }),
    tactic("own-fill-then-go", { hold: { until: "own-full", release: "together", everyMin: whole(0) } }),
    tactic("tail-starts-first", { stagger: { first: "tail", everyMin: EVERY_MIN } }),
    tactic("head-starts-first", { stagger: { first: "head", everyMin: EVERY_MIN } }),
    tactic("boosted", { boost: { factor: rational("6/5"), forMin: WHILE_MIN } }),
    tactic("low-level", { lowLevel: { level, among: all, forMin: null } }),
    tactic("metered", { metered: { factor: rational("21/20") } }),
    tactic("far-end-first", { farEndFirst: { until: "tail-full" } }),
    tactic("second-feed", { secondFeed: { share: rational("1/3"), at: twoThirdsAlong(order), forMin: WHILE_MIN } }),
  ];
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
