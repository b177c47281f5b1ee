/** What is arranged before and during a run: stock, loaded belts, holds, limits, dividers' rules. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { checkConservation } from "../../src/engine/conservation.ts";
import { intervene, prime } from "../../src/engine/priming.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import type { State } from "../../src/engine/state.ts";
import { HELD } from "../../src/engine/states.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import { type Action, compilePriming, type Intervention, type Priming, UNPRIMED } from "../../src/network/priming.ts";
import type { Program } from "../../src/network/program.ts";
import { autoTickS, ticksWithin } from "../../src/network/tick.ts";
import { rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, divider, feed, fingerprint, finishes, machine, run } from "./lines.ts";
import { advanceOneTick } from "./one-tick.ts";
import { AWKWARD, randomNetwork } from "./random-networks.ts";

const SECOND = rational("1/60");
const pouchAt = (id: string) => ({ machine: id, item: "pouch" });
const stocked = (id: string, count: number) => ({ ...pouchAt(id), count });
const planned = (given: Partial<Priming>): Priming => ({ ...UNPRIMED, ...given });
const at = (seconds: number, ...actions: Action[]): Intervention => {
  return { whenFull: null, afterMin: SECOND.mul(whole(seconds)), actions };
};

interface Given {
  readonly tickS?: string;
  readonly minutes?: string;
  readonly stepAll?: boolean;
}

function primed(line: Network, priming: Priming, { tickS, minutes = "60", stepAll = false }: Given = {}): Run {
  const tick = tickS === undefined ? autoTickS(line) : rational(tickS);
  const program = compile(line, tick);
  const horizonTicks = ticksWithin(rational(minutes), tick);
  return simulate(program, { horizonTicks, priming: compilePriming(program, priming), check: true, stepAll });
}

/** Calls back with the state before the first tick and after each. */
function stepped(program: Program, priming: Priming, ticks: number, seen: (state: State) => void): State {
  const compiled = compilePriming(program, priming);
  const state = initialState(program, compiled.interventions.length);
  prime(program, state, compiled);
  seen(state);
  while (state.tick < ticks) {
    advanceOneTick(program, state);
    intervene(program, state, compiled.interventions);
    checkConservation(program, state);
    seen(state);
  }
  return state;
}

/** One machine on a belt; ticks of 1/10 s. */
const ONE_TICK_S = "1/10";
const single = (perMin = "30", cycleS = "2", infeed = 40): Network =>
  network({
    feeds: [feed("feed", perMin)],
    machines: [machine("m", cycleS, { infeed })],
    connections: [connection("feed", "m")],
  });

/** Two machines at a divider, the branch first. */
const pair = (perMin: string, rooms: [number, number], cycleS = "2"): Network =>
  network({
    feeds: [feed("feed", perMin)],
    dividers: [divider("d")],
    machines: [machine("a", cycleS, { infeed: rooms[0] }), machine("b", cycleS, { infeed: rooms[1] })],
    connections: [connection("feed", "d"), connection("d", "a"), connection("d", "b")],
  });

const holdAll = (...machines: string[]): Intervention => at(0, { do: "hold", machines });

describe("stock", () => {
  test("is there before the first tick, as old as the run", () => {
    const program = compile(single(), rational(ONE_TICK_S));
    const seen: number[][] = [];
    const state = stepped(program, planned({ stock: [stocked("m", 40)] }), 200, ({ tick, bufferCount, noted }) => {
      if (tick === 0) seen.push([bufferCount[0] ?? -1, noted.holdUp[0] ?? -1, noted.fullAt[0] ?? -1]);
    });
    expect(seen).toEqual([[40, 40, 0]]);
    expect(state.totals.placed[0]).toBe(40);
    // Cycles begin in ticks 1, 21 … 181, each with the oldest item.
    expect(state.totals.dwellTicks[0]).toBe(1 + 21 + 41 + 61 + 81 + 101 + 121 + 141 + 161 + 181);
  });

  test("alone makes as many products as it holds items, one cycle after another", () => {
    const made = finishes(
      primed({ ...single(), feeds: [feed("feed", "0")] }, planned({ stock: [stocked("m", 5)] })),
      "m",
    );
    const [first = NaN] = made;
    const cycle = (made[1] ?? NaN) - first;
    expect(made).toEqual([0, 1, 2, 3, 4].map((n) => first + n * cycle));
  });
});

