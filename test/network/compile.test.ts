import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { initialState } from "../../src/engine/start-state.ts";
import type { State } from "../../src/engine/state.ts";
import { compile, TooFineError } from "../../src/network/compile.ts";
import { exact, rational, whole } from "../../src/quantity/rational.ts";
import { MAX_TICKS } from "../../src/scenario/file-limits.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, divider, feed, machine, profiled } from "../engine/lines.ts";
import { advanceOneTick } from "../engine/one-tick.ts";
import { randomNetwork } from "../engine/random-networks.ts";

const alone = (cycleS: string) => network({ machines: [machine("m", cycleS)] });

/** The pace's interval in ticks. */
function interval({ pace }: ReturnType<typeof compile>, index: number): string {
  const [ticks = 0, rest = 0, parts = 0] = [pace.whole[index], pace.rest[index], pace.parts[index]];
  expect(rest).toBeGreaterThanOrEqual(0);
  expect(rest).toBeLessThan(parts);
  return exact(whole(ticks).add(whole(rest).div(whole(parts))));
}

test("an interval is whole + rest / parts ticks, exactly", () => {
  fc.assert(
    fc.property(
      fc.nat(10_000),
      fc.integer({ min: 1, max: 10_000 }),
      fc.integer({ min: 1, max: 1000 }),
      (n, d, tick) => {
        const cycleS = rational(`${n + 1}/${d}`);
        const tickS = rational(`1/${tick}`);
        expect(interval(compile(alone(exact(cycleS)), tickS), 0)).toBe(exact(cycleS.div(tickS)));
      },
    ),
  );
});

test("paces stand in order: feeds, vehicles, belt entrances, belt exits, cycles; a feed's come with its steps", () => {
  const line = network({
    feeds: [
      profiled("a", [
        ["0", "60"],
        ["3", "0"],
      ]),
      profiled("b", [
        ["0", "45"],
        ["2", "45/4"],
      ]),
    ],
    machines: [machine("m", "7/3")],
    connections: [connection("a", "m", { belt: belt("90", 5) }), connection("b", "m", { belt: belt("97.3", 4) })],
  });
  const program = compile(line, rational("1/10"));
  expect(Array.from(program.pace.parts.subarray(0, 4))).toEqual([0, 0, 0, 0]);
  expect([4, 5, 6, 7, 8].map((index) => interval(program, index))).toEqual([
    "20/3",
    "6000/973",
    "20/3",
    "6000/973",
    "70/3",
  ]);
  expect(program.belt.entryPace).toEqual(Int32Array.of(4, 5));
  expect(program.belt.exitPace).toEqual(Int32Array.of(6, 7));
  expect(program.machine.pace).toEqual(Int32Array.of(8));
  expect(program.feed.steps).toEqual([
    { feed: 0, tick: 0, whole: 10, rest: 0, parts: 1 },
    { feed: 1, tick: 0, whole: 13, rest: 1, parts: 3 },
    { feed: 1, tick: 1200, whole: 53, rest: 1, parts: 3 },
    { feed: 0, tick: 1800, whole: 0, rest: 0, parts: 0 },
  ]);
});

test("buffers stand by machine, infeeds before outfeeds, and rings do not overlap", () => {
  let machinesSeen = 0;
  fc.assert(
    fc.property(randomNetwork(), (line) => {
      const { machine: machines, buffer, belt: belts } = compile(line, rational("1/10"));
      for (const [m, { takes, makes, infeed, outfeed }] of line.machines.entries()) {
        machinesSeen++;
        const [first = 0, middle = 0, end = 0] = [machines.infeed[m], machines.outfeed[m], machines.infeed[m + 1]];
        const items = (from: number, to: number) =>
          Array.from(buffer.item.subarray(from, to), (kind) => line.items[kind]);
        expect(items(first, middle)).toEqual(takes.map(({ item }) => item));
        expect(items(middle, end)).toEqual(makes.map(({ item }) => item));
        expect(Array.from(buffer.capacity.subarray(first, end))).toEqual(
          [...infeed, ...outfeed].map(({ count }) => count),
        );
      }
      for (const { ring, capacity, places } of [buffer, belts]) {
        const ends = Array.from(ring, (start, i) => start + (capacity[i] ?? 0));
        expect([...ring, places]).toEqual([0, ...ends]);
      }
    }),
    { numRuns: 50 },
  );
  expect(machinesSeen).toBeGreaterThan(50);
});

