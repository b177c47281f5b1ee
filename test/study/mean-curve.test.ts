/** From when the mean output of a few replications keeps up: about as late as that of many, whatever luck makes look alike. */
import { expect, test } from "vitest";
import { keepsUpFromMin } from "../../src/study/replications/mean-curve.ts";
import { normals } from "../analysis/statistics/chance.ts";

const POINTS = 480;
const RAMP_UP_MIN = 20;
const PER_MIN = 20;

/** Nothing for twenty minutes, then 20 a minute, with half as wide a spread from minute to minute. */
function timeOf(replications: number, seed: number): number {
  const made = Array.from({ length: replications }, (_, run) => {
    let sum = 0;
    return Float64Array.from(normals(POINTS, 100 * seed + run), (luck, minute) => {
      sum += minute < RAMP_UP_MIN ? 0 : PER_MIN * (1 + luck / 2);
      return sum;
    });
  });
  const madeSum = Float64Array.from({ length: POINTS }, (_, i) => made.reduce((sum, run) => sum + (run[i] ?? 0), 0));
  return keepsUpFromMin({ made, madeSum, stepMin: 1, settledPerMin: PER_MIN, oneCycle: PER_MIN }, 0.95);
}

test.each([4, 10, 40])("with %d replications no stretch is taken for a lag by luck alone", (replications) => {
  for (let seed = 1; seed <= 25; seed++) {
    const at = timeOf(replications, seed);
    expect(at, `seed ${seed}`).toBeGreaterThan(RAMP_UP_MIN - 10);
    expect(at, `seed ${seed}`).toBeLessThan(RAMP_UP_MIN + 8);
  }
});
