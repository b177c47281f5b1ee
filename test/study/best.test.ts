/** The best starts: what is on the list, against complete enumeration and against runs of each alone. */

import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { rational, whole } from "../../src/quantity/rational.ts";
import { bestTold } from "../../src/report/files/best-files.ts";
import { PLAIN_MEANS } from "../../src/scenario/means.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { bestStarts } from "../../src/study/best/best.ts";
import { beats, covers, type Figures } from "../../src/study/best/front.ts";
import { gridOf, keyOf, noCode } from "../../src/study/best/grid.ts";
import { itemByItem } from "../../src/study/best/item-by-item.ts";
import { allDoses, allPlacements } from "../../src/study/best/neighbours.ts";
import { trialsOf } from "../../src/study/best/trial.ts";
import { triedBy } from "../../src/study/best/tried.ts";
import { compareTactics } from "../../src/study/comparison/compare.ts";
import { NO_TACTIC, play } from "../../src/study/play.ts";
import { NO_GOALS } from "../../src/study/recommended/goals.ts";
import { RESERVE, type Start } from "../../src/study/recommended/recommended.ts";
import { chainOf, prefill, swingOf, tactic } from "./chains.ts";

/** Hands for so many items, and feeds a fifth faster for a quarter of a minute. */
function granting(line: Scenario, items: number): Scenario {
  const hands = { items, ratePerMin: whole(60), while: "before" } as const;
  const feed = { factor: rational("6/5"), forMin: rational("1/4") };
  return { ...line, means: { ...PLAIN_MEANS, hands, feed, starts: { held: false, staggered: false } } };
}

function allTrials(scenario: Scenario) {
  const grid = gridOf(scenario);
  const tryOne = trialsOf(scenario, grid);
  const placements = allPlacements(grid, Infinity) ?? [];
  const doses = allDoses(grid, Infinity) ?? [];
  return doses.flatMap((dose) => placements.flatMap((placed) => tryOne({ known: null, doses: dose, placed }) ?? []));
}

const figuresOf = (one: {
  readonly ramp_up_loss: number | null;
  readonly to_95_min: number | null;
  readonly items_handled: number;
  readonly reserve_kept: number | null;
}): Figures => ({
  lost: one.ramp_up_loss,
  timeMin: one.to_95_min,
  handled: one.items_handled,
  reserveKept: one.reserve_kept ?? 1,
});

const CASES = Number(process.env.FILLFRONT_CASES ?? "1");
const SMALL = fc.record({ count: fc.integer({ min: 4, max: 5 }), room: fc.integer({ min: 5, max: 12 }) });

describe("random small lines", () => {
  test("complete enumeration never beats the list by more than the grain", async () => {
    let applied = 0;
    await fc.assert(
      fc.asyncProperty(SMALL, fc.boolean(), async (given, isByMoves) => {
        const scenario = granting(chainOf({ ...given, need: "24", minutes: "60" }), given.room * 2);
        const bounds = isByMoves ? { complete: 0, completePlacements: 0 } : {};
        const { study } = await bestStarts(scenario, { byItem: false, ...bounds });
        expect(study.search.is_complete).toBe(!isByMoves);
        const starts = study.starts.filter(({ id }) => id !== "none");
        for (const a of starts)
          for (const b of starts) expect([a.id, b.id, beats(figuresOf(a), figuresOf(b))]).toEqual([a.id, b.id, false]);
        const sound = allTrials(scenario).filter(
          ({ start }) => start.isSettled && !start.isSlower && start.makesNoLess,
        );
        for (const { start, grain } of sound) {
          for (const listed of starts) {
            const isBeaten = beats(start, figuresOf(listed));
            if (isBeaten) expect(covers(figuresOf(listed), start, grain)).toBe(true);
          }
          applied += starts.length;
        }
      }),
      { numRuns: CASES },
    );
    expect(applied).toBeGreaterThan(100);
  });
});

