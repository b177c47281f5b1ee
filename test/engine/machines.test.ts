/** Machines: cycles, stages, and the states that their minutes are booked under. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { Run } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { BLOCKED, DOWN, HELD, RUNNING, STARVED, STATE_COUNT } from "../../src/engine/states.ts";
import { compile } from "../../src/network/compile.ts";
import type { MachineElement } from "../../src/network/network.ts";
import { rational } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, feed, finishes, indexOf, machine, profiled, run, settledCycles, settledFlow } from "./lines.ts";
import { advanceOneTick } from "./one-tick.ts";
import { randomNetwork } from "./random-networks.ts";

/** feed → machine, without a belt */
function alone(perMin: string, given: MachineElement) {
  return network({ feeds: [feed("feed", perMin)], machines: [given], connections: [connection("feed", given.id)] });
}

function ticksIn(found: Run, id: string, state: number): number {
  return found.totals.stateTicks[indexOf(found.program.network.machines, id) * STATE_COUNT + state] ?? Number.NaN;
}

test.each(["2", "7/3", "1/7", "97.3", "3.333"])("a cycle of %s s is kept exactly, whatever the tick", (cycleS) => {
  const line = alone("1000", machine("m", cycleS));
  const perMin = rational("60").div(cycleS).toFraction();
  for (const tickS of ["1/40", "3/128", "1/33"]) {
    const found = run(line, { tickS, minutes: "300", check: false });
    expect(settledCycles(found, "m")).toBe(perMin);
    // Never waits once its first cycle has begun.
    const begins = (finishes(found, "m")[0] ?? 0) - cycleTicks(found);
    expect(ticksIn(found, "m", RUNNING)).toBe(found.horizonTicks - begins + 1);
  }
});

/** Ticks of the first cycle, which starts at the very beginning of a tick. */
function cycleTicks({ program: { pace, machine: machines } }: Run): number {
  const cycle = machines.pace[0] ?? 0;
  return (pace.whole[cycle] ?? 0) + ((pace.rest[cycle] ?? 0) > 0 ? 1 : 0);
}

test("a cycle takes at its start and makes at its end", () => {
  const given = machine("m", "5", { takes: { pouch: 3 }, makes: { carton: 2, scrap: 1 } });
  const line = { ...alone("60", given), items: ["pouch", "carton", "scrap"] };
  const program = compile(line, rational("1/2"));
  const state = initialState(program);
  const changes: string[] = [];
  let before = "";
  while (state.tick < 20) {
    advanceOneTick(program, state);
    const { taken, made } = state.totals;
    const now = `taken ${taken[0]}, made ${made[1]} and ${made[2]}`;
    if (now !== before) changes.push(`tick ${state.tick}: ${now}`);
    before = now;
  }
  // Items come at ticks 2, 4, 6; the machine, whose turn is before the feed's, sees the third at tick 7.
  expect(changes).toEqual([
    "tick 1: taken 0, made 0 and 0",
    "tick 7: taken 3, made 0 and 0",
    "tick 17: taken 6, made 2 and 1",
  ]);
});

test("a cycle needs every kind it takes", () => {
  const given = machine("m", "1", { takes: { pouch: 2, label: 3 } });
  const line = network({
    items: ["pouch", "label", "carton"],
    feeds: [feed("feed", "60"), feed("labels", "45", "label")],
    machines: [given],
    connections: [connection("feed", "m"), connection("labels", "m")],
  });
  // Labels are short: 45 / 3 a minute.
  expect(settledCycles(run(line), "m")).toBe("15");
  const without = { ...line, connections: line.connections.slice(0, 1) };
  const starved = run(without, { minutes: "1" });
  expect(ticksIn(starved, "m", STARVED)).toBe(starved.horizonTicks);
  expect(starved.totals.fed[0]).toBe(10);
});

