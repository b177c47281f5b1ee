/**
 * Belts. Handbook arithmetic (common practice, no source): a belt carries speed / pitch, and takes length / speed to
 * carry an item from end to end.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { onBelt } from "../../src/engine/belt-items.ts";
import { beltField } from "../../src/engine/records.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { compile } from "../../src/network/compile.ts";
import { expand } from "../../src/network/expand.ts";
import { exact, rational } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, divider, feed, finishes, machine, merge, run, settledFlow } from "./lines.ts";
import { advanceOneTick } from "./one-tick.ts";

const outlet = { id: "out", item: null };

/** feed → belt → out */
function conveyor(feedPerMin: string, given: ReturnType<typeof belt>) {
  return network({
    feeds: [feed("feed", feedPerMin)],
    outlets: [outlet],
    connections: [connection("feed", "out", { id: "belt", belt: given })],
  });
}

/** A machine that takes ever so long, so that the belt's head stays held up. */
function heldUp(given: ReturnType<typeof belt>) {
  return network({
    feeds: [feed("feed", "60")],
    machines: [machine("slow", "86400", { infeed: 1 })],
    connections: [connection("feed", "slow", { id: "belt", belt: given })],
  });
}

/** A chain of one machine, so that a file's words for a belt are tested too. */
function measured(length: string, rate = "") {
  const read = readScenario(`
feeds: { silo: { item: pouch, rate: 1000/min } }
machines: { packer: { cycle: 100 ms, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 9 } }
lines:
  main: { layout: chain, from: silo, to: packer, belt: { ${rate} length: ${length}, speed: 24 m/min, pitch: 80 mm } }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const found = run(expand(read.scenario), { tickS: "1/100", minutes: "5" });
  return { settled: settledFlow(found, "main.through-1"), first: finishes(found, "packer")[0] };
}

describe("24 m/min with an item every 80 mm", () => {
  test("carries 300/min, over 3.2 m in 8 s", () => {
    // Fed after 60 ms, 8 s under way, a tick from the buffer into the cycle, 100 ms in it.
    expect(measured("3.2 m")).toEqual({ settled: "300", first: 6 + 800 + 1 + 10 });
  });

  test("carries 300/min over any length", () => {
    for (const length of ["40 mm", "100 mm", "1 m", "3 m"]) {
      expect([length, measured(length).settled]).toEqual([length, "300"]);
    }
  });

  test("carries less where it is told to", () => {
    expect(measured("3 m", "rate: 45/4 /min,").settled).toBe("45/4");
  });
});

test.each([
  ["1", 10],
  ["1/10", 100],
  ["1/7", 70],
])("an item reaches the head after the transit, to the tick (ticks of %s s)", (tickS, transitTicks) => {
  const program = compile(conveyor("6", belt("20", 10, "10")), rational(tickS));
  const state = initialState(program);
  while (state.totals.fed[0] === 0) advanceOneTick(program, state);
  const fedAt = state.tick;
  while (state.totals.left[0] === 0) advanceOneTick(program, state);
  expect(state.tick - fedAt).toBe(transitTicks);
});

test("first in, first out: kinds leave in the order in which they came", () => {
  const capacity = 60;
  const both = network({
    feeds: [feed("a", "41"), feed("b", "29", "carton")],
    merges: [merge("join")],
    outlets: [outlet],
    connections: [
      connection("a", "join"),
      connection("b", "join"),
      connection("join", "out", { belt: belt("90", capacity, "17") }),
    ],
  });
  const program = compile(both, rational("1/10"));
  const state = initialState(program);
  const came: (number | undefined)[] = [];
  const went: number[] = [];
  while (state.tick < 6000) {
    const left = state.totals.left.slice();
    advanceOneTick(program, state);
    for (const kind of [0, 1]) if (state.totals.left[kind] !== left[kind]) went.push(kind);
    // The newest on the belt stand last in its ring.
    const lying: number[] = [];
    onBelt(program, state, 0, (item) => lying.push(item));
    came.push(...lying.slice(came.length - went.length));
  }
  expect(went.length).toBeGreaterThan(600);
  expect(went).toEqual(came.slice(0, went.length));
});

test("a held-up belt fills to its capacity, and no further", () => {
  const program = compile(heldUp(belt("60", 7, "3")), rational("1/10"));
  const state = initialState(program);
  let most = 0;
  while (state.tick < 3000) {
    advanceOneTick(program, state);
    most = Math.max(most, beltField(state.belts, "count")[0] ?? 0);
  }
  expect(beltField(state.belts, "count")[0]).toBe(7);
  expect(most).toBe(7);
  // One in the cycle, one in the buffer, seven on the belt; the feed is held back.
  expect(state.totals.fed[0]).toBe(9);
});

test("a held-up belt lets its items go at its rate once it may", () => {
  // A cycle takes all there is room for, 7; what the belt has held meanwhile then comes a second apart.
  const line = heldUp(belt("60", 7, "3"));
  const program = compile(
    { ...line, machines: [machine("slow", "60", { takes: { pouch: 7 }, infeed: 7 })] },
    rational("1/10"),
  );
  const state = initialState(program);
  const came: number[] = [];
  let started = 0;
  while (came.length < 7) {
    const level = state.bufferCount[0] ?? 0;
    advanceOneTick(program, state);
    if (state.machineBusy[0] === 1 && state.totals.taken[0] === 14 && started === 0) started = state.tick;
    if (started > 0 && (state.tick === started || (state.bufferCount[0] ?? 0) > level)) came.push(state.tick - started);
  }
  expect(came).toEqual([0, 9, 19, 29, 39, 49, 59]);
});

test("items leave an interval apart, less a tick at the most", () => {
  const given = fc.record({
    /** Ticks between items. */
    interval: fc.tuple(fc.integer({ min: 200, max: 5000 }), fc.integer({ min: 1, max: 100 })),
    capacity: fc.integer({ min: 1, max: 9 }),
    transit: fc.integer({ min: 0, max: 30 }),
  });
  fc.assert(
    fc.property(given, ({ interval: [n, d], capacity, transit }) => {
      const interval = rational(`${n}/${d}`);
      fc.pre(interval.compare(2) >= 0 && interval.compare(40) <= 0);
      const left = leavingTicks(
        exact(interval.inverse().mul(60n)),
        capacity,
        transit,
        20 * (Math.ceil(n / d) + transit),
      );
      const gaps = left.slice(1).map((tick, i) => tick - (left[i] ?? 0));
      expect(gaps.length).toBeGreaterThan(0);
      expect(Math.min(...gaps)).toBeGreaterThanOrEqual(n / d - 1);
    }),
  );
});

/** With ticks of a second and more items than the belt can take. */
function leavingTicks(perMin: string, capacity: number, transitS: number, ticks: number): number[] {
  const program = compile(conveyor("60", belt(perMin, capacity, String(transitS))), rational("1"));
  const state = initialState(program);
  const left: number[] = [];
  while (state.tick < ticks) {
    const before = state.totals.left[0] ?? 0;
    advanceOneTick(program, state);
    for (let n = before; n < (state.totals.left[0] ?? 0); n++) left.push(state.tick);
  }
  return left;
}

describe("a belt at its limit carries exactly its rate in the long run, whatever the tick", () => {
  test.each(["973/10", "45/4", "20", "1000/7", "59/61"])("%s/min", (perMin) => {
    for (const tickS of ["auto", "1/10", "1/7", "3/64"]) {
      const line = conveyor("600", belt(perMin, 5, "1"));
      const found = run(line, { ...(tickS === "auto" ? {} : { tickS }), minutes: "600", check: false });
      expect(settledFlow(found, "belt")).toBe(perMin);
    }
  });

  test("three belts of the same rate one after another, and machines after them", () => {
    const same = belt("973/10", 20, "1/3");
    const line = network({
      feeds: [feed("feed", "600")],
      dividers: [divider("first"), divider("second")],
      machines: [machine("a", "1"), machine("b", "1")],
      outlets: [outlet],
      connections: [
        connection("feed", "first", { id: "head", belt: same }),
        connection("first", "a", { belt: same }),
        connection("first", "second", { id: "middle", belt: same }),
        connection("second", "b", { belt: same }),
        connection("second", "out", { id: "last", belt: same }),
      ],
    });
    const found = run(line, { minutes: "600", check: false });
    expect(settledFlow(found, "head")).toBe("973/10");
    expect(settledFlow(found, "middle")).toBe("973/20");
    expect(settledFlow(found, "last")).toBe("973/40");
  });
});

describe("an ordered divider loads its first belt to the rate", () => {
  const split = (arriving: string, first: string, slower = belt(first, 4)) =>
    network({
      feeds: [feed("feed", arriving)],
      dividers: [divider("split", "ordered")],
      outlets: [outlet],
      connections: [
        connection("feed", "split", { belt: belt("1000", 4) }),
        connection("split", "out", { id: "first", belt: slower }),
        connection("split", "out", { id: "past", belt: belt("1000", 4) }),
      ],
    });

  test("60/min out of 110/min, though every second item would be 55", () => {
    const found = run(split("110", "60"));
    expect([settledFlow(found, "first"), settledFlow(found, "past")]).toEqual(["60", "50"]);
  });

  test("however little room it has beyond what is under way at its rate", () => {
    const given = fc.tuple(
      fc.integer({ min: 10, max: 119 }),
      fc.integer({ min: 1, max: 12 }),
      fc.integer({ max: 9, min: 0 }),
    );
    fc.assert(
      fc.property(given, ([rate, room, tenths]) => {
        const underWay = rational(String(room)).sub(rational(`${tenths}/10`));
        const dense = { ...belt(String(rate), room), transitMin: underWay.div(String(rate)) };
        const found = run(split("120", String(rate), dense), { minutes: "300", check: false });
        expect(settledFlow(found, "first")).toBe(String(rate));
        expect(settledFlow(found, "past")).toBe(String(120 - rate));
      }),
    );
  });

  test("whatever the two rates, with ticks as long as may be", () => {
    const rates = fc.tuple(fc.integer({ min: 2, max: 60 }), fc.integer({ min: 1, max: 59 }));
    const ticksBetweenArrivals = fc.constantFrom("2", "9/4", "5/2", "8/3", "19/6");
    fc.assert(
      fc.property(rates, ticksBetweenArrivals, ([arriving, first], between) => {
        fc.pre(first < arriving);
        const line = split(String(arriving), String(first));
        const connections = line.connections.map((one) => (one.id === "first" ? one : { ...one, belt: null }));
        const tickS = exact(rational("60").div(String(arriving)).div(between));
        const found = run({ ...line, connections }, { tickS, minutes: "300", check: false });
        expect(settledFlow(found, "first")).toBe(String(first));
        expect(settledFlow(found, "past")).toBe(String(arriving - first));
      }),
    );
  });
});
