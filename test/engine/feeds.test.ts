/** Vehicles: when they come, when each of their items is unloaded, what those that have to wait put off. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { compile } from "../../src/network/compile.ts";
import { withSurges } from "../../src/network/surges.ts";
import { type Rational, rational, whole } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { free, releases, unloading } from "./feeding.ts";
import { belt, machine, run, settledCycles } from "./lines.ts";

function ticksOf(everyMin: string, items: number, perMin: string, firstMin: string, tickS: string, ticks: number) {
  const line = free(unloading("dock", perMin, { everyMin, items, firstMin }));
  return releases(compile(line, rational(tickS)), ticks).map(({ tick }) => tick);
}

describe("nothing in the way", () => {
  test("the first vehicle comes at its time, and its first item one interval later", () => {
    // Ticks of a second, an item every 4 s, a vehicle of three every minute.
    expect(ticksOf("1", 3, "15", "0", "1", 130)).toEqual([4, 8, 12, 64, 68, 72, 124, 128]);
    expect(ticksOf("1", 3, "15", "1/2", "1", 110)).toEqual([34, 38, 42, 94, 98, 102]);
  });

  test("a time within a tick is rounded up, and does not add up", () => {
    // 7 s in ticks of 2 s: 3.5 ticks; first at 1 s.
    expect(ticksOf("7/60", 1, "15", "1/60", "2", 20)).toEqual([3, 7, 10, 14, 17].map((tick) => tick + 0));
  });

  test("a vehicle is unloaded in the rhythm of its rate, whatever the tick", () => {
    // 45 items/min: 4/3 s; in ticks of half a second 8/3.
    expect(ticksOf("1", 5, "45", "0", "1/2", 140)).toEqual([3, 6, 8, 11, 14, 123, 126, 128, 131, 134]);
  });

  test("one that comes as the last is empty is unloaded in its rhythm", () => {
    expect(ticksOf("1", 15, "15", "0", "1", 120)).toEqual(Array.from({ length: 30 }, (_, i) => 4 * (i + 1)));
  });

  test("where unloading takes as long as the next is away, the rate is exact, whatever the tick", () => {
    for (const tickS of ["7/10", "1", "13/11"]) {
      const line = free(unloading("dock", "7", { everyMin: "1", items: 7 }));
      const { recurrence, program, totals } = run(line, { tickS, minutes: "600" });
      const periodMin = program.tickS.mul(whole(recurrence?.periodTicks ?? 0)).div(60n);
      expect(
        whole(recurrence?.period.fed[0] ?? 0)
          .div(periodMin)
          .toFraction(),
      ).toBe("7");
      expect(totals.fed[0]).toBeGreaterThanOrEqual(7 * 600 - 1);
    }
  });

  test("vehicles that always wait are unloaded one after another at the unloading rate", () => {
    // Six a minute come, one a second at most is unloaded for... 10 items at 45/min take 40/3 s, every 10 s another.
    const line = free(unloading("dock", "45", { everyMin: "1/6", items: 10 }));
    const { recurrence, program } = run(line, { tickS: "3/10", minutes: "120" });
    const periodMin = program.tickS.mul(whole(recurrence?.periodTicks ?? 0)).div(60n);
    expect(
      whole(recurrence?.period.fed[0] ?? 0)
        .div(periodMin)
        .toFraction(),
    ).toBe("45");
  });

  test("is as the timetable says, worked out item by item in fractions", () => {
    const figures = fc.record({
      everyS: fc.constantFrom("10", "7", "29/3", "40"),
      items: fc.integer({ min: 1, max: 9 }),
      intervalS: fc.constantFrom("1", "4/3", "7/5", "5/2", "3"),
      firstS: fc.constantFrom("0", "1", "10/3", "25"),
      tickS: fc.constantFrom("1/2", "1/3", "7/20"),
    });
    fc.assert(
      fc.property(figures, ({ everyS, items, intervalS, firstS, tickS }) => {
        const ticks = 600;
        const perMin = whole(60).div(rational(intervalS)).toFraction();
        const minutes = (seconds: string): string => rational(seconds).div(60n).toFraction();
        const found = ticksOf(minutes(everyS), items, perMin, minutes(firstS), tickS, ticks);
        const inTicks = (seconds: string): Rational => rational(seconds).div(rational(tickS));
        expect(found).toEqual(timetable(inTicks(everyS), items, inTicks(intervalS), inTicks(firstS), ticks));
      }),
      { numRuns: 200 },
    );
  });
});

/** All in ticks; an event happens at the end of the tick that its ideal time falls in. */
function timetable(every: Rational, items: number, interval: Rational, first: Rational, upTo: number): number[] {
  const found: number[] = [];
  let comes = first.ceil();
  let last: Rational | null = null;
  for (;;) {
    const comesTick = Number(comes.ceil().n);
    const emptied = found.at(-1) ?? -1;
    const waits = last !== null && emptied >= comesTick;
    let item: Rational = waits && last !== null ? last : comes.ceil();
    for (let n = 0; n < items; n++) {
      item = item.add(interval);
      const tick = Number(item.ceil().n);
      if (tick > upTo) return found;
      found.push(tick);
    }
    last = item;
    // It takes the place in the tick after the last one was emptied.
    const waitsFor = waits ? whole(emptied + 1).sub(comes) : whole(0);
    comes = (waitsFor.compare(every) >= 0 ? whole(emptied) : comes).add(every);
  }
}

