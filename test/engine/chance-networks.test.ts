/**
 * Random plants with everything left to chance that can be: nothing is lost or made up, passing over elements that cannot act
 * changes nothing, and the same seed gives the same run.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { simulate } from "../../src/engine/simulate.ts";
import { initialState } from "../../src/engine/start-state.ts";
import { DOWN, STATE_COUNT } from "../../src/engine/states.ts";
import { advanceOneTick } from "./one-tick.ts";
import { withChance } from "./random-chance.ts";
import { randomNetwork, randomPlant } from "./random-networks.ts";

const HORIZON = 1500;
const CASES = 120 * Number(process.env.FILLFRONT_CASES ?? 1);

const anyPlant = fc.record({
  network: fc.oneof(randomNetwork(), randomPlant()),
  shift: fc.integer({ min: 0, max: 11 }),
  seed: fc.string(),
});

test("nothing is lost, no tick is missed and every machine is in one state", () => {
  let [down, fed] = [0, 0];
  fc.assert(
    fc.property(anyPlant, ({ network, shift, seed }) => {
      const program = withChance(network, shift);
      const { totals } = simulate(program, { horizonTicks: HORIZON, seed, check: true });
      const state = initialState(program, 0, seed);
      while (state.tick < HORIZON) advanceOneTick(program, state);
      expect(totals).toEqual(state.totals);
      for (let m = 0; m < program.machine.count; m++) {
        const own = totals.stateTicks.subarray(m * STATE_COUNT, (m + 1) * STATE_COUNT);
        expect(own.reduce((sum, ticks) => sum + ticks, 0)).toBe(HORIZON);
        down += own[DOWN] ?? 0;
      }
      fed += totals.fed.reduce((sum, count) => sum + count, 0);
    }),
    { numRuns: CASES },
  );
  expect(down).toBeGreaterThan(100 * CASES);
  expect(fed).toBeGreaterThan(20 * CASES);
}, 120_000);