const MEANS = `
title: Granted
horizon: 60 min
feeds: { feed: { item: a, rate: as needed } }
machines: { m: { count: 5, cycle: 2 s, takes: { a: 1 }, makes: { b: 1 }, infeed: 12 } }
lines: { main: { layout: chain, from: feed, to: m, belt: { length: 1 m, speed: 20 m/min, pitch: 100 mm } } }
means: { hands: { items: 34, rate: 40/min, while: before }, start: together, feed: { to: 120 %, for: 1 min } }
`;

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

const BOUNDS = { most: 60, complete: 0 };

describe("with hands and a faster feed", async () => {
  const found = await bestStarts(read(MEANS), BOUNDS);
  const { study, scenarioText } = found;

  test("every start of the list, read from the file that states it and run alone, gives its figures", () => {
    const again = read(scenarioText);
    expect(study.starts.length).toBeGreaterThan(3);
    for (const start of study.starts) {
      const own = again.tactics.find(({ id }) => id === start.id) ?? NO_TACTIC;
      const row = compareTactics(again, [own]).comparison.tactics.find(({ id }) => id === start.id);
      expect(row).toMatchObject({
        does: start.does,
        ramp_up_loss: start.ramp_up_loss,
        to_95_min: start.to_95_min,
        settling_min: start.settling_min,
        items_handled: start.items_handled,
        hold_up_peak: start.hold_up_peak,
        reserve_kept: start.reserve_kept,
        granted: true,
      });
      expect(start.placed.reduce((sum, { items }) => sum + items, 0)).toBe(start.items_handled);
    }
  });

  test("what is recommended keeps the reserve, uses what hands have left, and loses less than all that is known", () => {
    const best = study.starts.find(({ id }) => id === study.recommended);
    expect(best?.reserve_kept ?? 0).toBeGreaterThanOrEqual(RESERVE);
    expect(best?.items_handled).toBeGreaterThan(24);
    expect(best?.ramp_up_loss ?? NaN).toBeLessThan(study.best_known?.ramp_up_loss ?? NaN);
    expect(best?.one_less?.ramp_up_loss ?? NaN).toBeGreaterThan(best?.ramp_up_loss ?? NaN);
    expect(study.card.filter(({ what }) => what.do === "place")).toHaveLength(best?.placed.length ?? 0);
  });

  test("goals keep what does not reach them from being recommended, and none is reached where none can be", async () => {
    const goals = { withinMin: null, lossBelow: null, handledBelow: 16 };
    const { study: few } = await bestStarts(read(MEANS), { ...BOUNDS, goals, byItem: false });
    const best = few.starts.find(({ id }) => id === few.recommended);
    expect(few.goals_reached).toBe(true);
    expect(best?.items_handled).toBe(12);
    const beyond = { ...goals, lossBelow: 1, handledBelow: 1 };
    const { study: none } = await bestStarts(read(MEANS), { ...BOUNDS, goals: beyond, byItem: false });
    expect(none.goals_reached).toBe(false);
  });

  test("told to stop it gives what it has found", async () => {
    const stop = new AbortController();
    const onProgress = (_: string, tried: number): void => {
      if (tried > 12) stop.abort();
    };
    const { study: sofar } = await bestStarts(read(MEANS), { ...BOUNDS, stop: stop.signal, onProgress });
    expect(sofar.search.was_stopped).toBe(true);
    expect(sofar.search.tried).toBeLessThan(40);
    expect(sofar.starts.length).toBeGreaterThan(1);
  });

  test("whoever tries the starts, in whatever order, the answer is the same", async () => {
    const scenario = read(MEANS);
    const tryOne = trialsOf(scenario, gridOf(scenario));
    let nth = 0;
    const late = await bestStarts(scenario, {
      ...BOUNDS,
      play: async (code) => {
        await new Promise((resolve) => setTimeout(resolve, (nth++ * 7) % 5));
        return tryOne(code);
      },
    });
    expect(JSON.stringify(bestTold(late.study))).toBe(JSON.stringify(bestTold(study)));
  });
});