describe("transit", () => {
  const ticks = (given: ReturnType<typeof belt>, tickS: string) =>
    compile(
      network({
        feeds: [feed("f", "1")],
        machines: [machine("m", "60")],
        connections: [connection("f", "m", { belt: given })],
      }),
      rational(tickS),
    ).belt.transitTicks[0];

  test("is rounded to the nearest tick, but to one at least", () => {
    expect(["0", "0.04", "0.26", "7.5"].map((transitS) => ticks(belt("60", 1000, transitS), "1/10"))).toEqual([
      1, 1, 3, 75,
    ]);
  });

  test("is rounded down where a full belt would lose throughput otherwise", () => {
    // Three items in 1.96 s; 20 ticks of 0.1 s would let through no more than 90/min.
    expect(ticks(belt("4500/49", 3, "1.96"), "1/10")).toBe(19);
    expect(ticks(belt("90", 3, "1.96"), "1/10")).toBe(20);
  });
});

describe("what cannot be counted in 31 bits is refused", () => {
  test.each([
    ["parts of a tick", "1", "1/7654321987"],
    ["ticks", "2000000", "1/2000"],
    ["digits together", "6000000/5999999", "0.0123457"],
  ])("%s", (_, cycleS, tickS) => {
    expect(() => compile(alone(cycleS), rational(tickS))).toThrow(TooFineError);
  });

  test("by the element's name", () => {
    expect(() => compile(alone("1/7654321987"), rational("1"))).toThrow(expect.objectContaining({ element: "m" }));
  });

  test("a transit, too", () => {
    const line = network({
      feeds: [feed("f", "1")],
      machines: [machine("m", "60")],
      connections: [connection("f", "m", { id: "belt", belt: belt("60", 5, "2500000") })],
    });
    expect(() => compile(line, rational("1/1000"))).toThrow(TooFineError);
  });

  test.each<[string, number[] | null]>([
    ["500000", [1, 0]],
    ["1000000", null],
    ["2000000", null],
  ])("or lasts, late in the longest run, as long as it should: %s s", (cycleS, takenAndMade) => {
    const late = MAX_TICKS - 10;
    const start = (): State => {
      const program = compile(alone(cycleS), rational("1/1000"));
      const begun = initialState(program);
      begun.tick = late;
      begun.core.startFrom(late);
      begun.bufferCount[0] = 2;
      while (begun.tick < MAX_TICKS) advanceOneTick(program, begun);
      return begun;
    };
    if (takenAndMade === null) expect(start).toThrow(TooFineError);
    else {
      const { totals } = start();
      expect([totals.taken[0], totals.cycles[0]]).toEqual(takenAndMade);
    }
  });
});

test("a network that names what it does not have is refused", () => {
  const line = network({ feeds: [feed("f", "1")], connections: [connection("f", "nowhere")] });
  expect(() => compile(line, rational("1"))).toThrow("nowhere");
  expect(() => compile(network({ feeds: [feed("f", "1", "unheard-of")] }), rational("1"))).toThrow("unheard-of");
});

test("dividers and merges keep the order of the file for outlets and inlets", () => {
  const line = network({
    feeds: [feed("f", "1")],
    dividers: [divider("d")],
    machines: ["c", "a", "b"].map((id) => machine(id, "1")),
    connections: [connection("d", "b"), connection("f", "d"), connection("d", "c"), connection("d", "a")],
  });
  expect(Array.from(compile(line, rational("1/2")).divider.outlets.values)).toEqual([0, 2, 3]);
});
