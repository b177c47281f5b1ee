/** Late samples are the last ones of a run that is sampled throughout, wherever the doubling of their spacing stands. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { lateFrom } from "../../src/engine/samples.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { randomNetwork } from "./random-networks.ts";

/** Round 1024 samples, of one tick, of two, and so on, and in between. */
const randomHorizon = fc.oneof(
  fc.integer({ min: 1, max: 9000 }),
  fc.tuple(fc.integer({ min: 0, max: 3 }), fc.integer({ min: -9, max: 9 })).map(([k, by]) => 1024 * 2 ** k + by),
);

function lateOf({ samples, horizonTicks }: Run) {
  const from = samples.tick.subarray(0, samples.count).findIndex((tick) => tick >= lateFrom(horizonTicks));
  return (["tick", "level", "holdUp", "onBelts", "stateTicks"] as const).map((of) => {
    const width = samples[of].length / samples.places;
    return samples[of].slice(from * width, samples.count * width);
  });
}

test("late samples are the late ones of all", () => {
  fc.assert(
    fc.property(randomNetwork(), randomHorizon, (line, horizonTicks) => {
      const program = compile(line, autoTickS(line));
      const stepped = { horizonTicks, stepAll: true };
      const late = simulate(program, { ...stepped, sampling: "late" });
      const all = simulate(program, stepped);
      expect(lateOf(late)).toEqual(lateOf(all));
      expect(late.samples.tick[0]).toBeGreaterThanOrEqual(lateFrom(horizonTicks));
      expect(late.totals).toEqual(all.totals);
    }),
    { numRuns: 150 },
  );
});