describe("a loaded belt", () => {
  test.each([
    ["30", "1/10"],
    ["7", "1/10"],
    ["97.3", "1/10"],
    ["1000/7", "1/7"],
    ["110", "3/25"],
    ["49", "1/49"],
    ["1800/7", "1/10"],
  ])("at %s/min, ticks of %s s, delivers an item an interval from the first moment on", (perMin, tickS) => {
    const count = 30;
    const line = network({
      feeds: [feed("feed", "0")],
      machines: [machine("m", "2", { infeed: 100 })],
      connections: [connection("feed", "m", { id: "b", belt: belt(perMin, count, "60") })],
    });
    const program = compile(line, rational(tickS));
    const arrivals: number[] = [];
    const loads = planned({
      loaded: [{ connection: "b", item: "pouch", count }],
      interventions: [holdAll("m")],
    });
    stepped(program, loads, 3000, ({ tick, bufferCount }) => {
      while (arrivals.length < (bufferCount[0] ?? 0)) arrivals.push(tick);
    });
    const interval = rational("60").div(rational(perMin)).div(rational(tickS));
    const due = Array.from({ length: count }, (_, n) => Math.max(1, Number(interval.mul(whole(n)).ceil().toString())));
    expect(arrivals).toEqual(due);
  });

  test("and a feed at the belt's rate leave no gap between what was loaded and what was fed", () => {
    const line = network({
      feeds: [feed("feed", "30")],
      machines: [machine("m", "2")],
      connections: [connection("feed", "m", { id: "b", belt: belt("30", 11, "20") })],
    });
    const loads = planned({ loaded: [{ connection: "b", item: "pouch", count: 11 }] });
    const made = finishes(primed(line, loads, { minutes: "10", stepAll: true }), "m");
    const gaps = made.slice(1).map((tick, i) => tick - (made[i] ?? NaN));
    expect(new Set(gaps).size).toBe(1);
    expect(made.length).toBe(299);
  });
});

describe("holds", () => {
  test("shift a stocked machine's cycles by exactly the time they last", () => {
    const stock = [stocked("m", 40)];
    const free = finishes(primed(single("0"), planned({ stock }), { tickS: ONE_TICK_S }), "m");
    const held = planned({ stock, interventions: [holdAll("m"), at(60, { do: "release", machines: ["m"] })] });
    const run = primed(single("0"), held, { tickS: ONE_TICK_S });
    expect(finishes(run, "m")).toEqual(free.map((tick) => tick + 600));
    expect(run.totals.stateTicks[HELD]).toBe(600);
  });

  test("let a cycle under way end, and let no other begin", () => {
    const priming = planned({
      stock: [stocked("m", 40)],
      interventions: [at(3, { do: "hold", machines: ["m"] })],
    });
    const run = primed(single("0"), priming, { tickS: ONE_TICK_S, minutes: "1" });
    // Cycles of 2 s begin in ticks 1 and 21; the machine is held after tick 30.
    expect(finishes(run, "m")).toEqual([21, 41]);
    expect(run.totals.stateTicks[HELD]).toBe(600 - 40);
  });

  test("leave the infeed open: a held machine fills up", () => {
    const state = stepped(
      compile(single("60", "2", 12), rational(ONE_TICK_S)),
      planned({ interventions: [holdAll("m")] }),
      600,
      () => {},
    );
    expect([state.bufferCount[0], state.totals.cycles[0], state.totals.fed[0]]).toEqual([12, 0, 12]);
  });
});

