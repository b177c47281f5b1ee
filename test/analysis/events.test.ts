/** Trains of finished cycles and their moving average, against counting tick by tick. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  amountUpTo,
  asTrain,
  type Events,
  eventsByMaker,
  eventsOf,
  eventsUpTo,
  repeatsFrom,
  type Train,
} from "../../src/analysis/events.ts";
import { averageAt } from "../../src/analysis/moving-average.ts";
import { whole } from "../../src/quantity/rational.ts";
import { equalChain } from "./flow-networks.ts";
import { runNetwork, withoutBelts } from "./runs.ts";

/** Products by tick, from tick 1 on. */
type Ticks = readonly number[];

function eventsIn(ticks: Ticks): Events {
  const events = ticks.flatMap((amount, i) => (amount > 0 ? [{ tick: i + 1, amount }] : []));
  return {
    count: events.length,
    tick: Int32Array.from(events, ({ tick }) => tick),
    amount: Float64Array.from(events, ({ amount }) => amount),
  };
}

/** Known to its end; with a period it goes on. */
function known(ticks: Ticks, periodTicks: number | null = null): Train {
  return { ...asTrain(eventsIn(ticks), { recurrence: null, steppedTicks: ticks.length }), periodTicks };
}

/** Products in (from, to]. */
function countIn(ticks: Ticks, from: number, to: number): number {
  let total = 0;
  for (let tick = Math.max(1, from + 1); tick <= to; tick++) total += ticks[tick - 1] ?? 0;
  return total;
}

const trains = (minLength = 1): fc.Arbitrary<number[]> =>
  fc.array(fc.oneof({ weight: 2, arbitrary: fc.constant(0) }, fc.integer({ min: 1, max: 3 })), {
    minLength,
    maxLength: 60,
  });

test("products up to a tick", () => {
  fc.assert(
    fc.property(trains(), fc.nat(70), (ticks, upTo) => {
      expect(amountUpTo(known(ticks), upTo)).toBe(countIn(ticks, 0, upTo));
    }),
  );
});

describe("the moving average", () => {
  test("at any tick: half a window to either side, as far as the train is known", () => {
    fc.assert(
      fc.property(trains(), fc.integer({ min: 2, max: 70 }), fc.nat(59), (ticks, window, at) => {
        const tick = Math.min(at, ticks.length);
        const half = Math.floor(window / 2);
        const to = Math.min(tick + half, ticks.length);
        const expected = countIn(ticks, tick - half, to) / (to - tick + half);
        expect(averageAt(known(ticks), window, tick, ticks.length)).toBeCloseTo(expected, 12);
      }),
      { numRuns: 500 },
    );
  });
});

describe("repeating for good", () => {
  /** A start of any kind, then a pattern, again and again, broken off anywhere once it has been seen twice. */
  const repeating = fc.record({
    start: fc.array(fc.nat(2), { maxLength: 20 }),
    pattern: fc.array(fc.nat(2), { minLength: 1, maxLength: 8 }),
    times: fc.integer({ min: 2, max: 4 }),
    more: fc.nat(7),
  });
  const trainOf = ({
    start,
    pattern,
    times,
    more,
  }: {
    start: number[];
    pattern: number[];
    times: number;
    more: number;
  }) => start.concat(...new Array<number[]>(times).fill(pattern), pattern.slice(0, more));

  /** The first tick such that every tick from it on does as the tick a period later. */
  function firstRepeated(ticks: Ticks, period: number): number {
    let from = ticks.length - period + 1;
    while (from > 1 && ticks[from - 2] === ticks[from - 2 + period]) from--;
    return from === 1 ? 0 : from;
  }

  test("from the first tick of which that is true", () => {
    fc.assert(
      fc.property(repeating, (given) => {
        const ticks = trainOf(given);
        const period = given.pattern.length;
        expect(repeatsFrom(eventsIn(ticks), period, ticks.length)).toBe(firstRepeated(ticks, period));
      }),
      { numRuns: 1000 },
    );
  });

  test("the same, if two periods are taken for one", () => {
    fc.assert(
      fc.property(repeating, (given) => {
        const events = eventsIn(trainOf({ ...given, times: 4 }));
        const end = trainOf({ ...given, times: 4 }).length;
        const period = given.pattern.length;
        expect(repeatsFrom(events, 2 * period, end)).toBe(repeatsFrom(events, period, end));
      }),
      { numRuns: 300 },
    );
  });

  test("carried on, as if it had been recorded for longer", () => {
    fc.assert(
      fc.property(repeating, fc.nat(40), (given, further) => {
        const ticks = trainOf(given);
        const end = ticks.length;
        const period = given.pattern.length;
        const train = known(ticks, period);
        const more = Array.from({ length: further }, (_, i) => given.pattern[(given.more + i) % period] ?? 0);
        fc.pre(given.more <= period);
        expect(eventsUpTo(train, end + further)).toEqual(eventsIn([...ticks, ...more]));
        expect(amountUpTo(train, end + further)).toBe(countIn([...ticks, ...more], 0, end + further));
      }),
      { numRuns: 300 },
    );
  });

  test("an empty train repeats from the start", () => {
    expect(repeatsFrom(eventsIn([0, 0, 0]), 1, 3)).toBe(0);
  });
});

test("a run's cycles, all together and machine by machine", () => {
  const { run } = runNetwork(withoutBelts(equalChain(3, whole(24), 10, whole(72))), whole(10));
  const { completions } = run;
  const own = eventsByMaker(run);
  expect(own.map(({ count }) => count).reduce((a, b) => a + b)).toBe(completions.count);
  for (const [machine, { tick, amount }] of own.entries()) {
    const alone = eventsOf(run, (m) => (m === machine ? 1 : 0));
    expect([...tick]).toEqual([...alone.tick]);
    expect([...amount]).toEqual([...alone.amount]);
  }
  const all = eventsOf(run, (m) => 10 ** m);
  expect([...all.tick].every((tick, i) => i === 0 || tick > (all.tick[i - 1] ?? 0))).toBe(true);
  const total = own.reduce((sum, { count }, m) => sum + count * 10 ** m, 0);
  expect(amountUpTo(asTrain(all, run), run.steppedTicks)).toBe(total);
});
