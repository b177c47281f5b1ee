/** Whole numbers of ticks: rounding never adds up, and nothing is ever negative. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { sampler } from "../../../src/engine/random/distributions.ts";
import { MOST_DRAWN, wholeDraws } from "../../../src/engine/random/draws.ts";
import { namedStream } from "../../../src/engine/random/stream.ts";
import { take } from "./fit.ts";

const inTurn = (values: readonly number[]) => {
  const left = [...values];
  return () => left.shift() ?? Number.NaN;
};

const draw = fc.oneof(
  fc.double({ min: 0, max: 5, noNaN: true }),
  fc.double({ min: 0, max: 1e6, noNaN: true }),
  fc.constantFrom(0, 0.5, 0.25, 1, 1.5, 1 - 2 ** -53),
);

test("any number of draws add up to what they would unrounded, within half a tick", () => {
  fc.assert(
    fc.property(fc.array(draw, { minLength: 1, maxLength: 200 }), fc.constantFrom(1, 0.1, 3.7), (values, scale) => {
      const { next } = wholeDraws(inTurn(values));
      let given = 0;
      let exact = 0;
      for (const value of values) {
        const whole = next(scale);
        expect(Number.isInteger(whole) && whole >= 0 && !Object.is(whole, -0)).toBe(true);
        given += whole;
        exact += value * scale;
        expect(Math.abs(given - exact)).toBeLessThanOrEqual(0.5 + 1e-12 * (1 + exact));
      }
    }),
    { numRuns: 500 },
  );
});

test("a million draws of less than a tick keep their mean", () => {
  const exact = sampler({ family: "exponential", mean: 0.3 }, namedStream("1", "m", "cycle"));
  const { next } = wholeDraws(sampler({ family: "exponential", mean: 0.3 }, namedStream("1", "m", "cycle")));
  let difference = 0;
  for (let i = 0; i < 1e6; i++) difference += next(1) - exact();
  expect(Math.abs(difference)).toBeLessThan(0.5 + 1e-6);
});

test("whole draws stay as they are", () => {
  const geometric = { family: "geometric" as const, mean: 40, step: 5 };
  const { next } = wholeDraws(sampler(geometric, namedStream("1", "m", "repair")));
  const exact = take(10_000, sampler(geometric, namedStream("1", "m", "repair")));
  expect(take(10_000, () => next(1))).toEqual(exact);
  expect(exact.every((value) => value % 5 === 0 && value >= 5)).toBe(true);
});

test("a ring is filled with what would be drawn one by one", () => {
  const make = () => wholeDraws(sampler({ family: "lognormal", mean: 4, spread: 2 }, namedStream("1", "m", "repair")));
  const one = make();
  const singly = take(30, () => one.next(1));
  const ring = new Int32Array(32).fill(-1);
  const filled = make();
  filled.fill(ring, 1, 11);
  filled.fill(ring, 11, 31);
  expect([...ring]).toEqual([-1, ...singly, -1]);
});

test("a draw beyond all runs is cut, and the next one owes nothing", () => {
  const { next } = wholeDraws(inTurn([1e300, 2.4, Infinity, 3]));
  expect(take(4, () => next(1))).toEqual([MOST_DRAWN, 2, MOST_DRAWN, 3]);
  expect(Int32Array.of(MOST_DRAWN)[0]).toBe(MOST_DRAWN);
});
