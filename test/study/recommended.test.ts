/** What is worth doing, by hand: a chain of three machines and four tactics, every figure by arithmetic. */

import { describe, expect, test } from "vitest";
import { ratio, whole, ZERO } from "../../src/quantity/rational.ts";
import { askText } from "../../src/report/text/tactic-words.ts";
import type { Means } from "../../src/scenario/means.ts";
import { PLAIN_MEANS } from "../../src/scenario/means.ts";
import { compareTactics } from "../../src/study/comparison/compare.ts";
import { type Grain, recommended, type Start } from "../../src/study/recommended/recommended.ts";
import type { StartPriority, TacticResult } from "../../src/study/results.ts";
import { chainOf, inEvery, prefill, tactic } from "./chains.ts";

/**
 * Three machines of 24 items/min and 60 places each, fed 72/min, without belts. Even dividers: the first machine gets 36/min,
 * which fill its 60 places in 60 / (36 - 24) = 5 min; the other two get 18/min each. So 60/min are made for 5 min, then 72.
 */
const NEED = 24;
const ROOM = 60;
const FILLED_MIN = ROOM / (1.5 * NEED - NEED);
const LINE = chainOf({ count: 3, need: String(NEED), room: ROOM, minutes: "60" });
/** What is made up to the end is what was fed and placed, less what lies in the buffer: the loss is the stock built up. */
const LOST_AS_IT_IS = ROOM;
/** One product a cycle of each machine are equal. */
const ONE_CYCLE = 3;

const STOCKED = tactic({ id: "stocked", ...prefill(inEvery(null)) });
/** 60 items of hands at 30/min while the start waits 2 min: the stock is there, but 2 min of 72/min are not made. */
const ON_THE_CLOCK = tactic({
  id: "on-the-clock",
  ...prefill({ among: { which: "first", count: 1 }, amount: null }, { byHandPerMin: whole(30) }),
});
const LEVEL = 15;
const LOW = tactic({ id: "low", lowLevel: { level: LEVEL, among: { which: "all" }, forMin: null } });
const BOOST_FOR_MIN = 5;
/**
 * Feeds at 80/min for 5 min: 40 go to the first machine, which is full at 60 / (40 - 24) = 3.75 min, and 20 to each of the
 * others; from then to the end of the boost the others have 28 each, 4 more than they need, and keep 1.25 min of that.
 */
const BOOSTED = tactic({ id: "boosted", boost: { factor: ratio(10n, 9n), forMin: whole(BOOST_FOR_MIN) } });

const GRANTED: Means = {
  ...PLAIN_MEANS,
  hands: { items: 60, ratePerMin: whole(30), while: "stopped" },
  levels: true,
  feed: { factor: ratio(10n, 9n), forMin: whole(5) },
};

function compared(means: Means, priority: StartPriority = "loss") {
  return compareTactics({ ...LINE, means }, [STOCKED, ON_THE_CLOCK, LOW, BOOSTED], { priority }).comparison;
}