describe("the line in the way", () => {
  /** One item a second is taken; vehicles of 20 are unloaded at 120/min where there is room. */
  const line = (everyMin: string, room: number | null) => {
    const dock = unloading("dock", "120", { everyMin, items: 20 });
    const plain = network({
      feeds: [dock],
      machines: [machine("m", "1", { infeed: 5 })],
      connections: [connection("dock", "m", { belt: belt("60", 2) })],
    });
    return withSurges(plain, [{ ...dock, surge: room }]);
  };

  test("without a surge buffer unloading is held up, but nothing is lost while vehicles are few", () => {
    const found = run(line("1/2", null), { tickS: "1/10" });
    expect(settledCycles(found, "m")).toBe("40");
    expect(found.recurrence?.period.feedHeldTicks[0]).toBeGreaterThan(0);
    expect(found.recurrence?.period.vehicleWaitTicks[0]).toBe(0);
  });

  test("with room enough unloading takes its own time, and the ticks waited are none", () => {
    const found = run(line("1/2", 20), { tickS: "1/10" });
    expect(settledCycles(found, "m")).toBe("40");
    expect(found.totals.feedHeldTicks[0]).toBe(0);
    expect(found.totals.vehicleWaitTicks[0]).toBe(0);
  });

  test("vehicles that bring more than is taken wait, and give no more than the line takes", () => {
    const found = run(line("1/4", 20), { tickS: "1/10" });
    expect(settledCycles(found, "m")).toBe("60");
    const { vehicleWaitTicks, fed } = found.recurrence?.period ?? { vehicleWaitTicks: [], fed: [] };
    expect(fed[0]).toBeGreaterThan(0);
    expect(vehicleWaitTicks[0]).toBeGreaterThan(0);
  });

  test("a vehicle that waits for ten ticks is counted for ten", () => {
    // 20 items at 120/min take 100 ticks, the next vehicle comes after 90.
    const dock = unloading("dock", "120", { everyMin: "3/20", items: 20 });
    const { totals } = run(free(dock), { tickS: "1/10", minutes: "11/60", stepAll: true });
    // It comes at 90 and takes its place at 100; the third comes at 180 > 110.
    expect(totals.vehicleWaitTicks[0]).toBe(10);
  });

  test("one that waits for less than an interval does not put off those after it; one that waits longer does", () => {
    /** The feed stands still for a while, because nothing is taken before `untilS`. */
    const arrivals = (stopS: string) => {
      const dock = unloading("dock", "60", { everyMin: "1/2", items: 4 });
      const blocked = network({
        feeds: [dock],
        machines: [machine("slow", stopS, { infeed: 2 })],
        connections: [connection("dock", "slow")],
      });
      return releases(compile(blocked, rational("1/2")), 700).map(({ tick }) => tick / 2);
    };
    // Cycles of 15 s take 2 a vehicle interval while 4 come: every vehicle waits longer and longer.
    const slow = arrivals("15");
    // In the long run an item every 15 s, whatever comes.
    expect(slow.slice(-4).map((second, i, all) => (i === 0 ? 15 : second - (all[i - 1] ?? 0)))).toEqual([
      15, 15, 15, 15,
    ]);
    // Cycles of 7 s take four in 28 s: a vehicle is empty before the next comes, at its own time again and again.
    const quick = arrivals("7");
    const firsts = quick.filter((_, i) => i % 4 === 0);
    expect(firsts.slice(1).map((second) => second % 30)).toEqual(firsts.slice(1).map(() => 1));
  });
});

test("the last part of an unproved run is whole intervals between vehicles, so that it measures what they bring", () => {
  // A quarter of the hour would hold one and a half.
  const dock = unloading("dock", "600", { everyMin: "10", items: 200 });
  const line = network({
    feeds: [dock],
    machines: [
      machine("m", "1/7", { infeed: 200 }),
      machine("n", "61/59", { takes: { carton: 1 }, makes: { crate: 1 } }),
    ],
    items: ["pouch", "carton", "crate"],
    connections: [
      connection("dock", "m", { belt: belt("611/3", 9, "1") }),
      connection("m", "n", { belt: belt("70", 9, "2") }),
    ],
  });
  const { lastQuarter, horizonTicks, program } = run(line, { minutes: "60", stepAll: true });
  const ticks = horizonTicks - (lastQuarter?.fromTick ?? 0);
  const minutes = program.tickS.mul(whole(ticks)).div(60n);
  expect(minutes.toFraction()).toBe("20");
  expect(lastQuarter?.totals.fed[0]).toBe(400);
});