describe("limits", () => {
  test("keep a buffer at the level while they last, to the tick", () => {
    const priming = planned({
      interventions: [
        holdAll("m"),
        at(10, { do: "limit", places: [pouchAt("m")], level: 5 }),
        at(30, { do: "limit", places: [pouchAt("m")], level: null }),
      ],
    });
    const levels: number[] = [];
    // An item a second, the first at 1 s.
    stepped(compile(single("60"), rational(ONE_TICK_S)), priming, 600, ({ bufferCount }) => {
      levels.push(bufferCount[0] ?? -1);
    });
    // Full above the limit already: what is in stays in.
    expect([levels[100], levels[300]]).toEqual([10, 10]);
    expect([levels[301], levels[310], levels[320]]).toEqual([11, 12, 13]);
  });

  test("let it drain to the level first", () => {
    const stock = [stocked("m", 20)];
    const priming = planned({ stock, interventions: [at(0, { do: "limit", places: [pouchAt("m")], level: 3 })] });
    const levels: number[] = [];
    stepped(compile(single("60"), rational(ONE_TICK_S)), priming, 1200, ({ bufferCount }) => {
      levels.push(bufferCount[0] ?? -1);
    });
    const reached = levels.findIndex((level) => level <= 3);
    for (const [tick, level] of levels.entries())
      if (tick > 0 && tick < reached) expect(level).toBeLessThanOrEqual(levels[tick - 1] ?? 0);
    expect(Math.max(...levels.slice(reached))).toBe(3);
  });
});

describe("dividers' rules", () => {
  const passedBy = (rule: Action, ticks: number, rooms: [number, number] = [500, 500]): number[] => {
    const line = pair("60", rooms);
    const priming = planned({ interventions: [holdAll("a", "b"), at(0, rule)] });
    const { bufferCount, noted } = stepped(compile(line, rational(ONE_TICK_S)), priming, ticks, () => {});
    expect(noted.holdUp[0]).toBe((bufferCount[0] ?? 0) + (bufferCount[2] ?? 0));
    return Array.from(bufferCount).filter((_, b) => b === 0 || b === 2);
  };
  const divide = (rule: "even" | "ordered" | "last-first" | null): Action => ({ do: "divide", dividers: ["d"], rule });

  test("serve the first, the last, or both in turn", () => {
    expect(passedBy(divide("ordered"), 1000)).toEqual([100, 0]);
    expect(passedBy(divide("last-first"), 1000)).toEqual([0, 100]);
    expect(passedBy(divide("even"), 1000)).toEqual([50, 50]);
    expect(passedBy(divide(null), 1000)).toEqual([50, 50]);
  });

  test("pass on what the one that goes first cannot take", () => {
    expect(passedBy(divide("last-first"), 1000, [500, 30])).toEqual([70, 30]);
    expect(passedBy(divide("ordered"), 1000, [30, 500])).toEqual([30, 70]);
  });

  test("change at the tick stated and back", () => {
    const priming = planned({
      interventions: [holdAll("a", "b"), at(10, divide("last-first")), at(20, divide(null))],
    });
    const counts: string[] = [];
    stepped(compile(pair("60", [500, 500]), rational(ONE_TICK_S)), priming, 300, ({ tick, bufferCount }) => {
      if (tick % 100 === 0) counts.push(`${bufferCount[0]}, ${bufferCount[2]}`);
    });
    expect(counts).toEqual(["0, 0", "5, 5", "5, 15", "10, 20"]);
  });
});