describe("a machine whose products cannot go", () => {
  const blockedLine = (outfeed: number) =>
    network({
      feeds: [feed("feed", "60")],
      machines: [
        machine("first", "1", { outfeed }),
        machine("second", "10000", { takes: { carton: 1 }, makes: { crate: 1 }, infeed: 3 }),
      ],
      items: ["pouch", "carton", "crate"],
      connections: [connection("feed", "first"), connection("first", "second", { belt: belt("60", 4) })],
    });

  test.each([1, 2, 7])("is blocked once its outfeed holds %i", (outfeed) => {
    const found = run(blockedLine(outfeed), { minutes: "5", stepAll: true });
    // One in the second's cycle, three in its infeed, four on the belt; one more is finished and has no room.
    expect(finishes(found, "first")).toHaveLength(1 + 3 + 4 + outfeed);
    expect(ticksIn(found, "first", BLOCKED)).toBeGreaterThan(0);
    const ends = (finishes(found, "first").at(-1) ?? 0) + cycleTicks(found);
    expect(ticksIn(found, "first", BLOCKED)).toBe(found.horizonTicks - ends + 1);
  });

  test("goes on in the tick after room is made", () => {
    const slow = blockedLine(1);
    const machines = [machine("first", "1", { outfeed: 1 }), machine("second", "20", { takes: { carton: 1 } })];
    const found = run({ ...slow, machines }, { minutes: "120" });
    expect(settledCycles(found, "first")).toBe("3");
    expect(settledCycles(found, "second")).toBe("3");
  });
});

test("two stages: six a cycle from belt to belt, both at the exact rate of the slower", () => {
  const line = network({
    items: ["pouch", "carton", "crate"],
    feeds: [feed("feed", "600")],
    machines: [
      machine("filler", "7/3", { makes: { carton: 6 }, outfeed: 6 }),
      machine("packer", "9", { takes: { carton: 24 }, makes: { crate: 1 }, infeed: 24 }),
    ],
    connections: [
      connection("feed", "filler", { belt: belt("60", 5) }),
      connection("filler", "packer", { id: "cartons", belt: belt("200", 12, "3") }),
    ],
  });
  const found = run(line, { minutes: "600", check: false });
  // The filler could make 6 · 180/7 cartons/min, 6 3/7 cycles of the packer's 6 2/3.
  expect(settledCycles(found, "filler")).toBe("180/7");
  expect(settledCycles(found, "packer")).toBe("45/7");
});

test("a product with no belt leaves by itself; one with several takes the first that can", () => {
  const line = network({
    items: ["pouch", "carton", "scrap"],
    feeds: [feed("feed", "60")],
    machines: [machine("m", "1", { makes: { carton: 1, scrap: 1 } })],
    outlets: [
      { id: "a", item: null },
      { id: "b", item: null },
    ],
    connections: [
      connection("feed", "m"),
      connection("m", "a", { id: "a", only: ["carton"], belt: belt("20", 3) }),
      connection("m", "b", { id: "b", only: ["carton"] }),
    ],
  });
  const found = run(line, { minutes: "10" });
  expect([settledFlow(found, "a"), settledFlow(found, "b")]).toEqual(["20", "40"]);
  expect(found.totals.left[2]).toBe(found.totals.cycles[0]);
});

test("every tick of every machine is booked once, none of them as down or held", () => {
  let machines = 0;
  fc.assert(
    fc.property(randomNetwork(), (line) => {
      const found = run(line, { minutes: "7" });
      for (const { id } of line.machines) {
        const states = [RUNNING, STARVED, BLOCKED, DOWN, HELD].map((state) => ticksIn(found, id, state));
        expect(states.reduce((sum, ticks) => sum + ticks)).toBe(found.horizonTicks);
        expect(states.slice(3)).toEqual([0, 0]);
        machines++;
      }
    }),
    { numRuns: 50 },
  );
  expect(machines).toBeGreaterThan(50);
});

test("an unreached machine is starved all the time, and ends nothing", () => {
  const line = { ...alone("60", machine("m", "1")), machines: [machine("m", "1"), machine("away", "1")] };
  const found = run(line);
  expect(ticksIn(found, "away", STARVED)).toBe(found.horizonTicks);
  expect(settledCycles(found, "m")).toBe("60");
});

test("a feed that stops lets the line run empty, and starts its schedule anew", () => {
  const line = alone("60", machine("m", "1/2"));
  const feeds = [
    profiled("feed", [
      ["0", "60"],
      ["1/4", "0"],
      ["1/2", "12"],
    ]),
  ];
  const found = run({ ...line, feeds }, { tickS: "1/10", minutes: "1" });
  // 15 in the first 15 s, none in the next, then one every 5 s; a tick to the cycle, five in it.
  expect(finishes(found, "m").slice(0, 18)).toEqual([
    ...Array.from({ length: 15 }, (_, i) => 10 * (i + 1) + 6),
    350 + 6,
    400 + 6,
    450 + 6,
  ]);
});
