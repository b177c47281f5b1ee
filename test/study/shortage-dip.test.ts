/** The feed lowered for a while. */
import { describe, expect, test } from "vitest";
import { rational, whole } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { studyDip } from "../../src/study/shortage/dip.ts";
import { dipped } from "../../src/study/shortage/lowered-feeds.ts";
import type { Dip, DipResult } from "../../src/study/shortage/shortage-results.ts";
import { swingOf } from "../../src/study/shortage/swing.ts";
import { chainOf, played } from "./chains.ts";

function dipOf(scenario: Scenario, level: string, from: string, long: string) {
  return studyDip(scenario, { level: rational(level), fromMin: rational(from), forMin: rational(long) });
}

function result({ results }: Dip, id: string): DipResult {
  const found = results.find((one) => one.id === id);
  if (found === undefined) throw new Error(`no variant ${id}`);
  return found;
}

describe("the profile of a dip", () => {
  const [feed] = chainOf({ count: 4 }).feeds;
  if (feed === undefined) throw new Error("the chain has a feed");
  const step = (from: number, perMin: number) => ({ fromMin: whole(from), ratePerMin: whole(perMin) });
  const lowered = (profile: typeof feed.profile, from: number, long: number): string[] => {
    const scenario = { ...chainOf({ count: 4 }), feeds: [{ ...feed, profile }] };
    const dip = { level: rational("1/2"), fromMin: whole(from), forMin: whole(long) };
    const [low] = dipped(scenario, ["feed"], dip).feeds;
    return (low?.profile ?? []).map(({ fromMin, ratePerMin }) => `${fromMin.toString()}: ${ratePerMin.toString()}`);
  };

  test("lowers what runs, and gives back what would run then", () => {
    expect(lowered([step(0, 96)], 20, 10)).toEqual(["0: 96", "20: 48", "30: 96"]);
    expect(lowered([step(0, 96)], 0, 10)).toEqual(["0: 48", "10: 96"]);
  });

  test("keeps the steps of the file, lowered within the dip", () => {
    const steps = [step(0, 96), step(25, 60), step(30, 80), step(50, 100)];
    expect(lowered(steps, 20, 10)).toEqual(["0: 96", "20: 48", "25: 30", "30: 80", "50: 100"]);
    expect(lowered(steps, 25, 10)).toEqual(["0: 96", "25: 30", "30: 40", "35: 80", "50: 100"]);
  });
});

test("a dip that full buffers outlast costs nothing, if the feed can fill them again", () => {
  const { dip } = dipOf(chainOf({ count: 4, room: 60, feed: whole(120), minutes: "180" }), "0", "120", "1/2");
  expect(dip.withheld).toBe(60);
  const { hold_up_before: before, ...written } = result(dip, "as-written");
  expect(written).toMatchObject({ lost: 0, recovery_min: 0, within_tolerance_min: 0, settled_before: true });
  expect(written.hold_up_settled).toBeCloseTo(before ?? NaN, 6);
});

test("where the feed brings just what is needed, the last machine has no stock and feels every dip", () => {
  const { dip } = dipOf(chainOf({ count: 4, room: 60, minutes: "120" }), "0", "60", "1/4");
  expect(result(dip, "as-written").lost).toBe(24);
});

// Items: what the feed brings less is missing in products or on the line; cycles under way may differ by one a machine.
test("what the feed withholds is lost, or missing on the line", () => {
  for (const [level, long] of [
    ["1/2", "10"],
    ["1/4", "4"],
    ["0", "2"],
  ] as const) {
    const { dip } = dipOf(chainOf({ count: 4, room: 60, minutes: "120" }), level, "60", long);
    for (const { lost, hold_up_before: before, hold_up_settled: after } of dip.results) {
      expect(Math.abs(lost + (before ?? NaN) - after - dip.withheld)).toBeLessThanOrEqual(4);
    }
  }
});

test("after a dip that empties the line, recovering takes as long as starting", () => {
  const scenario = chainOf({ count: 4, room: 60, minutes: "120" });
  const { dip } = dipOf(scenario, "0", "40", "20");
  const { recovery_min: recovery, lowest_per_min: lowest, lowest_at_min: at } = result(dip, "as-written");
  // Turns and cycles begin elsewhere than at the start, by some items.
  expect(Math.abs((recovery ?? NaN) - played(scenario).settledMin)).toBeLessThan(0.25);
  expect(lowest).toBe(0);
  expect(at).toBeGreaterThan(40);
  expect(at).toBeLessThan(60);
});

test("a tree is back at once, a chain fills up once more", () => {
  const { dip, curves } = dipOf(chainOf({ count: 4, room: 60, minutes: "120" }), "1/2", "60", "30");
  const [chain, tree] = [result(dip, "as-written"), result(dip, "tree")];
  expect(tree.recovery_min).toBeLessThan(0.2);
  expect(chain.recovery_min).toBeGreaterThan(2);
  expect(chain.lowest_per_min).toBeGreaterThan(40);
  expect(chain.lowest_per_min).toBeLessThan(49);
  expect(curves.map(({ id }) => id)).toEqual(dip.variants.map(({ id }) => id));
  for (const { timesMin, outputPerMin } of curves) {
    expect(outputPerMin).toHaveLength(timesMin.length);
    expect(timesMin[0]).toBeGreaterThan(40);
    for (const end of [outputPerMin[0], outputPerMin.at(-1)]) expect(Math.abs((end ?? NaN) - 96)).toBeLessThan(5);
  }
});

test("a dip during the ramp-up is said to be so", () => {
  const { dip } = dipOf(chainOf({ count: 4, room: 60, minutes: "120" }), "1/2", "1", "2");
  expect(result(dip, "as-written").settled_before).toBe(false);
});

describe("the swing of a moving average", () => {
  const events = {
    count: 4,
    tick: Int32Array.of(3, 5, 9, 14),
    amount: Float64Array.of(2, 1, 4, 1),
  };
  /** Counts at every tick. */
  const slow = (half: number, from: number, to: number) => {
    const inside = Array.from({ length: to - from + 1 }, (_, i) =>
      Array.from(events.tick).reduce((total, tick, e) => {
        const isIn = tick > from + i - half && tick <= from + i + half;
        return isIn ? total + (events.amount[e] ?? 0) : total;
      }, 0),
    );
    const low = Math.min(...inside);
    return { low, lowTick: from + inside.indexOf(low), high: Math.max(...inside) };
  };

  test("is that found by counting at every tick", () => {
    for (const half of [1, 2, 3, 6]) {
      for (let from = half; from < 12; from++) {
        for (const to of [from, from + 1, from + 5, 20]) {
          expect(swingOf(events, half, from, Math.max(from, to))).toEqual(slow(half, from, Math.max(from, to)));
        }
      }
    }
  });
});
