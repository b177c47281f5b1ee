/**
 * Vehicles and surge buffers against the lot formula with a finite rate of supply: unloading at P while the line draws D, a
 * lot of Q stands at most Q (1 − D/P) high (E. W. Taft, "The most economical production lot", Iron Age 101, 1918; from
 * memory), against Little's law kind by kind, and against an example worked out by hand.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import { withSurges } from "../../src/network/surges.ts";
import { autoTickS, ticksWithin } from "../../src/network/tick.ts";
import { approximate, rational } from "../../src/quantity/rational.ts";
import { mixed, unloading, type Vehicles } from "../engine/feeding.ts";
import { belt, divider, machine } from "../engine/lines.ts";
import { connection, network } from "./flow-networks.ts";
import { TITLE_AND_SEED } from "./runs.ts";

function outcome(line: Network, minutes = "240") {
  const tickS = autoTickS(line);
  const run = simulate(compile(line, tickS), { horizonTicks: ticksWithin(rational(minutes), tickS) });
  return { run, ...analyse(run, TITLE_AND_SEED, { applies: false, reason: "it is not asked" }) };
}

interface Given {
  readonly unload: string;
  readonly vehicles: Vehicles;
  readonly room: number | null;
  /** Cycle of the one machine, an item each. */
  readonly cycleS: string;
  readonly beltPerMin?: string;
}

/** dock ─ surge ─ belt of 2 items ─ a machine with room for one item */
function dockLine({ unload, vehicles, room, cycleS, beltPerMin = "1200" }: Given): Network {
  const dock = unloading("dock", unload, vehicles);
  const plain = network({
    feeds: [dock],
    machines: [machine("m", cycleS, { infeed: 1 })],
    connections: [connection("dock", "m", { belt: belt(beltPerMin, 2) })],
  });
  return withSurges(plain, [{ ...dock, surge: room }]);
}

/** Items that lie between surge buffer and cycle: two on the belt, one in the infeed. */
const BEYOND = 3;

describe("600 items each 10 min, unloaded at 120/min into a line that draws 60/min", () => {
  const given = { unload: "120", vehicles: { everyMin: "10", items: 600 }, cycleS: "1" };
  const { result, series } = outcome(dockLine({ ...given, room: 400 }));
  const [batch] = result.batches;

  test("the surge buffer stands at 300, but for what is on the belt and in the machine", () => {
    // 600 (1 − 60/120), reached when the vehicle is empty after 5 min.
    expect(batch?.surge?.room).toBe(400);
    expect(batch?.surge?.settled_high).toBeLessThanOrEqual(300);
    expect(batch?.surge?.settled_high).toBeGreaterThanOrEqual(300 - BEYOND - 1);
    expect(batch?.surge?.settled_low).toBe(0);
    expect(batch?.surge?.peak).toBe(batch?.surge?.settled_high);
    expect(Math.max(...(series.surges[0]?.level ?? []))).toBe(batch?.surge?.settled_high);
  });

  test("the line runs through, unloading is never held up, and the cycle is one vehicle", () => {
    expect(batch?.cycle).toEqual({
      length_min: 10,
      fed: 600,
      held_up_min: 0,
      vehicles_wait_min: 0,
      runs_through: true,
      waits: [],
    });
    expect(result.output.settled_per_min).toBe("60");
    expect(batch?.needed_room).toBe(batch?.surge?.settled_high);
    expect(batch?.brings_too_much).toBe(false);
  });

  test("with just the room needed it does so, too; with less unloading is held up", () => {
    const needed = batch?.needed_room ?? 0;
    const just = outcome(dockLine({ ...given, room: needed })).result.batches[0];
    expect(just?.cycle?.held_up_min).toBe(0);
    const less = outcome(dockLine({ ...given, room: needed - 1 })).result.batches[0];
    expect(less?.cycle?.held_up_min).toBeGreaterThan(0);
    expect(less?.needed_room).toBeNull();
    expect(less?.surge?.settled_high).toBe(needed - 1);
  });

  test("a machine that needs 80/min waits for a quarter of each cycle", () => {
    const hungry = outcome(dockLine({ ...given, cycleS: "3/4", room: 400 })).result.batches[0];
    expect(hungry?.cycle?.runs_through).toBe(false);
    const [wait] = hungry?.cycle?.waits ?? [];
    expect(wait).toMatchObject({ machine: "m", item: "pouch" });
    // 600 cycles take 7.5 of 10 min; waiting is counted in ticks, and the last cycle may end within one.
    expect(wait?.min).toBeCloseTo(2.5, 1);
    // Taft: 600 (1 − 80/120) = 200.
    expect(hungry?.surge?.settled_high).toBeLessThanOrEqual(200);
    expect(hungry?.surge?.settled_high).toBeGreaterThanOrEqual(200 - BEYOND - 1);
  });

  test("a machine that takes 50/min leaves vehicles waiting, and no room is enough", () => {
    const slow = outcome(dockLine({ ...given, cycleS: "6/5", room: 400 }), "600").result.batches[0];
    expect(slow?.brings_too_much).toBe(true);
    expect(slow?.cycle?.vehicles_wait_min).toBeGreaterThan(0);
    expect(slow?.cycle?.runs_through).toBe(true);
    expect(slow?.needed_room).toBeNull();
  });

  test("a belt straight from the dock without a surge buffer makes unloading take as long as drawing", () => {
    const direct = outcome(dockLine({ ...given, room: null })).result.batches[0];
    expect(direct?.surge).toBeNull();
    expect(direct?.needed_room).toBeNull();
    expect(direct?.cycle?.held_up_min).toBeGreaterThan(4);
    const slowly = outcome(dockLine({ ...given, unload: "60", vehicles: { everyMin: "20", items: 600 }, room: null }));
    expect(slowly.result.batches[0]?.needed_room).toBe(0);
  });
});

