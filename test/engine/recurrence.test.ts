/**
 * A run that is proved to repeat is leapt over. The reference is the same run stepped to the end, without a look for
 * recurrences.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { PLACE, PLACE_INTS } from "../../src/engine/record-offsets.ts";
import { type Recurrence, watchForRecurrence } from "../../src/engine/recurrence.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { rational } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, finishes, machine, profiled, run, settledCycles } from "./lines.ts";
import { advanceOneTick } from "./one-tick.ts";
import { randomNetwork } from "./random-networks.ts";

interface Pair {
  readonly leapt: Run;
  readonly stepped: Run;
}

function bothWays(line: Network, horizonTicks: number): Pair {
  const program = compile(line, autoTickS(line));
  return { leapt: simulate(program, { horizonTicks }), stepped: simulate(program, { horizonTicks, stepAll: true }) };
}

/** Everything but the times that single items have taken. */
function counts({ totals, noted, openCycleTicks }: Run) {
  const { dwellTicks, all, ...others } = totals;
  const { low, high, beltLow, beltHigh, longestDwell, ...firsts } = noted;
  return { others, firsts, openCycleTicks };
}

const randomHorizon = fc.integer({ min: 1, max: 10_000 });

test("leapt over or stepped through, totals and what is noted at the horizon are the same", () => {
  let leaps = 0;
  fc.assert(
    fc.property(randomNetwork(), randomHorizon, (line, horizonTicks) => {
      const { leapt, stepped } = bothWays(line, horizonTicks);
      expect(counts(leapt)).toEqual(counts(stepped));
      if (leapt.steppedTicks < horizonTicks) leaps++;
    }),
  );
  expect(leaps).toBeGreaterThan(30);
});

test("so are the times that items have taken", () => {
  fc.assert(
    fc.property(randomNetwork(), randomHorizon, (line, horizonTicks) => {
      const { leapt, stepped } = bothWays(line, horizonTicks);
      expect(leapt.totals.dwellTicks).toEqual(stepped.totals.dwellTicks);
      expect(leapt.noted.longestDwell).toBe(stepped.noted.longestDwell);
    }),
  );
});

test("what fills a slow machine's buffer at once takes as long to leave as is stepped through", () => {
  // The buffer of 50 is full after a minute and the line repeats every minute from then on, but the item that came in
  // last is taken 50 minutes later.
  const line = network({
    feeds: [profiled("feed", [["0", "60"]])],
    machines: [machine("slow", "60", { infeed: 50 })],
    connections: [connection("feed", "slow")],
  });
  const { leapt, stepped } = bothWays(line, 60 * 60 * 4);
  expect(leapt.noted.longestDwell).toBe(stepped.noted.longestDwell);
  expect(leapt.totals.dwellTicks[0]).toBe(stepped.totals.dwellTicks[0]);
});

test("the cycles finished in the stepped part are those of the reference", () => {
  let cycles = 0;
  fc.assert(
    fc.property(randomNetwork(), (line) => {
      const { leapt, stepped } = bothWays(line, 6000);
      for (const { id } of line.machines) {
        const reference = finishes(stepped, id).filter((tick) => tick <= leapt.steppedTicks);
        expect(finishes(leapt, id)).toEqual(reference);
        cycles += reference.length;
      }
    }),
    { numRuns: 60 },
  );
  expect(cycles).toBeGreaterThan(200);
});

test("each sample holds the levels, states and stock of its tick, however the spacing has grown", () => {
  const line = network({
    feeds: [profiled("feed", [["0", "60"]])],
    machines: [machine("m", "3/2", { infeed: 900 })],
    connections: [connection("feed", "m", { belt: belt("90", 5, "2") })],
  });
  for (const horizonTicks of [1, 7, 1023, 1024, 1025, 5000]) {
    const program = compile(line, autoTickS(line));
    const { samples } = simulate(program, { horizonTicks, stepAll: true });
    const ticks = Array.from(samples.tick.subarray(0, samples.count));
    expect(ticks.at(-1)).toBe(horizonTicks);
    expect(ticks.slice(0, -1)).toEqual(ticks.slice(0, -1).map((_, i) => (i + 1) * samples.everyTicks));
    const state = initialState(program);
    for (const [i, tick] of ticks.entries()) {
      while (state.tick < tick) advanceOneTick(program, state);
      expect(samples.level.subarray(2 * i, 2 * i + 2)).toEqual(state.bufferCount);
      expect(Array.from(samples.holdUp.subarray(2 * i, 2 * i + 2))).toEqual(Array.from(state.noted.holdUp));
      expect(Array.from(samples.stateTicks.subarray(5 * i, 5 * i + 5))).toEqual(Array.from(state.totals.stateTicks));
    }
  }
});

