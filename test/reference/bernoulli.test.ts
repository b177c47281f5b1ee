/**
 * The references for Bernoulli lines against one another: closed form, Markov chain over all levels, aggregation; and the values
 * that stand for them (J. Li, S. M. Meerkov, Production Systems Engineering, Springer 2009, chapter 4; S. M. Meerkov, L. Zhang,
 * "Transient behavior of serial production lines with Bernoulli machines", IIE Transactions 40(3), 2008).
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { type BernoulliLine, bernoulliLine, type Start, startLevels } from "./bernoulli-line.ts";
import { aggregated, bernoulliPair, emptyShare } from "./bernoulli-pair.ts";
import { holdingLine } from "./holding-line.ts";

const chance = fc.double({ min: 0.05, max: 0.98, noNaN: true });
const room = fc.integer({ min: 1, max: 8 });
const up = (p: number, machines: number): number[] => new Array<number>(machines).fill(p);

describe("two machines", () => {
  test.each([
    [0.9, 0.9, 1, 9 / 11, 10 / 11],
    [0.9, 0.9, 5, 15 / 17, 50 / 17],
    [0.8, 0.8, 4, 16 / 21, 50 / 21],
    [0.5, 0.6, 2, 15 / 34, 35 / 34],
    [0.9, 0.7, 3, 60921 / 87373, 235260 / 87373],
    [0.95, 0.95, 5, 95 / 101, 300 / 101],
  ])("p1 %f, p2 %f, room %i: the known rate and mean level, by both methods", (p1, p2, n, rate, buffer) => {
    for (const found of [bernoulliPair(p1, p2, n), asPair(bernoulliLine({ p: [p1, p2], rooms: [n] }))]) {
      expect(found.rate).toBeCloseTo(rate, 13);
      expect(found.buffer).toBeCloseTo(buffer, 12);
    }
  });

  test.each([
    [0.9, 0.9, 2, 0.85714286],
    [0.8, 0.9, 3, 0.79153579],
    [0.9, 0.7, 5, 0.69981763],
    [0.95, 0.95, 10, 0.94527363],
  ])("p1 %f, p2 %f, room %i: the known rate to eight places", (p1, p2, n, rate) => {
    expect(bernoulliPair(p1, p2, n).rate).toBeCloseTo(rate, 8);
    expect(bernoulliLine({ p: [p1, p2], rooms: [n] }).rate).toBeCloseTo(rate, 8);
  });

  test("closed form and chain agree on rate, level, starving and blocking for any two machines", () => {
    fc.assert(
      fc.property(chance, chance, room, (p1, p2, n) => {
        const line = asPair(bernoulliLine({ p: [p1, p2], rooms: [n] }));
        const pair = bernoulliPair(p1, p2, n);
        expect(line.rate).toBeCloseTo(pair.rate, 10);
        expect(line.buffer).toBeCloseTo(pair.buffer, 9);
        expect(line.starved).toBeCloseTo(pair.starved, 10);
        expect(line.blocked).toBeCloseTo(pair.blocked, 10);
        expect(line.rate).toBeCloseTo(p1 - pair.blocked, 10);
      }),
    );
  });

  test("near equal machines neither form loses its digits", () => {
    for (const apart of [1e-3, 1e-5, 1e-6, 1e-8, 1e-10]) {
      const line = asPair(bernoulliLine({ p: [0.9, 0.9 + apart], rooms: [5] }));
      expect(bernoulliPair(0.9, 0.9 + apart, 5).rate).toBeCloseTo(line.rate, 8);
      expect(bernoulliPair(0.9, 0.9 + apart, 5).buffer).toBeCloseTo(line.buffer, 6);
    }
    expect(emptyShare(0.9, 0.9, 5)).toBeCloseTo(0.1 / 5.1, 15);
  });

  test("had both machines looked at the old level, the rate would be another", () => {
    // The trap of the step order: 0.87857 in place of 0.88235.
    expect(bernoulliLine({ p: [0.9, 0.9], rooms: [5] }).rate).toBeGreaterThan(0.8823);
  });
});

describe("longer lines", () => {
  test.each([
    [up(0.9, 3), [2, 2], 0.83188727],
    [up(0.9, 3), [3, 3], 0.85563103],
    [up(0.9, 5), [3, 3, 3, 3], 0.83946662],
    [[0.8, 0.9, 0.85, 0.9], [2, 3, 2], 0.75914934],
    [[0.7, 0.8, 0.9, 0.8, 0.7], [2, 2, 2, 2], 0.61154342],
  ])("up %j with rooms %j make the known rate", (p, rooms, rate) => {
    const line = bernoulliLine({ p, rooms });
    expect(line.rate).toBeCloseTo(rate, 8);
    // What each machine makes is the same: up less starved less blocked.
    for (const [m, one] of p.entries()) {
      expect(one - (line.starved[m] ?? 0) - (line.blocked[m] ?? 0)).toBeCloseTo(line.rate, 12);
    }
  });

  test("a line read backwards makes as much (reversibility)", () => {
    fc.assert(
      fc.property(fc.tuple(chance, chance, chance), fc.tuple(room, room), (p, rooms) => {
        fc.pre(rooms[0] * rooms[1] <= 20);
        const there = bernoulliLine({ p, rooms });
        const back = bernoulliLine({ p: p.toReversed(), rooms: rooms.toReversed() });
        expect(back.rate).toBeCloseTo(there.rate, 10);
      }),
      { numRuns: 40 },
    );
  });

  test("the levels of each buffer are a distribution with the buffer's mean", () => {
    const line = bernoulliLine({ p: [0.8, 0.9, 0.85, 0.9], rooms: [2, 3, 2] });
    for (const [b, mean] of line.buffers.entries()) {
      const levels = line.levels(b);
      expect(levels.reduce((sum, share) => sum + share, 0)).toBeCloseTo(1, 12);
      expect(levels.reduce((sum, share, level) => sum + level * share, 0)).toBeCloseTo(mean, 12);
    }
  });

  test("aggregation is exact for two machines", () => {
    fc.assert(
      fc.property(chance, chance, room, (p1, p2, n) => {
        expect(aggregated([p1, p2], [n]).rate).toBeCloseTo(bernoulliPair(p1, p2, n).rate, 10);
      }),
    );
  });

  test("aggregation: both ends say the same, and its error is under 1 % with room for three or more", () => {
    // The size of the error is measured here against the chain; the book speaks of about 1 % in usual cases (from memory).
    for (const p of [up(0.9, 3), up(0.9, 5), up(0.8, 4), [0.8, 0.9, 0.85, 0.9], [0.95, 0.85, 0.9]]) {
      const rooms = up(3, p.length - 1);
      const found = aggregated(p, rooms);
      const exact = bernoulliLine({ p, rooms }).rate;
      expect(found.backward[0]).toBeCloseTo(found.rate, 12);
      expect(Math.abs(found.rate / exact - 1)).toBeLessThan(0.01);
    }
  });

  test("aggregation of five unlike machines with two places each is out by 2.2 %, of slack ones with one by 3.7 %", () => {
    const unlike = aggregated([0.7, 0.8, 0.9, 0.8, 0.7], up(2, 4)).rate;
    expect(unlike / 0.61154342 - 1).toBeCloseTo(0.022, 3);
    const slack = { p: up(0.6, 5), rooms: up(1, 4) };
    expect(aggregated(slack.p, slack.rooms).rate / bernoulliLine(slack).rate - 1).toBeCloseTo(-0.0367, 3);
  });
});

describe("machines that hold what they work on", () => {
  test("with two of them it is the same line", () => {
    fc.assert(
      fc.property(chance, chance, room, (p1, p2, n) => {
        const holding = holdingLine({ p: [p1, p2], rooms: [n] });
        const pair = bernoulliPair(p1, p2, n);
        expect(holding.rate).toBeCloseTo(pair.rate, 10);
        expect(holding.buffers[0]).toBeCloseTo(pair.buffer, 9);
      }),
    );
  });

  test("reliable machines make an item a slot, and with ample room the slowest counts alone", () => {
    // By hand: 1, 1, 1 makes an item a slot whatever the rooms.
    expect(holdingLine({ p: [1, 1, 1], rooms: [1, 1] }).rate).toBeCloseTo(1, 12);
    // Far apart, the slowest machine alone counts, as in the book.
    expect(holdingLine({ p: [0.99, 0.5, 0.99], rooms: [6, 6] }).rate).toBeCloseTo(0.5, 6);
  });

  test.each([
    [up(0.9, 3), [2, 2], 0.00052],
    [up(0.9, 3), [3, 3], 0.00011],
    [up(0.9, 3), [5, 5], 0.000015],
    [[0.8, 0.9, 0.85, 0.9], [2, 3, 2], 0.00126],
    [[0.7, 0.8, 0.9, 0.8, 0.7], [2, 2, 2, 2], 0.00813],
  ])("up %j with rooms %j: by so much more than the book's line", (p, rooms, more) => {
    expect(holdingLine({ p, rooms }).rate / bernoulliLine({ p, rooms }).rate - 1).toBeCloseTo(more, 5);
  });
});

describe("transients", () => {
  test("two machines of 0.9 with room for five: the first slots from empty", () => {
    const { rate } = bernoulliLine({ p: [0.9, 0.9], rooms: [5] }).transient(6, "empty");
    for (const [slot, known] of [0, 0.81, 0.8181, 0.824742, 0.83025405, 0.83488153].entries()) {
      expect(rate[slot]).toBeCloseTo(known, 8);
    }
  });

  test.each([
    { p: up(0.9, 2), rooms: [5], rateFrom: 7, levelFrom: 78, losses: [2.357, -0.269, -0.898], second: 0.966858 },
    { p: up(0.9, 2), rooms: [10], rateFrom: 10, levelFrom: 312, losses: [3.26, -0.326, -0.94], second: 0.99136 },
    { p: up(0.8, 2), rooms: [5], rateFrom: 12, levelFrom: 46, losses: [2.64, -0.356, -1.102], second: null },
    { p: up(0.6, 2), rooms: [10], rateFrom: 30, levelFrom: 127, losses: [5.761, -0.534, -2.593], second: null },
    { p: up(0.9, 5), rooms: up(5, 4), rateFrom: 37, levelFrom: 165, losses: [9.196, -1.176, -2.586], second: null },
  ])(
    "up $p with rooms $rooms: within 5 % from slots $rateFrom and $levelFrom, and what is lost in 100 slots",
    (given) => {
      const line = bernoulliLine(given);
      const { rate, buffers } = line.transient(1000, "empty");
      expect(withinFrom(rate, line.rate)).toBe(given.rateFrom);
      expect(withinFrom(buffers.map(sum), sum(line.buffers))).toBe(given.levelFrom);
      const losses = (["empty", "half-full", "full"] as const).map((start) => lossPercent(line, start));
      for (const [i, loss] of losses.entries()) expect(loss).toBeCloseTo(given.losses[i] ?? Number.NaN, 3);
      // The fuller the start, the less is lost (Meerkov and Zhang 2008).
      expect(losses.toSorted((a, b) => b - a)).toEqual(losses);
      if (given.second !== null) expect(line.secondEigenvalue()).toBeCloseTo(given.second, 6);
    },
  );

  test("the second eigenvalue is the rate at which the start is forgotten", () => {
    const line = bernoulliLine({ p: [0.8, 0.8], rooms: [5] });
    const { rate } = line.transient(200, "empty");
    const left = (slot: number): number => (rate[slot] ?? 0) - line.rate;
    expect(left(150) / left(149)).toBeCloseTo(line.secondEigenvalue(), 8);
  });

  test("from any start the line comes to its stationary rate and levels", () => {
    const line = bernoulliLine({ p: [0.7, 0.9, 0.8], rooms: [3, 2] });
    for (const start of ["empty", "half-full", "full", [1, 2]] satisfies Start[]) {
      const { rate, buffers } = line.transient(400, start);
      expect(rate.at(-1)).toBeCloseTo(line.rate, 10);
      for (const [b, level] of (buffers.at(-1) ?? []).entries()) expect(level).toBeCloseTo(line.buffers[b] ?? 0, 10);
    }
  });

  test("half of an odd room is rounded up", () => {
    expect(startLevels("half-full", [4, 5])).toEqual([2, 3]);
  });
});

function asPair({ rate, buffers, starved, blocked }: BernoulliLine) {
  return {
    rate,
    buffer: buffers[0] ?? Number.NaN,
    starved: starved[1] ?? Number.NaN,
    blocked: blocked[0] ?? Number.NaN,
  };
}

/** The first slot, counted from 1, from which all are within 5 % of the end. */
function withinFrom(values: readonly number[], end: number): number {
  const last = values.findLastIndex((value) => Math.abs(value - end) > 0.05 * end);
  return last + 2;
}

function lossPercent(line: BernoulliLine, start: Start): number {
  const slots = 100;
  return 100 * (1 - sum(line.transient(slots, start).rate) / (slots * line.rate));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}
