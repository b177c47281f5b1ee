/** Tactics that are said not to win: without them a comparison comes to the same. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { whole, ZERO } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import type { Tactic } from "../../src/scenario/tactic.ts";
import { comparisonOf } from "../../src/study/comparison/compare.ts";
import { knownTactics } from "../../src/study/comparison/standard-tactics.ts";
import { NO_TACTIC, type Played, play, UnplayableError } from "../../src/study/play.ts";
import { thatMayWin } from "../../src/study/recommended/may-win.ts";
import { cases } from "../plants/cases.ts";
import { plant } from "./layouts-plants.ts";

/** Each granted or not, by itself. */
const MEANS = [
  "levels: movable",
  "branches: variable",
  "start: together",
  "feed: { to: 110 %, for: 10 min }",
  "second-feed: { at: m-2 }",
  "dividers: switched",
  "hands: { items: 20, rate: 90/min, while: before }",
  "hands: { items: 60, rate: 20/min, while: stopped }",
  "hands: { items: 15, rate: 60/min, while: running }",
];

/** Hands that come late, that put off the start by more than a shift, and that find little room. */
const OWN = `tactics:
  late: { prefill: full, by-hand: 1/h, while: running }
  slow: { prefill: full, by-hand: 2/h }
  low-by-hand: { prefill: { m: 2 }, by-hand: 90/min, while: running, low-level: { at: 1 } }`;

const plants = fc
  .record({
    count: fc.integer({ min: 2, max: 4 }),
    feed: fc.constantFrom("15/min", "45/min", "75/min"),
    ends: fc.nat(4).map((one) => one === 0),
    cycle: fc.constantFrom("4 s", "3.1 s"),
    minutes: fc.constantFrom(3, 40, 480, 540),
    means: fc.subarray(MEANS, { maxLength: 3 }),
    hasOwn: fc.boolean(),
    limited: fc.boolean(),
  })
  .map(({ minutes, means, hasOwn, limited, ends, ...given }): Scenario => {
    const granted = [...new Map(means.map((one) => [one.split(":")[0], one])).values()];
    const more = [
      ...(granted.length === 0 ? [] : [`means:\n${granted.map((one) => `  ${one}`).join("\n")}`]),
      ...(limited ? ["limits: { hold-up: { can: 30 } }"] : []),
      ...(hasOwn ? [OWN] : []),
    ];
    const scenario = { ...plant({ ...given, more: more.join("\n") }), horizonMin: whole(minutes) };
    const end = { fromMin: whole(2), ratePerMin: ZERO };
    const feeds = scenario.feeds.map((feed) => ({ ...feed, profile: [...feed.profile, end] }));
    return ends ? { ...scenario, feeds } : scenario;
  });

function allPlayed(scenario: Scenario, tactics: readonly Tactic[]): Played[] {
  return tactics.flatMap((tactic) => {
    try {
      return [play(scenario, tactic)];
    } catch (error) {
      if (error instanceof UnplayableError) return [];
      throw error;
    }
  });
}

/** The winner, and what is told of it beside its place among the others. */
function won(scenario: Scenario, played: readonly Played[]) {
  const { winner, tactics } = comparisonOf(scenario, played);
  const row = tactics.find(({ id }) => id === winner);
  return row && { ...row, undominated: null, beaten_by: null };
}

const PLANTS = cases(12);

test("random chains, means and horizons: the winner and its figures are those of all tactics", () => {
  let [skipped, wins] = [0, 0];
  for (const scenario of fc.sample(plants, { numRuns: PLANTS, seed: 11 })) {
    const none = play(scenario, NO_TACTIC);
    const tactics = knownTactics(scenario);
    const may = thatMayWin(scenario, none, tactics);
    const all = won(scenario, [none, ...allPlayed(scenario, tactics)]);
    expect({ scenario, won: won(scenario, [none, ...allPlayed(scenario, may)]) }).toEqual({ scenario, won: all });
    skipped += tactics.length - may.length;
    if (all !== undefined && all.id !== NO_TACTIC.id) wins++;
  }
  // Of some 25 each.
  expect(skipped).toBeGreaterThan(8 * PLANTS);
  expect(wins).toBeGreaterThan(PLANTS / 10);
}, 1_200_000);

test.each([
  [59, ["late"]],
  [61, []],
])("hands that come after the end, at 60 of %s min, ask for nothing, so that they may win", (minutes, late) => {
  const scenario = { ...plant({ more: OWN }), horizonMin: whole(minutes) };
  const ids = thatMayWin(scenario, play(scenario, NO_TACTIC), knownTactics(scenario)).map(({ id }) => id);
  expect(ids).toEqual([...late, "slow", "fill-then-go", "own-fill-then-go", "tail-starts-first", "head-starts-first"]);
});
