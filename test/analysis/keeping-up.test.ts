/** From when a curve keeps up with a rate: one pass backwards, against looking at all pairs of its points. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { keepsUpFrom, type Leeway } from "../../src/analysis/keeping-up.ts";
import type { MadeCurve } from "../../src/analysis/made-curve.ts";

interface Piece {
  readonly long: number;
  readonly made: number;
}

const pieces = fc.array(fc.record({ long: fc.integer({ min: 1, max: 6 }), made: fc.integer({ min: 0, max: 12 }) }), {
  minLength: 1,
  maxLength: 12,
});
const leeways = fc.record({
  short: fc.integer({ min: 0, max: 12 }).map((quarters) => quarters / 4),
  over: fc.oneof(
    fc.constant(Infinity),
    fc.integer({ min: 0, max: 12 }).map((quarters) => quarters / 4),
  ),
});
const rates = fc.integer({ min: 0, max: 16 }).map((quarters) => quarters / 4);

function curveOf(given: readonly Piece[]): MadeCurve {
  const points = [{ tick: 0, made: 0 }];
  for (const { long, made } of given) {
    const last = points.at(-1) ?? { tick: 0, made: 0 };
    points.push({ tick: last.tick + long, made: last.made + made });
  }
  return {
    tick: Float64Array.from(points, ({ tick }) => tick),
    made: Float64Array.from(points, ({ made }) => made),
  };
}

/** How far the curve is ahead of the rate at any time. */
function aheadAt({ tick, made }: MadeCurve, perTick: number, at: number): number {
  const next = Math.max(
    1,
    tick.findIndex((one) => one >= at),
  );
  const [from, to] = [tick[next - 1] ?? 0, tick[next] ?? 0];
  const [before, after] = [made[next - 1] ?? 0, made[next] ?? 0];
  return before + ((after - before) * (at - from)) / (to - from) - perTick * at;
}

/** Whether all later stretches keep within the leeway: of straight pieces, those between two knots, or the beginning and one. */
function keepsUp(curve: MadeCurve, perTick: number, { short, over }: Leeway, from: number): boolean {
  const points = [from, ...[...curve.tick].filter((tick) => tick > from)];
  return points.every((t, i) =>
    points.slice(i).every((u) => {
      const more = aheadAt(curve, perTick, u) - aheadAt(curve, perTick, t);
      return more >= -short - 1e-9 && more <= over + 1e-9;
    }),
  );
}

/** All knots, and all points between them at which a stretch up to a knot, or to the highest or lowest there, has just the leeway. */
function candidates(curve: MadeCurve, perTick: number, { short, over }: Leeway): number[] {
  const knots = [...curve.tick];
  const levels = knots.flatMap((u) => {
    const ahead = aheadAt(curve, perTick, u);
    return [ahead + short, ahead - over].filter(Number.isFinite);
  });
  const crossings = knots.slice(1).flatMap((to, i) => {
    const from = knots[i] ?? 0;
    const [a, b] = [aheadAt(curve, perTick, from), aheadAt(curve, perTick, to)];
    return levels
      .filter((level) => (level - a) * (level - b) < 0)
      .map((level) => from + ((level - a) * (to - from)) / (b - a));
  });
  return [...knots, ...crossings].toSorted((a, b) => a - b);
}

test("the earliest of all points from which every later stretch keeps within the leeway", () => {
  fc.assert(
    fc.property(pieces, rates, leeways, (given, perTick, leeway) => {
      const curve = curveOf(given);
      const expected = candidates(curve, perTick, leeway).find((from) => keepsUp(curve, perTick, leeway, from));
      expect(keepsUpFrom(curve, perTick, leeway)).toBeCloseTo(expected ?? NaN, 9);
    }),
    { numRuns: 2000 },
  );
});

describe("by hand", () => {
  /** Nothing for 10 ticks, then 2 a tick for 10, then 1 a tick. */
  const curve = curveOf([
    { long: 10, made: 0 },
    { long: 10, made: 20 },
    { long: 80, made: 80 },
  ]);

  test("at least 1 a tick: from where only the leeway is lacking", () => {
    expect(keepsUpFrom(curve, 1, { short: 3, over: Infinity })).toBe(7);
    expect(keepsUpFrom(curve, 1, { short: 0, over: Infinity })).toBe(10);
  });

  test("nor more: from where the surplus is within the leeway", () => {
    expect(keepsUpFrom(curve, 1, { short: 3, over: 4 })).toBe(16);
  });

  test("a rate that it never keeps up with: from the end", () => {
    expect(keepsUpFrom(curve, 3, { short: 0, over: Infinity })).toBe(100);
  });

  test("a leeway as large as all that is lacking: from the beginning", () => {
    expect(keepsUpFrom(curve, 1, { short: 10, over: Infinity })).toBe(0);
  });
});
