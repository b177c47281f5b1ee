/** Random plants with two parts of tactics together, their feeds steady, with profiles or by vehicles. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import { compilePriming } from "../../src/network/priming.ts";
import { autoTickS, ticksWithin } from "../../src/network/tick.ts";
import { whole } from "../../src/quantity/rational.ts";
import { cases } from "./cases.ts";
import { amongOthers } from "./collecting-lines.ts";
import { networkOf, randomPlants } from "./random-plants.ts";
import { primedBy, randomPairs, randomTimings, timed } from "./random-tactics.ts";

/** All but the levels that count from a settled period on. */
function counted({ totals, noted, openCycleTicks, lying }: Run) {
  const { low, high, beltLow, ...others } = noted;
  return { totals, others, openCycleTicks, lying };
}

test("no item is lost or made up, hands place no more than stated, and what is leapt over ends as what is stepped through", () => {
  let leaps = 0;
  let late = 0;
  let beside = 0;
  const count = cases(80);
  const networks = amongOthers(randomPlants({ shared: true, mixed: true, mostGroups: 3 }).map(networkOf));
  fc.assert(
    fc.property(networks, randomTimings, randomPairs, (plain, timings, tactic) => {
      const { network, priming, placed, startsAfterMin } = primedBy(timed(plain, timings), tactic);
      const tickS = autoTickS(network);
      const program = compile(network, tickS);
      const options = { horizonTicks: ticksWithin(whole(20), tickS), priming: compilePriming(program, priming) };
      const leapt = simulate(program, { ...options, check: true });
      expect(counted(leapt)).toEqual(counted(simulate(program, { ...options, stepAll: true })));

      const inAll = (counts: Float64Array): number => counts.reduce((sum, one) => sum + one, 0);
      const stated = priming.interventions.flatMap(({ actions }) =>
        actions.flatMap((action) => (action.do === "place" ? action.stock.map(({ count }) => count) : [])),
      );
      const handled = inAll(leapt.totals.placed);
      expect(handled).toBeGreaterThanOrEqual(placed);
      expect(handled).toBeLessThanOrEqual(placed + stated.reduce((sum, one) => sum + one, 0));
      if (handled > placed) beside++;
      if (leapt.steppedTicks < leapt.horizonTicks) leaps++;
      if (startsAfterMin.n > 0n) late++;
    }),
    { numRuns: count },
  );
  expect(leaps).toBeGreaterThan(0.3 * count);
  // Each some seven of eighty on average; by chance none in one run of a thousand.
  expect(Math.min(late, beside)).toBeGreaterThan(0);
}, 120_000);