test("over random lots the highest stock is the lot formula's, within the items beyond the buffer and one", () => {
  const lots = fc.record({
    items: fc.integer({ min: 20, max: 400 }),
    unload: fc.constantFrom("60", "90", "120", "200", "360"),
    share: fc.constantFrom("1/5", "1/3", "1/2", "2/3", "9/10"),
  });
  fc.assert(
    fc.property(lots, ({ items, unload, share }) => {
      const draw = rational(unload).mul(rational(share));
      // As many as are drawn in the time between two.
      const everyMin = rational(BigInt(items)).div(draw).toFraction();
      const cycleS = rational(60n).div(draw).toFraction();
      const { result } = outcome(dockLine({ unload, vehicles: { everyMin, items }, cycleS, room: items }), "600");
      const [batch] = result.batches;
      const highest = items * (1 - approximate(rational(share)));
      expect(batch?.surge?.settled_high).toBeLessThanOrEqual(highest + 1);
      expect(batch?.surge?.settled_high).toBeGreaterThanOrEqual(highest - BEYOND - 1);
      expect(batch?.cycle?.held_up_min).toBe(0);
      expect(result.output.settled_per_min).toBe(draw.toFraction());
    }),
    { numRuns: 40 },
  );
}, 60_000);

test("later stages that wait for what is made of the vehicles' items are named as well", () => {
  const dock = unloading("dock", "120", { everyMin: "10", items: 60 });
  const line = network({
    items: ["pouch", "carton", "crate"],
    feeds: [dock],
    machines: [
      machine("first", "1", { infeed: 100 }),
      machine("second", "1", { takes: { carton: 1 }, makes: { crate: 1 } }),
    ],
    connections: [connection("dock", "first"), connection("first", "second", { belt: belt("60", 5, "2") })],
  });
  const { waits = [] } = outcome(line).result.batches[0]?.cycle ?? {};
  expect(waits.map(({ machine: id, item }) => `${id} ${item}`).toSorted()).toEqual(["first pouch", "second carton"]);
  for (const { min } of waits) expect(min).toBeCloseTo(9, 0);
});

test("Little's law holds kind by kind with a mixed feed, vehicles and a surge buffer", () => {
  let kinds = 0;
  const plants = fc.record({
    pouches: fc.integer({ min: 1, max: 4 }),
    labels: fc.integer({ min: 1, max: 4 }),
    order: fc.constantFrom("spread" as const, "blocks" as const),
    items: fc.integer({ min: 5, max: 60 }),
    everyMin: fc.constantFrom("1/2", "1", "3/2"),
    room: fc.integer({ min: 1, max: 60 }),
    cyclesS: fc.tuple(fc.constantFrom("1", "3/2", "2"), fc.constantFrom("1", "3/2", "2")),
  });
  fc.assert(
    fc.property(plants, ({ pouches, labels, order, items, everyMin, room, cyclesS }) => {
      const counts = { pouch: pouches, label: labels };
      const dock = { ...mixed("dock", "120", counts, order), batch: unloading("x", "1", { everyMin, items }).batch };
      const plain = network({
        items: ["pouch", "label", "carton"],
        feeds: [dock],
        dividers: [divider("sort", "ordered")],
        machines: [machine("one", cyclesS[0]), machine("two", cyclesS[1], { takes: { label: 1 } })],
        connections: [
          connection("dock", "sort", { belt: belt("120", 6, "2") }),
          connection("sort", "one", { only: ["pouch"] }),
          connection("sort", "two", { only: ["label"], belt: belt("90", 4, "1") }),
        ],
      });
      const { run, result } = outcome(withSurges(plain, [{ ...dock, surge: room }]), "120");
      if (run.settledPeriod === null || run.recurrence === null) return;
      const { dwellTicks, holdUpTicks, taken } = run.settledPeriod.totals;
      for (const item of [0, 1]) {
        kinds++;
        expect(taken[item]).toBeGreaterThan(0);
        expect(dwellTicks[item]).toBe(holdUpTicks[item]);
        const name = run.program.network.items[item] ?? "";
        const perMin = (taken[item] ?? 0) / ((run.recurrence.periodTicks * approximate(run.program.tickS)) / 60);
        expect(result.hold_up.by_item[name]).toBeCloseTo(perMin * (result.dwell.by_item_min[name] ?? Number.NaN), 6);
      }
      // Where it lies adds up to what lies on the line, kind by kind.
      for (const [name, level] of Object.entries(result.hold_up.by_item)) {
        const places = result.hold_up.by_place.filter(({ item }) => item === name);
        expect(places.reduce((total, { settled }) => total + settled, 0)).toBeCloseTo(level, 9);
      }
    }),
    { numRuns: 60 },
  );
  expect(kinds).toBeGreaterThan(60);
}, 120_000);
