/** Tactics side by side: the ranking, what beats what, and the clock that starts when the feed could have. */
import { describe, expect, test } from "vitest";
import { approximate, rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Tactic } from "../../src/scenario/tactic.ts";
import { compareTactics } from "../../src/study/comparison/compare.ts";
import { standardTactics } from "../../src/study/comparison/standard-tactics.ts";
import { play } from "../../src/study/play.ts";
import type { TacticResult } from "../../src/study/results.ts";
import { chainOf, inEvery, played, prefill, scenarioOf, tactic } from "./chains.ts";

const LINE = chainOf({ count: 6, room: 40, minutes: "90" });
const everything = standardTactics(LINE);
const { comparison, curves } = compareTactics(LINE, everything);

const measures = (one: TacticResult): number[] => [
  one.settling_min ?? Infinity,
  one.ramp_up_loss ?? Infinity,
  one.items_handled,
  one.hold_up_peak,
];

/** By the definition: nowhere worse, somewhere better. */
function isBeatenBy(one: TacticResult, other: TacticResult): boolean {
  const pairs = measures(one).map((own, i): [number, number] => [own, measures(other)[i] ?? NaN]);
  return !pairs.some(([own, its]) => its > own) && pairs.some(([own, its]) => its < own);
}

test("every tactic is there once, and the baseline", () => {
  const rows = comparison.tactics.map(({ id }) => id);
  const alike = comparison.tactics.flatMap(({ same_as: others }) => others);
  expect([...rows, ...alike].toSorted()).toEqual(["none", ...everything.map(({ id }) => id)].toSorted());
  expect(curves.map(({ id }) => id).toSorted()).toEqual(rows.toSorted());
  expect(compareTactics(LINE, []).comparison.tactics).toMatchObject([
    { id: "none", undominated: true, items_handled: 0 },
  ]);
});

test("what is beaten is beaten by the definition, and by the one named", () => {
  const { tactics } = comparison;
  const beaten = tactics.filter((one) => tactics.some((other) => isBeatenBy(one, other)));
  expect(tactics.filter(({ undominated }) => !undominated)).toEqual(beaten);
  expect(beaten.length).toBeGreaterThan(0);
  for (const one of tactics) {
    const by = tactics.find(({ id }) => id === one.beaten_by);
    expect(by === undefined ? one.undominated : isBeatenBy(one, by)).toBe(true);
  }
});

test("first what is recommended, then the ones that nothing beats, each part by loss, then settling, handling, peak", () => {
  const { tactics, winner } = comparison;
  const key = (one: TacticResult) => {
    const [settling = 0, loss = 0, ...more] = measures(one);
    return [one.undominated ? 0 : 1, loss, settling, ...more];
  };
  for (const [i, one] of tactics.slice(2).entries()) {
    const [before, after] = [key(tactics[i + 1] ?? one), key(one)];
    const differs = before.findIndex((value, k) => value !== after[k]);
    if (differs >= 0) expect(before[differs]).toBeLessThan(after[differs] ?? NaN);
  }
  expect(winner).toBe(tactics[0]?.id);
});

test("the same on every run, whatever the order of the others", () => {
  expect(compareTactics(LINE, everything)).toEqual({ comparison, curves });
  const reversed = compareTactics(LINE, everything.toReversed()).comparison.tactics;
  const byId = (tactics: readonly TacticResult[]) =>
    Object.fromEntries(tactics.map((one) => [one.id, { ...one, beaten_by: null }]));
  expect(byId(reversed)).toEqual(byId(comparison.tactics));
});

test("made counts products of the first minutes, and the difference from doing nothing", () => {
  const none = comparison.tactics.find(({ id }) => id === "none");
  for (const { id, made, made_more: more } of comparison.tactics) {
    const curve = curves.find((one) => one.id === id);
    expect(curve?.made.toSorted((a, b) => a - b)).toEqual(curve?.made);
    for (const minutes of ["min_10", "min_30", "min_60"] as const) {
      expect(more[minutes]).toBe((made[minutes] ?? NaN) - (none?.made[minutes] ?? NaN));
    }
  }
  // From settling on, a line makes its settled output: in whole periods, to the item.
  const settledPerMin = comparison.settled_per_min ?? NaN;
  expect((none?.made.min_60 ?? NaN) - (none?.made.min_30 ?? NaN)).toBe(30 * settledPerMin);
  const short = compareTactics(chainOf({ count: 3, minutes: "20" }), []).comparison.tactics[0];
  expect([short?.made.min_30, short?.made.min_60]).toEqual([null, null]);
});