describe("whenFull", () => {
  test("waits for all its buffers, then for its time", () => {
    const waits = (afterS: number): number[] => {
      const release: Intervention = {
        whenFull: [pouchAt("a"), pouchAt("b")],
        afterMin: SECOND.mul(whole(afterS)),
        actions: [{ do: "release", machines: ["a", "b"] }],
      };
      const run = primed(pair("60", [5, 9]), planned({ interventions: [holdAll("a", "b"), release] }), {
        tickS: ONE_TICK_S,
        minutes: "2",
      });
      return [finishes(run, "a")[0] ?? -1, finishes(run, "b")[0] ?? -1];
    };
    // An item a second: five and nine are in after 14 s, tick 140; a cycle begins in the next and takes 20 ticks.
    expect(waits(0)).toEqual([161, 161]);
    expect(waits(7)).toEqual([231, 231]);
  });

  test("a level beyond its room leaves a buffer its room", () => {
    const level = at(0, { do: "limit", places: [pouchAt("m")], level: 50 });
    const line = single("120", "2", 10);
    const limited = primed(line, planned({ interventions: [level] }), { minutes: "4" });
    expect(Math.max(...limited.noted.high)).toBe(10);
    expect(fingerprint(limited)).toBe(fingerprint(run(line, { minutes: "4" })));
  });

  test("is met before the first tick by stock, and by a limit as by room", () => {
    const release = (level: number | null): Intervention[] => [
      holdAll("m"),
      at(0, { do: "limit", places: [pouchAt("m")], level }),
      { whenFull: [pouchAt("m")], afterMin: ZERO, actions: [{ do: "release", machines: ["m"] }] },
    ];
    const firstMade = (count: number, level: number | null) =>
      finishes(
        primed(single("60"), planned({ stock: [stocked("m", count)], interventions: release(level) }), {
          tickS: ONE_TICK_S,
        }),
        "m",
      )[0];
    expect(firstMade(40, null)).toBe(21);
    expect(firstMade(12, 12)).toBe(21);
    // Three items more, one a second.
    expect(firstMade(12, 15)).toBe(30 + 21);
  });
});

describe("recurrence", () => {
  const minute = (run: Run): number => (run.recurrence?.atTick ?? Infinity) / 600;

  test("is proved only after the last timed intervention", () => {
    const plain = primed(single(), UNPRIMED, { tickS: ONE_TICK_S });
    const held = planned({ interventions: [at(1800, { do: "hold", machines: ["m"] })] });
    const run = primed(single(), held, { tickS: ONE_TICK_S });
    expect(minute(plain)).toBeLessThan(1);
    expect(minute(run)).toBeGreaterThan(30);
    expect(run.recurrence?.period.cycles[0]).toBe(0);
  });

  test("does not wait for buffers that never get full", () => {
    const never: Intervention = {
      whenFull: [pouchAt("m")],
      afterMin: ZERO,
      actions: [{ do: "hold", machines: ["m"] }],
    };
    expect(minute(primed(single(), planned({ interventions: [never] }), { tickS: ONE_TICK_S }))).toBeLessThan(1);
  });

  test("waits for the time after buffers have got full", () => {
    const later: Intervention = {
      whenFull: [pouchAt("m")],
      afterMin: whole(20),
      actions: [{ do: "hold", machines: ["m"] }],
    };
    const run = primed(single("60", "2", 5), planned({ interventions: [later] }), { tickS: ONE_TICK_S });
    expect(minute(run)).toBeGreaterThan(20);
    expect(run.recurrence?.period.cycles[0]).toBe(0);
  });
});

test("over random networks, nothing arranged is nothing changed", () => {
  fc.assert(
    fc.property(fc.oneof(randomNetwork(), randomNetwork(AWKWARD)), (line) => {
      expect(fingerprint(primed(line, UNPRIMED, { minutes: "4" }))).toBe(fingerprint(run(line, { minutes: "4" })));
    }),
    { numRuns: 40 },
  );
});

