/**
 * Chains primed, against the flow. Source of every value without another mark: own derivation (machines as flows on
 * empty, filling or full buffers; even dividers; N machines that need d each, with room for B, fed N d; no belts), exact
 * fractions computed and confirmed by a second method.
 *
 * Discrete items differ from a flow by the items in process: one in each machine, one in each of the last two buffers,
 * and the one due from the feed, N + 3 in all; and in time by 2 %, or the time in which the slowest net flow moves 2 items.
 */
import { describe, expect, test } from "vitest";
import { amountUpTo } from "../../src/analysis/events.ts";
import { averageAt } from "../../src/analysis/moving-average.ts";
import { rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { chainOf, finishesOf, inEvery, played, prefill } from "./chains.ts";

const NEED = 24;
const ROOM = 60;
const FILL_MIN = ROOM / NEED;
const ITEMS_OFF = 2;

const inProcess = (count: number): number => count + 3;

function expectLost(found: number, flow: number, count: number): void {
  expect(found).toBeGreaterThanOrEqual(flow - 1);
  expect(found).toBeLessThanOrEqual(flow + inProcess(count));
}

function expectAt(foundMin: number, flowMin: number, netPerMin: number): void {
  expect(Math.abs(foundMin - flowMin)).toBeLessThanOrEqual(Math.max(0.02 * flowMin, ITEMS_OFF / netPerMin));
}

describe("every buffer filled to the fraction f loses max(0, N − 2 − N f) B", () => {
  for (const count of [3, 4, 8, 12]) {
    test.each([0, 0.1, 0.25, 0.5, 0.6, 0.75, 0.9, 1])(`N = ${count}, f = %s`, (share) => {
      const amount = Math.round(share * ROOM);
      const { lost } = played(chainOf({ count, minutes: "120" }), amount > 0 ? prefill(inEvery(amount)) : {});
      expectLost(lost, Math.max(0, count - 2 - (count * amount) / ROOM) * ROOM, count);
    });
  }
});

describe("all machines held until all buffers are full", () => {
  const hold = { hold: { until: "all-full", release: "together", everyMin: ZERO } } as const;
  test.each([2, 3, 4, 8, 16])("N = %s starts at B/d and loses N B", (count) => {
    const { lost, outcome, settledMin } = played(chainOf({ count }), hold);
    // The first products come a cycle after the start; from then on the output is full.
    expectAt((outcome.first_product_min ?? NaN) - 1 / NEED, FILL_MIN, NEED);
    expectAt(settledMin - 1 / NEED, FILL_MIN, NEED);
    expectLost(lost, count * ROOM, count);
  });
});

describe("each machine held until its own buffer is full", () => {
  const hold = { hold: { until: "own-full", release: "together", everyMin: ZERO } } as const;
  test.each([
    [4, "4/3"],
    [8, "129/70"],
  ])("N = %s: full output at %s B/d, lost N B", (count, fills) => {
    const { lost, settledMin } = played(chainOf({ count }), hold);
    expectAt(settledMin - 1 / NEED, rational(fills).valueOf() * FILL_MIN, NEED);
    expectLost(lost, count * ROOM, count);
  });
});

test("N = 4, fed 144/min for 1.5 min, then 96: full for a moment at 1.25, a dip at 1.75, for good at 4.5, lost 48", () => {
  const count = 4;
  const boost = { boost: { factor: rational("3/2"), forMin: rational("3/2") } };
  const { output, settledMin, lost } = played(chainOf({ count }), boost);
  const { made, minutesPerTick, endTick } = output;
  const width = 2 * Math.round(0.125 / minutesPerTick);
  const perMin = (min: number): number =>
    averageAt(made, width, Math.round(min / minutesPerTick), endTick) / minutesPerTick;
  // As a flow: full from 1.25 to 1.75, then 84/min up to 4.5.
  const oneItem = 1 / 0.25;
  expect(Math.abs(perMin(1.55) - 96)).toBeLessThanOrEqual(oneItem);
  for (const min of [2.2, 3, 4]) expect(perMin(min)).toBeLessThan(96 - oneItem);
  expectAt(settledMin, 4.5, NEED / 2);
  expectLost(lost, 48, count);
  // A cycle under way counts for the loss as far as done.
  const behind = 960 - lost - amountUpTo(made, Math.round(10 / minutesPerTick));
  expect(behind).toBeGreaterThan(-1e-6);
  expect(behind).toBeLessThan(count);
});

/**
 * With every buffer full that gets full by itself, what is left of the ramp-up is the belts': they have to be filled, the
 * branches up to their ends. Said exactly: every cycle of every machine falls on the same tick whatever the room of the
 * buffers, as long as that outlasts the wait for the belts.
 */
describe("every buffer full at the start that gets full by itself", () => {
  const COUNT = 8;
  const firstFull = (count: number) => prefill({ among: { which: "first", count: count - 2 }, amount: null });
  const belt = (transitS: string, capacity: number) => {
    return { ratePerMin: whole(300), capacity, transitMin: rational(transitS).div(60n), metres: null };
  };

  test.each([3, 4, 8])("N = %s, no belts: full output from the first items on, two cycles at most", (count) => {
    const { settledMin, lost } = played(chainOf({ count }), firstFull(count));
    expect(settledMin).toBeLessThanOrEqual(2 / NEED);
    expectLost(lost, 0, count);
  });

  test.each<[string, number]>([
    ["1", 5],
    ["1", 60],
    ["5", 25],
    ["10", 60],
  ])("N = 8, belts of %s s with room for %s items: settling does not depend on the buffers", (transitS, places) => {
    const line = (room: number, minutes: string) =>
      chainOf({ count: COUNT, room, belt: belt(transitS, places), minutes });
    const rooms = [100, 250, 1000];
    const [first, ...others] = rooms.map((room) => finishesOf(line(room, "30"), firstFull(COUNT)));
    for (const other of others) expect(other).toEqual(first);
    const settled = rooms.map((room) => played(line(room, "240"), firstFull(COUNT)).settledMin);
    for (const other of settled) expect(other).toBeCloseTo(settled[0] ?? NaN, 6);
    // Started empty, a line takes the longer the more room it has.
    const empty = rooms.slice(0, 2).map((room) => played(line(room, "240")).settledMin);
    expect(settled[0]).toBeLessThan(empty[0] ?? 0);
    expect(empty[0]).toBeLessThan(empty[1] ?? 0);
  });
});