describe("a start that waits for the hands", () => {
  const stocked = (byHand: string | null) =>
    prefill(inEvery(40), { byHandPerMin: byHand === null ? null : rational(byHand) });
  const own = (results: readonly TacticResult[], id: string) => results.find((one) => one.id === id);

  test.each(["60", "97.3", "7"])("at %s a minute, shifts all by the time they take", (byHand) => {
    const waits = approximate(whole(6 * 40).div(rational(byHand)));
    const at = played(LINE, stocked(null)).outcome;
    const late = played(LINE, stocked(byHand)).outcome;
    expect(late.settling_min).toBeCloseTo((at.settling_min ?? NaN) + waits, 9);
    expect(late.first_product_min).toBeCloseTo((at.first_product_min ?? NaN) + waits, 9);
    expect(late.to_95_min).toBeCloseTo((at.to_95_min ?? NaN) + waits, 9);
    expect(late.ramp_up_loss).toBeCloseTo((at.ramp_up_loss ?? NaN) + waits * 144, 6);
    expect([late.items_handled, late.hold_up_peak]).toEqual([at.items_handled, at.hold_up_peak]);
  });

  test("makes in the first minutes what the other makes in so many less", () => {
    // 240 items at 12 a minute are 20 minutes.
    const tactics: Tactic[] = [tactic({ id: "at-once", ...stocked(null) }), tactic({ id: "late", ...stocked("12") })];
    const { comparison: both } = compareTactics(LINE, tactics);
    const [atOnce, late] = ["at-once", "late"].map((id) => own(both.tactics, id)?.made);
    expect(late?.min_10).toBe(0);
    expect(late?.min_30).toBe(atOnce?.min_10);
  });
});

test("hands beside the running line count what they have placed, and delay nothing", () => {
  const beside = prefill(inEvery(10), { byHandPerMin: whole(300), while: "running" });
  const { itemsHandled, startsAfterMin } = played(LINE, beside);
  expect(startsAfterMin).toBe(0);
  expect(itemsHandled).toBeGreaterThan(0);
  expect(itemsHandled).toBeLessThanOrEqual(60);
});

test("hands beside the line that may fill all four machines lose less than for the first three alone, at any pace", () => {
  const four = chainOf({ count: 4, room: 40 });
  for (const pace of [15, 30, 45, 60]) {
    const [all, three] = (["all", "first"] as const).map((which) => {
      const among = which === "all" ? { which } : { which, count: 3 };
      return played(four, prefill({ among, amount: null }, { byHandPerMin: whole(pace), while: "running" }));
    });
    expect(all?.itemsHandled).toBeGreaterThan(three?.itemsHandled ?? Infinity);
    expect(all?.result.output.ramp_up_loss).toBeLessThan(three?.result.output.ramp_up_loss ?? 0);
  }
});

test("nothing done is the baseline, in whatever words", () => {
  const idle = tactic({ id: "idle", hold: { until: { afterMin: ZERO }, release: "together", everyMin: ZERO } });
  const { tactics, winner } = compareTactics(LINE, [idle]).comparison;
  expect([tactics.length, winner]).toEqual([1, "none"]);
  expect(tactics[0]).toMatchObject({ id: "none", same_as: ["idle"] });
});

/** At this tick, with so little room, a machine now and then misses an item: this line makes 28.5/min, not 30, for good. */
test("what makes the line slower for good is not the choice, however soon it settles", () => {
  const line = {
    ...scenarioOf({
      machines: [
        { needPerMin: 6, takes: 2, room: 35 },
        { needPerMin: 24, takes: 1, room: 11 },
      ],
      rule: "even",
      supply: "1",
      belts: "none",
    }),
    tickS: rational("1"),
  };
  const low = tactic({ id: "low", lowLevel: { level: 1, among: { which: "all" }, forMin: null } });
  expect(played(line).result.output.settled_per_min).toBe("30");
  expect(played(line, low).result.output.settled_per_min).toBe("57/2");
  const { tactics, winner } = compareTactics(line, [low]).comparison;
  expect(winner).toBe("none");
  expect(tactics.find(({ id }) => id === "none")?.beaten_by).toBeNull();
  expect(tactics.find(({ id }) => id === "low")?.slower_for_good).toBe(true);
});

test("a vehicle comes when it comes, however late hands let the line start", () => {
  const made = (minutes: number): number => {
    const read = readScenario(`
horizon: ${minutes} min
feeds: { lorry: { item: pouch, batch: { every: 20 min, items: 100, rate: 100/min } } }
machines: { packer: { cycle: 0.5 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 60 } }
lines: { main: { layout: chain, from: lorry, to: packer, belt: none } }
tactics: { by-hand: { prefill: full, by-hand: 12/min } }
`);
    const [filled] = read.ok ? read.scenario.tactics : [];
    if (!read.ok || filled === undefined) throw new Error("no tactic");
    return play(read.scenario, filled).result.output.made;
  };
  // Hands need five minutes, so that the second vehicle comes fifteen after the start.
  expect([14, 17].map(made)).toEqual([160, 260]);
});
