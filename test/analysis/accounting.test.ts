/**
 * What a ramp-up costs, to the item. Source: own derivation. With S the rate at which the line makes its products in the
 * long run and takes its feed, one product an item, and cycles counted as far as they are done,
 *
 *     S t − W(t) = held(t) + what is left to do of the cycles under way + (S t − accepted(t)),
 *
 * and with a feed of exactly S, of which nothing is turned away, the last term is the part of an item that is due. The
 * loss is the mean of it over the settled pattern: the rise of the mean stock.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { initialState } from "../../src/engine/start-state.ts";
import { sweep } from "../../src/engine/tick.ts";
import { approximate, type Rational, rational, whole } from "../../src/quantity/rational.ts";
import { equalChain } from "./flow-networks.ts";
import { needOf, networkOf, randomChains } from "./random-chains.ts";
import { type Outcome, runNetwork, withoutBelts } from "./runs.ts";

/** All cycles are whole ticks, so that a cycle is done as far as ticks of it have gone by. */
const TICK_S = rational("1/20");

/** The mean stock over the last period, counted from the engine's own state, tick by tick. */
function meanStock({ run: { program, recurrence, steppedTicks }, network }: Outcome, perMin: Rational): number {
  const state = initialState(program);
  const perTick = approximate(perMin.mul(TICK_S).div(60n));
  const cycles = network.machines.map(({ cycleMin }) => approximate(cycleMin.mul(60n).div(TICK_S)));
  const started = cycles.map(() => 0);
  const wasBusyUntil = cycles.map(() => 0);
  const period = recurrence?.periodTicks ?? 0;
  let total = 0;
  while (state.tick < steppedTicks) {
    const before = Array.from(state.totals.cycles);
    sweep(program, state);
    const { tick } = state;
    let left = 0;
    for (const [m, cycle] of cycles.entries()) {
      const isNew = (state.totals.cycles[m] ?? 0) > (before[m] ?? 0) || tick > (wasBusyUntil[m] ?? 0);
      if (state.machineBusy[m] !== 1) continue;
      if (isNew) started[m] = tick;
      wasBusyUntil[m] = (started[m] ?? 0) + cycle;
      // In the middle of the tick that begins now.
      left += (network.machines[m]?.takes[0]?.count ?? NaN) * (1 - (tick + 0.5 - (started[m] ?? 0)) / cycle);
    }
    if (tick < steppedTicks - period || tick >= steppedTicks) continue;
    total += state.holdUpInAll + left + perTick * (tick + 0.5) - (state.totals.fed[0] ?? NaN);
  }
  return total / period;
}

function expectBalanced(outcome: Outcome, perMin: Rational): void {
  expect(outcome.result.output.ramp_up_loss).toBeCloseTo(meanStock(outcome, perMin), 6);
}

describe("feed = need: what is lost lies on the line, in the machines, or is the part of an item that is due", () => {
  test("a chain of four: two full buffers, half an item in each machine, and half of one due", () => {
    const outcome = runNetwork(withoutBelts(equalChain(4, whole(24), 60, whole(96))), whole(60), TICK_S);
    expectBalanced(outcome, whole(96));
    const more = (outcome.result.output.ramp_up_loss ?? NaN) - (2 * 60 + 4 / 2 + 1 / 2);
    // The last two machines may have an item waiting for them, and it comes on a tick.
    expect(more).toBeGreaterThanOrEqual(-1);
    expect(more).toBeLessThanOrEqual(2);
  });

  test("random chains", () => {
    let settled = 0;
    fc.assert(
      fc.property(randomChains({ supplies: ["1"] }), (given) => {
        const outcome = runNetwork(networkOf(given), whole(120), TICK_S);
        if (!outcome.result.settling.proved) return;
        settled++;
        expect(outcome.result.output.settled_per_min).toBe(needOf(given).toFraction());
        expectBalanced(outcome, needOf(given));
      }),
      { numRuns: 80 },
    );
    expect(settled).toBeGreaterThan(70);
  });
});

test("what one line lost, a longer horizon does not win back", () => {
  const network = withoutBelts(equalChain(8, whole(24), 60, whole(192)));
  const [short, long] = [30, 240].map((min) => runNetwork(network, whole(min)).result.output);
  const made = (long?.made ?? NaN) - (short?.made ?? NaN);
  expect(made).toBe(approximate(rational("192").mul(210n)));
});
