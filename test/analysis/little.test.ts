/**
 * Little's law (J. D. C. Little, "A proof for the queuing formula L = λW", Operations Research 9(3), 1961): hold-up =
 * rate × dwell. Over a settled period, and from empty to empty, it holds without remainder: the ticks that items spent on
 * the line add up to the items on the line, tick by tick.
 */
import fc from "fast-check";
import { expect, test } from "vitest";
import { approximate, rational, whole, ZERO } from "../../src/quantity/rational.ts";
import { chain, steady } from "./flow-networks.ts";
import { feedOf, networkOf, randomChains } from "./random-chains.ts";
import { type Outcome, runNetwork, withoutBelts } from "./runs.ts";

const POUCH = 0;

test("over a settled period", () => {
  let settled = 0;
  fc.assert(
    fc.property(randomChains(), (given) => {
      const outcome = runNetwork(networkOf(given), whole(240));
      const { settledPeriod } = outcome.run;
      if (settledPeriod === null) return;
      settled++;
      const { dwellTicks, holdUpTicks, taken } = settledPeriod.totals;
      expect(outcome.network.items[POUCH]).toBe("pouch");
      expect(taken[POUCH]).toBeGreaterThan(0);
      expect(dwellTicks[POUCH]).toBe(holdUpTicks[POUCH]);

      const { hold_up, dwell, feeds } = outcome.result;
      const ratePerMin = approximate(rational(feeds[0]?.settled_per_min ?? ""));
      expect(hold_up.by_item.pouch).toBeCloseTo(ratePerMin * (dwell.mean_min ?? NaN), 6);
    }),
    { numRuns: 100 },
  );
  expect(settled).toBeGreaterThan(85);
});

test("a full buffer that is hardly drawn from: items lie as long as it takes to turn over", () => {
  const machines = [
    { need: whole(30), room: 20 },
    { need: whole(2), room: 40 },
  ];
  const { dwell, hold_up } = runNetwork(withoutBelts(chain(machines, steady(whole(64)))), whole(240)).result;
  expect(hold_up.settled).toBe(60);
  expect(dwell.mean_min).toBeCloseTo(60 / 32, 9);
  expect(dwell.longest_min).toBe(40 / 2);
});

test("a run that ends before a period could be watched gives the dwell that a longer one watches", () => {
  let proved = 0;
  fc.assert(
    fc.property(randomChains(), (given) => {
      const network = networkOf(given);
      const long = runNetwork(network, whole(240));
      const { recurrence, program } = long.run;
      if (recurrence === null) return;
      proved++;
      const until = program.tickS.mul(whole(recurrence.atTick)).div(60n);
      const short: Outcome = runNetwork(network, until);
      expect(short.run.recurrence?.atTick).toBe(recurrence.atTick);
      expect(short.run.settledPeriod).toBeNull();
      expect(short.result.dwell.mean_min).toBeCloseTo(long.result.dwell.mean_min ?? NaN, 9);
      expect(short.result.hold_up.settled).toBeCloseTo(long.result.hold_up.settled, 9);
    }),
    { numRuns: 60 },
  );
  expect(proved).toBeGreaterThan(45);
});

test("from empty to empty, whatever was fed meanwhile", () => {
  fc.assert(
    fc.property(randomChains({ mostTakes: 1 }), fc.integer({ min: 1, max: 100 }), (given, tenths) => {
      const profile = [
        { fromMin: ZERO, ratePerMin: feedOf(given) },
        { fromMin: whole(tenths).div(10n), ratePerMin: ZERO },
      ];
      const { totals, noted } = runNetwork(networkOf(given, 1, profile), whole(30)).run;
      expect(noted.holdUp[POUCH]).toBe(0);
      expect(totals.taken[POUCH]).toBe(totals.fed[0]);
      expect(totals.dwellTicks[POUCH]).toBe(totals.holdUpTicks[POUCH]);
    }),
    { numRuns: 60 },
  );
});