describe("three machines, four tactics", () => {
  const comparison = compared(GRANTED);
  const own = (id: string): TacticResult => {
    const found = comparison.tactics.find((one) => one.id === id);
    if (found === undefined) throw new Error(`no row ${id}`);
    return found;
  };
  /** A cycle of each machine is under way. */
  const about = (found: number | null, expected: number, apart = ONE_CYCLE): void =>
    expect(Math.abs((found ?? Infinity) - expected)).toBeLessThanOrEqual(apart);

  test("what each loses, at one rate and up to one end", () => {
    about(own("none").ramp_up_loss, LOST_AS_IT_IS);
    // All are full from the start, so each machine takes just what it needs.
    about(own("stocked").ramp_up_loss, 0);
    about(own("on-the-clock").ramp_up_loss, LOST_AS_IT_IS - ROOM + (ROOM / 30) * 3 * NEED);
    about(own("low").ramp_up_loss, LEVEL);
    about(own("boosted").ramp_up_loss, LOST_AS_IT_IS + 2 * 4 * 1.25 - BOOST_FOR_MIN * 8);
    about(own("none").settling_min, FILLED_MIN);
    expect(Math.abs((own("none").settling_min ?? 0) - FILLED_MIN)).toBeLessThan(0.3);
    expect(Math.abs((own("low").settling_min ?? 0) - LEVEL / 12)).toBeLessThan(0.3);
  });

  test("what each leaves, handles and asks for", () => {
    for (const id of ["stocked", "on-the-clock", "boosted"]) expect(own(id).reserve_kept).toBeGreaterThan(0.95);
    expect(Math.abs((own("low").reserve_kept ?? 0) - LEVEL / ROOM)).toBeLessThan(0.05);
    // 45 of 60 items, at 72/min.
    expect(Math.abs(own("low").bridges_less_min - 45 / 72)).toBeLessThan(0.05);
    expect([own("stocked").items_handled, own("on-the-clock").items_handled]).toEqual([180, 60]);
    expect(own("stocked").asks_for.map(askText)).toEqual(["hands for 180 items before the shift, 6 min at 30/min"]);
    expect(own("on-the-clock").asks_for.map(askText)).toEqual([
      "hands for 60 items while the start waits, 2 min at 30/min",
    ]);
    expect(own("boosted").asks_for.map(askText)).toEqual(["faster feeds for 5 min: feed 80/min"]);
    expect(["stocked", "on-the-clock", "low", "boosted"].map((id) => own(id).granted)).toEqual([
      false,
      true,
      true,
      true,
    ]);
  });

  test("while the feed stops, from the fifth minute to the tenth, what lies there is made", () => {
    // With nothing done the first machine's buffer is just full then. A cycle is under way, and an item before, each machine.
    about(own("none").made_while_stopped.feeds, ROOM, 2 * ONE_CYCLE);
    about(own("low").made_while_stopped.feeds, LEVEL, 2 * ONE_CYCLE);
    about(own("stocked").made_while_stopped.feeds, 3 * ROOM, 2 * ONE_CYCLE);
  });

  test("the boost is worth doing: it loses less, keeps the stock, and is granted", () => {
    expect(comparison).toMatchObject({
      winner: "boosted",
      best_without_reserve: "low",
      best_with_hands: "stocked",
      best_with_other_means: null,
      nothing_qualifies: false,
      equal_within_items: ONE_CYCLE,
    });
  });

  test("without means nothing qualifies: doing nothing is what is left", () => {
    expect(compared(PLAIN_MEANS)).toMatchObject({
      winner: "none",
      nothing_qualifies: true,
      best_without_reserve: "low",
      best_with_hands: "stocked",
      best_with_other_means: "boosted",
    });
  });
});