test("over random networks and plans, every item placed is accounted for, and leaping gives what stepping gives", () => {
  let proved = 0;
  fc.assert(
    fc.property(
      randomNetwork().chain((line) => fc.tuple(fc.constant(line), randomPlan(line))),
      ([line, priming]) => {
        const leapt = primed(line, priming, { minutes: "15" });
        const all = primed(line, priming, { minutes: "15", stepAll: true });
        const last = Math.max(
          0,
          ...priming.interventions.filter(({ whenFull }) => !whenFull).map(({ afterMin }) => afterMin.valueOf()),
        );
        if (leapt.recurrence) {
          proved++;
          expect(
            (leapt.recurrence.atTick - leapt.recurrence.periodTicks) * leapt.program.tickS.valueOf(),
          ).toBeGreaterThanOrEqual(last * 60 - 1e-9);
        }
        const { dwellTicks: _, ...leaptTotals } = leapt.totals;
        const { dwellTicks: __, ...allTotals } = all.totals;
        expect(leaptTotals).toEqual(allTotals);
        for (const [item, name] of line.items.entries()) {
          const placed = [...priming.stock, ...priming.loaded].reduce(
            (n, one) => n + (one.item === name ? one.count : 0),
            0,
          );
          expect(all.totals.placed[item]).toBe(placed);
          const fed = all.totals.fed.reduce(
            (n, count, f) => n + (line.feeds[f]?.items[0]?.item === name ? count : 0),
            0,
          );
          const out = (all.totals.taken[item] ?? 0) + (all.totals.left[item] ?? 0) + (all.noted.holdUp[item] ?? 0);
          expect(out).toBe(placed + fed + (all.totals.made[item] ?? 0));
        }
      },
    ),
    { numRuns: 120 },
  );
  expect(proved).toBeGreaterThan(40);
});

/** Stock and loads with room, and up to four interventions, timed in the first five minutes or waiting for buffers. */
function randomPlan(line: Network): fc.Arbitrary<Priming> {
  const places = line.machines.flatMap(({ id, infeed }) =>
    infeed.map(({ item, count }) => ({ machine: id, item, count })),
  );
  const belts = line.connections.flatMap(({ id, belt: own, to, only }) =>
    own &&
    only === null &&
    line.machines.some((one) => one.id === to && one.infeed.some(({ item }) => item === "pouch"))
      ? [{ id, capacity: own.capacity }]
      : [],
  );
  const ids = line.machines.map(({ id }) => id);
  const dividers = line.dividers.map(({ id }) => id);
  const anyOf = <T>(values: readonly T[]) => fc.subarray([...values]);
  const action = fc.oneof(
    fc.record({ do: fc.constantFrom("hold" as const, "release" as const), machines: anyOf(ids) }),
    fc.record({
      do: fc.constant("limit" as const),
      places: anyOf(places.map(({ machine: id, item }) => ({ machine: id, item }))),
      level: fc.option<number>(fc.integer({ min: 1, max: 8 })),
    }),
    fc.record({
      do: fc.constant("divide" as const),
      dividers: anyOf(dividers),
      rule: fc.constantFrom("even" as const, "ordered" as const, "last-first" as const, null),
    }),
  );
  return fc.record({
    stock: fc.tuple(
      ...places.map(({ machine: id, item, count }) =>
        fc.integer({ min: 0, max: count }).map((n) => ({ machine: id, item, count: n })),
      ),
    ),
    loaded: fc.tuple(
      ...belts.map(({ id, capacity }) =>
        fc.integer({ min: 0, max: capacity }).map((n) => ({ connection: id, item: "pouch", count: n })),
      ),
    ),
    interventions: fc.array(
      fc.record({
        whenFull: fc.option(anyOf(places.map(({ machine: id, item }) => ({ machine: id, item })))),
        afterMin: fc.integer({ min: 0, max: 300 }).map((seconds) => SECOND.mul(whole(seconds))),
        actions: fc.array(action, { minLength: 1, maxLength: 2 }),
      }),
      { maxLength: 4 },
    ),
  });
}

test("a plan that names what is not there is refused", () => {
  const program = compile(single(), rational(ONE_TICK_S));
  expect(() => compilePriming(program, planned({ stock: [stocked("n", 1)] }))).toThrow(/n$/);
});