describe("what is proved", () => {
  test("is a true period: every machine goes on finishing its cycles in its rhythm", () => {
    let proofs = 0;
    fc.assert(
      fc.property(randomNetwork(), (line) => {
        const { leapt, stepped } = bothWays(line, 7000);
        if (leapt.recurrence === null) return;
        const { atTick, periodTicks } = leapt.recurrence;
        proofs++;
        for (const { id } of line.machines) {
          const ticks = finishes(stepped, id).filter((tick) => tick > atTick - periodTicks);
          const set = new Set(ticks);
          const last = stepped.horizonTicks - periodTicks;
          expect(ticks.filter((tick) => tick <= last).every((tick) => set.has(tick + periodTicks))).toBe(true);
          expect(ticks.filter((tick) => tick > atTick).every((tick) => set.has(tick - periodTicks))).toBe(true);
        }
      }),
      { numRuns: 60 },
    );
    expect(proofs).toBeGreaterThan(30);
  });

  test("takes in the kinds under way: every third another, and the period is three times as long", () => {
    const line = network({
      feeds: [profiled("feed", [["0", "60"]])],
      outlets: [{ id: "out", item: null }],
      connections: [connection("feed", "out", { belt: belt("90", 9, "4") })],
    });
    const periodWith = (every: number): number | undefined => {
      const program = compile(line, rational("1/10"));
      const state = initialState(program);
      const watch = watchForRecurrence(program, state);
      for (let found: Recurrence | null = null; state.tick < 2000; found = watch.observe(state)) {
        if (found) return found.periodTicks;
        const fed = state.totals.fed[0] ?? 0;
        advanceOneTick(program, state);
        if (state.totals.fed[0] === fed) continue;
        state.places[(fed % (program.belt.capacity[0] ?? 0)) * PLACE_INTS + PLACE.item] = fed % every === 0 ? 0 : 1;
      }
      return undefined;
    };
    // Four are always under way, so that every state shows where in the pattern the feed is.
    expect([1, 3].map(periodWith)).toEqual([10, 30]);
  });

  test("are the rates of a run ten periods longer", () => {
    let proved = 0;
    fc.assert(
      fc.property(randomNetwork(), (line) => {
        const program = compile(line, autoTickS(line));
        const { recurrence } = simulate(program, { horizonTicks: 6000 });
        if (recurrence === null) return;
        proved++;
        const { atTick, periodTicks, period } = recurrence;
        const [before, after] = [0, 10].map((periods) => {
          return simulate(program, { horizonTicks: atTick + periods * periodTicks, stepAll: true }).totals;
        });
        for (const field of [
          "fed",
          "passed",
          "taken",
          "made",
          "left",
          "cycles",
          "stateTicks",
          "holdUpTicks",
        ] as const) {
          const added = after?.[field].map((count, i) => count - (before?.[field][i] ?? 0));
          expect([field, added]).toEqual([field, period[field].map((count) => 10 * count)]);
        }
      }),
      { numRuns: 60 },
    );
    expect(proved).toBeGreaterThan(40);
  });

  test("is not changed by a longer horizon", () => {
    let proved = 0;
    let settled = 0;
    fc.assert(
      fc.property(randomNetwork(), fc.integer({ min: 100, max: 5000 }), (line, horizonTicks) => {
        const program = compile(line, autoTickS(line));
        const short = simulate(program, { horizonTicks });
        const long = simulate(program, { horizonTicks: 3 * horizonTicks });
        if (short.recurrence) expect(long.recurrence).toEqual(short.recurrence);
        if (short.settledPeriod) expect(long.settledPeriod).toEqual(short.settledPeriod);
        if (short.recurrence) proved++;
        if (short.settledPeriod) settled++;
      }),
      { numRuns: 60 },
    );
    expect(proved).toBeGreaterThan(10);
    expect(settled).toBeGreaterThan(5);
  });

  const stops = (steps: readonly (readonly [string, string])[]) =>
    network({
      feeds: [profiled("feed", steps)],
      machines: [machine("m", "1/2")],
      connections: [connection("feed", "m", { belt: belt("90", 5, "2") })],
    });
  const STEPS = [
    ["0", "60"],
    ["40", "30"],
    ["50", "0"],
    ["55", "20"],
  ] as const;
  const ticksPerMin = 600;

  test("is nothing before the feed's last step", () => {
    for (let length = 1; length <= STEPS.length; length++) {
      const [fromMin, perMin] = STEPS[length - 1] ?? [];
      const found = run(stops(STEPS.slice(0, length)), { minutes: "120" });
      const { atTick, periodTicks } = found.recurrence ?? { atTick: 0, periodTicks: 0 };
      expect(atTick - periodTicks).toBeGreaterThanOrEqual(Number(fromMin) * ticksPerMin);
      expect(settledCycles(found, "m")).toBe(perMin);
    }
  });

  test("is found as soon after a late step as after the start", () => {
    for (let length = 1; length <= STEPS.length; length++) {
      const [fromMin] = STEPS[length - 1] ?? [];
      const { recurrence } = run(stops(STEPS.slice(0, length)));
      expect(recurrence?.atTick).toBeLessThan((Number(fromMin) + 1) * ticksPerMin);
    }
  });

  test("is not with a state in which a step was still to come", () => {
    // 10 ticks before an item is due the line is empty; the step puts it off, and 10 ticks before it is then due, again.
    const line = network({
      feeds: [
        profiled("feed", [
          ["0", "2"],
          ["629/60", "10"],
        ]),
      ],
      machines: [machine("m", "1/60")],
      connections: [connection("feed", "m")],
    });
    expect(settledCycles(run(line, { tickS: "1/10" }), "m")).toBe("10");
  });

  test("is nothing where the horizon is shorter than a period", () => {
    // 59 items come in every 61 minutes.
    const line = network({
      feeds: [profiled("feed", [["0", "59/61"]])],
      machines: [machine("m", "7")],
      connections: [connection("feed", "m")],
    });
    const found = run(line, { minutes: "60" });
    expect(found.recurrence).toBeNull();
    expect(found.settledPeriod).toBeNull();
    expect(found.steppedTicks).toBe(found.horizonTicks);
  });
});