describe("the rule", () => {
  const GRAIN: Grain = { products: 4, minutes: 0.1 };
  const start = (id: string, parts: Partial<Start> = {}): Start => ({
    id,
    isSettled: true,
    isSlower: false,
    makesNoLess: true,
    lost: 100,
    timeMin: 10,
    handled: 0,
    holdUp: 50,
    overItemMin: 0,
    reserveKept: 1,
    isGranted: true,
    needsHands: false,
    stated: id,
    parts: 1,
    ...parts,
  });
  const none = start("none", { parts: 0, makesNoLess: true });
  const winnerOf = (others: readonly Start[], priority?: StartPriority, base = none) =>
    recommended(base, others, GRAIN, priority).winner;

  test.each<[string, Partial<Start>]>([
    ["has not settled yet", { isSettled: false }],
    ["is slower for good", { isSlower: true }],
    ["makes less than doing nothing", { makesNoLess: false }],
    ["asks for what is not granted", { isGranted: false }],
    ["leaves less than 90 % of the stock", { reserveKept: 0.89 }],
    ["breaks limits that are kept", { overItemMin: 1 }],
  ])("what %s does not win, however little it loses", (_, parts) => {
    expect(winnerOf([start("other", { lost: 1, ...parts })])).toBe("none");
    expect(winnerOf([start("other", { lost: 1 })])).toBe("other");
  });

  test("within a cycle of each machine losses are equal; then time, then handling decide", () => {
    expect(winnerOf([start("sooner", { lost: 104, timeMin: 8 })])).toBe("sooner");
    expect(winnerOf([start("sooner", { lost: 104.1, timeMin: 8 })])).toBe("none");
    expect(
      winnerOf([start("by-hand", { lost: 90, handled: 9 }), start("by-itself", { lost: 93, timeMin: 10.1 })]),
    ).toBe("by-itself");
    expect(winnerOf([start("no-better", { lost: 97, timeMin: 10.05 })])).toBe("none");
  });

  test("where nothing keeps the limits, the fewest item-minutes over them", () => {
    const base = start("none", { parts: 0, overItemMin: 500 });
    expect(winnerOf([start("less", { lost: 200, makesNoLess: true, overItemMin: 300 })], "loss", base)).toBe("less");
    expect(winnerOf([start("as-much", { lost: 50, overItemMin: 503 })], "loss", base)).toBe("as-much");
  });

  test("another priority changes the order, not the conditions", () => {
    const others = [
      start("lean", { lost: 20, timeMin: 9, handled: 40, holdUp: 60 }),
      start("quick", { lost: 60, timeMin: 2, handled: 10, holdUp: 70 }),
      start("small", { lost: 90, timeMin: 9, handled: 20, holdUp: 20 }),
      start("best", { lost: 1, timeMin: 1, holdUp: 1, isGranted: false }),
    ];
    const by = (priority: StartPriority) => winnerOf(others, priority);
    expect([by("loss"), by("time"), by("handling"), by("hold-up")]).toEqual(["lean", "quick", "none", "small"]);
    expect(recommended(none, others, GRAIN).withOtherMeans).toBe("best");
  });

  test("a line that stops is no choice, and where nothing that is granted goes on, none wins", () => {
    const still = start("none", { parts: 0, isSlower: true, lost: null, timeMin: null });
    expect(winnerOf([start("goes-on")], "loss", still)).toBe("goes-on");
    expect(recommended(still, [start("goes-on", { isGranted: false })], GRAIN)).toMatchObject({
      winner: null,
      withOtherMeans: "goes-on",
    });
  });

  test("what is beside must be better, and is what it is said to be", () => {
    const worse = start("worse", { lost: 99, isGranted: false, needsHands: true });
    const hands = start("hands", { lost: 50, isGranted: false, needsHands: true });
    const empty = start("empty", { lost: 10, reserveKept: 0, isGranted: false });
    expect(recommended(none, [worse], GRAIN)).toMatchObject({ winner: "none", withHands: null });
    expect(recommended(none, [worse, hands, empty], GRAIN)).toEqual({
      winner: "none",
      withoutReserve: "empty",
      withHands: "hands",
      withOtherMeans: null,
      nothingQualifies: true,
    });
  });

  test("neither the order nor the names decide", () => {
    const others = [3, 1, 2].map((n) => start(`t${n}`, { lost: 90 + n, stated: `does ${n}` }));
    const renamed = others.map((one) => ({ ...one, id: `x${9 - Number(one.id.slice(1))}` }));
    expect(winnerOf(others)).toBe("t1");
    expect(winnerOf(others.toReversed())).toBe("t1");
    expect(winnerOf(renamed)).toBe("x8");
  });
});

test("an unused hold is no tactic: what does the same as nothing shares its row", () => {
  const idle = tactic({ id: "idle", hold: { until: { afterMin: ZERO }, release: "together", everyMin: ZERO } });
  const { tactics } = compareTactics(LINE, [idle]).comparison;
  expect(tactics.map(({ id, same_as: others }) => [id, others])).toEqual([["none", ["idle"]]]);
});
