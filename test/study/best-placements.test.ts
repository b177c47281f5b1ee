/**
 * Where to place a few full buffers. Source of the times: own enumeration of all placements in the exact flow of chains of equal
 * machines on even dividers (room B = 60, need d = 24, fed N d, no belts), confirmed by a second method. Belts are short here, and
 * items small beside the buffers: full output comes when the flow says, to 2 % or the time in which the slowest flow moves 2 items,
 * and, since belts only delay, by what the last machine's way takes later.
 */
import { describe, expect, test } from "vitest";
import { rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { PLAIN_MEANS } from "../../src/scenario/means.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { gridOf } from "../../src/study/best/grid.ts";
import { bestPlacements, type PlacedCount } from "../../src/study/best/placements.ts";
import { trialsOf } from "../../src/study/best/trial.ts";
import { triedBy } from "../../src/study/best/tried.ts";
import { outcomeOf } from "../../src/study/outcome.ts";
import { play } from "../../src/study/play.ts";
import { SHORT_BELT_PLACES } from "../analysis/runs.ts";
import { chainOf, prefill, tactic } from "./chains.ts";

/** The longest are tried by `FILLFRONT_CASES=2` only. */
const IS_WIDE = Number(process.env.FILLFRONT_CASES ?? "1") > 1;

const NEED = 24;
const ROOM = 60;
/** @param finer items so many times as small: times are the same, and so many more items pass */
function granted(count: number, buffers: number, finer: number): Scenario {
  const room = ROOM * finer;
  const line = chainOf({ count, room, need: String(NEED * finer), minutes: "60", belt: shortBelt(finer) });
  const hands = { items: buffers * room, ratePerMin: whole(60), while: "before" } as const;
  return { ...line, means: { ...PLAIN_MEANS, hands, starts: { held: false, staggered: false } } };
}

function shortBelt(finer: number) {
  return { ratePerMin: whole(NEED * finer * 20), capacity: SHORT_BELT_PLACES, transitMin: ZERO, metres: null };
}

function placements(scenario: Scenario, complete?: number): Promise<PlacedCount[]> {
  const grid = gridOf(scenario);
  const tryOne = trialsOf(scenario, grid);
  return bestPlacements(
    grid,
    triedBy(async (code) => tryOne(code), {}),
    () => true,
    complete,
  );
}

const FINER = 5;
/** Net rate of the slowest flow that fills a buffer: half a need. */
const TWO_ITEMS_MIN = 2 / (NEED * FINER) / 0.5;

const LISTED: Record<
  number,
  readonly [buffers: number, bestMin: string, headMin: string | null, tailMin: string | null][]
> = {
  6: [
    [1, "115/16", "35/4", "155/16"],
    [2, "5", "15/2", "155/16"],
    [3, "5/2", "5", "115/16"],
  ],
  8: [
    [1, "39/4", null, "11"],
    [2, "205/24", "155/16", "11"],
    [3, "53/8", "35/4", "10.75"],
    [4, "55/12", "15/2", "9.5"],
    [5, "5/2", "5", "7.5"],
  ],
  10: [
    [1, "11451/1024", null, null],
    [2, "125/12", null, null],
    [3, "1585/168", null, null],
    [4, "935/112", null, null],
    [5, "105/16", null, null],
    [6, "145/32", null, null],
  ],
};

function expectAt(found: number | null | undefined, flow: string): void {
  const flowMin = rational(flow).valueOf();
  // A cycle passes before the first product.
  const cycle = 1 / (NEED * FINER);
  expect(found ?? NaN).toBeGreaterThan(flowMin * 0.98 - TWO_ITEMS_MIN);
  // Behind a full buffer its branch and the through belt fill.
  const room = 1 + (2 * SHORT_BELT_PLACES) / (ROOM * FINER);
  expect(found ?? NaN).toBeLessThan(flowMin * room * 1.02 + TWO_ITEMS_MIN + cycle);
}

describe.each(IS_WIDE ? [6, 8, 10] : [6, 8])("a chain of %s", (count) => {
  const listed = LISTED[count] ?? [];
  test("reaches the times of the flow with the best placements, from the head and from the tail", async () => {
    expect(listed.length).toBeGreaterThanOrEqual(count / 2);
    const all = await placements(granted(count, listed.length, FINER), 0);
    for (const [buffers, best, head, tail] of listed) {
      const found = all.find((one) => one.buffers === buffers);
      expectAt(found?.best.fullMin, best);
      if (head !== null) expectAt(found?.head?.fullMin, head);
      if (tail !== null) expectAt(found?.tail?.fullMin, tail);
      expect(found?.isProved).toBe(true);
    }
  });
});

describe.each(IS_WIDE ? [6, 8] : [6])("a chain of %s", (count) => {
  test("the search by moves finds what complete enumeration in the engine finds", async () => {
    const scenario = granted(count, count, 1);
    const fullMin = new Map<number, number>();
    for (let placement = 1; placement < 2 ** count; placement++) {
      const byMachine = Array.from({ length: count }, (_, i) => i)
        .filter((i) => (placement >> i) & 1)
        .map((i) => ({ machine: `m-${i + 1}`, amount: null }));
      const at = outcomeOf(play(scenario, tactic(prefill({ byMachine })))).settling_min ?? Infinity;
      fullMin.set(byMachine.length, Math.min(at, fullMin.get(byMachine.length) ?? Infinity));
    }
    const all = await placements(scenario, 0);
    for (const [buffers, at] of fullMin) {
      const found = all.find((one) => one.buffers === buffers);
      expect(found?.isComplete).toBe(false);
      expect(found?.best.fullMin ?? NaN).toBeCloseTo(at, 6);
    }
  });
});