describe("item by item, of starts whose figures are given", () => {
  const scenario = read(MEANS);
  const grid = gridOf(scenario);
  const tryOne = trialsOf(scenario, grid);
  const byItem = async (placed: readonly number[], figures: (placed: readonly number[]) => Partial<Start>) => {
    const code = { ...noCode(grid), placed };
    const one = tryOne(code);
    if (one === null) throw new Error("it can be played");
    const tried = triedBy(async (asked) => {
      const start = { ...one.start, id: keyOf(asked), handled: itemsIn(asked.placed), ...figures(asked.placed) };
      return { ...one, code: asked, start };
    }, {});
    const [from] = await tried.ask([code]);
    if (from === undefined) throw new Error("it has been tried");
    return itemByItem(grid, tried, from, { priority: "loss", goals: NO_GOALS });
  };

  test("what is better in a circle comes to an end", async () => {
    // Each is better than the next: in loss where it is more than half an item, else in time.
    const circle = [0, 0.4, 0.8].map((lost, i) => ({ lost, timeMin: 3 - i }));
    const found = await byItem([8, 0, 0, 0, 0], (placed) =>
      placed[0] === 8 ? { lost: 100 } : { ...circle[itemsIn(placed) % 3], handled: 8 },
    );
    expect(found.best.start.lost).toBe(0.4);
  });

  test("single items that bring nothing by the rule are swept, those that bring something stay", async () => {
    // Five products are as nothing here: a cycle of each machine.
    const lost = ([a = 0, b = 0, c = 0]: readonly number[]): number => 80 - 6 * a - (b > 0 ? 0.6 : 0) - (c > 0 ? 6 : 0);
    const { best, isProved } = await byItem([8, 1, 1, 0, 0], (placed) => ({ lost: lost(placed), timeMin: 3 }));
    expect(best.grain.products).toBe(5);
    expect([best.code.placed, isProved]).toEqual([[12, 0, 1, 0, 0], false]);
    const kept = await byItem([8, 0, 1, 0, 0], (placed) => ({ lost: lost(placed.with(1, 0)), timeMin: 3 }));
    expect([kept.best.code.placed, kept.isProved]).toEqual([[12, 0, 1, 0, 0], true]);
  });

  test("whole buffers stay where uneven amounts gain nothing by the rule", async () => {
    const lost = ([a = 0, b = 0]: readonly number[]): number => 50 - 2 * a - (b > 0 ? 0.6 : 0);
    const { best, isProved } = await byItem([12, 0, 0, 0, 0], (placed) => ({ lost: lost(placed), timeMin: 3 }));
    expect([best.code.placed, isProved]).toEqual([[12, 0, 0, 0, 0], true]);
  });
});

function itemsIn(placed: readonly number[]): number {
  return placed.reduce((sum, amount) => sum + amount, 0);
}

/** The identity: loss = rise of stock − ∫ (accepted − need) dt, and the feed is taken in full whatever lies where. */
test.each([2, 5])(
  "items at %s machines lower the loss by their number less the rise of mean settled stock",
  (buffers) => {
    const line = chainOf({ count: 8, minutes: "60" });
    const byMachine = Array.from({ length: buffers }, (_, i) => ({ machine: `m-${i + 2}`, amount: 37 }));
    const none = play(line, NO_TACTIC);
    const placed = play(line, tactic(prefill({ byMachine })));
    const meanStock = (one: typeof none): number => one.result.hold_up.settled;
    const lower = (none.result.output.ramp_up_loss ?? NaN) - (placed.result.output.ramp_up_loss ?? NaN);
    const rise = meanStock(placed) - meanStock(none);
    expect(Math.abs(lower - (buffers * 37 - rise))).toBeLessThanOrEqual(swingOf(none) + swingOf(placed) + 1e-6);
  },
);
