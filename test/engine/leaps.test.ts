/**
 * Vehicles, mixed feeds, surge buffers and limits: a run that is leapt over ends as one that is stepped through, and what
 * lies still for ever has grown as old.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { rational } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { mixed, unloading } from "./feeding.ts";
import { belt, feed, machine } from "./lines.ts";
import { randomPlant } from "./random-networks.ts";

function bothWays(line: Network, horizonTicks: number): { readonly leapt: Run; readonly stepped: Run } {
  const program = compile(line, autoTickS(line));
  return {
    leapt: simulate(program, { horizonTicks, check: true }),
    stepped: simulate(program, { horizonTicks, stepAll: true }),
  };
}

/** All but the levels that count from a settled period on. */
function counted({ totals, noted, openCycleTicks, lying }: Run) {
  const { low, high, beltLow, ...others } = noted;
  return { totals, others, openCycleTicks, lying };
}

test("totals, extremes, dwell and what still lies are the same at the horizon", () => {
  let leaps = 0;
  let withVehicles = 0;
  let stuck = 0;
  fc.assert(
    fc.property(randomPlant(), fc.integer({ min: 1, max: 20_000 }), (line, horizonTicks) => {
      const { leapt, stepped } = bothWays(line, horizonTicks);
      expect(counted(leapt)).toEqual(counted(stepped));
      if (leapt.steppedTicks === horizonTicks) return;
      leaps++;
      if (line.feeds.some(({ batch }) => batch !== null)) withVehicles++;
      if (leapt.lying.longestTicks.some((ticks) => ticks > horizonTicks / 2)) stuck++;
    }),
    // About half of them leap: enough that the counts below do not hang on the draw.
    { numRuns: 150 },
  );
  expect(leaps).toBeGreaterThan(40);
  expect(withVehicles).toBeGreaterThan(25);
  expect(stuck).toBeGreaterThan(3);
}, 120_000);

test("a recurrence takes vehicles in: its period is whole intervals between them", () => {
  const dock = unloading("dock", "120", { everyMin: "2", items: 40 });
  const line = network({
    feeds: [dock],
    machines: [machine("m", "3/2", { infeed: 60 })],
    connections: [connection("dock", "m", { belt: belt("120", 20, "5") })],
  });
  const { leapt } = bothWays(line, 60 * 60 * 20);
  const { periodTicks = 0, period } = leapt.recurrence ?? {};
  const everyTicks = Number(rational("120").div(leapt.program.tickS).valueOf());
  expect(periodTicks % everyTicks).toBe(0);
  expect(period?.fed[0]).toBe((40 * periodTicks) / everyTicks);
});

test("what lies at a jam for ever is found over its limit, as old as the run", () => {
  // Nobody takes blue; the first one stops the belt.
  const line = network({
    items: ["red", "blue", "carton"],
    feeds: [mixed("mix", "30", { red: 5, blue: 1 })],
    machines: [machine("m", "1", { takes: { red: 1 } })],
    connections: [connection("mix", "m", { belt: belt("60", 10, "2") })],
    dwellLimits: [{ item: null, limitMin: rational("5") }],
  });
  const { leapt, stepped } = bothWays(line, 60 * 200);
  expect(leapt.steppedTicks).toBeLessThan(60 * 200);
  expect(leapt.lying).toEqual(stepped.lying);
  expect(leapt.lying.over[0]).toBeGreaterThan(0);
  expect(leapt.lying.over[1]).toBeGreaterThan(0);
  expect(leapt.totals.overDwell[1]).toBe(0);
  expect(leapt.lying.longestTicks[1]).toBeGreaterThan(60 * 190);
});

test("an item that an outlet takes too late counts as one that a machine does", () => {
  const line = network({
    feeds: [feed("feed", "60")],
    outlets: [{ id: "out", item: null }],
    connections: [connection("feed", "out", { belt: belt("60", 20, "10") })],
    dwellLimits: [{ item: "pouch", limitMin: rational("9/60") }],
  });
  const { leapt } = bothWays(line, 3000);
  expect(leapt.totals.overDwell[0]).toBe(leapt.totals.left[0]);
  expect(leapt.totals.left[0]).toBeGreaterThan(100);
});
