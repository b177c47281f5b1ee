/** The simulation and the flow solution, two independent opinions on one network: where they must agree, and how closely. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { approximate, type Rational, rational, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import { chain, steady } from "./flow-networks.ts";
import { networkOf, type RandomChain, randomChains } from "./random-chains.ts";
import { compareLevels, fullTimes, type Outcome, runNetwork, SHORT_BELT_PLACES, withoutBelts } from "./runs.ts";

const HORIZON = whole(240);
const CHAINS = 300;

function settledFlow({ flow }: Outcome) {
  const phase = flow.phases.at(-1);
  if (phase === undefined) throw new Error("a flow solution has a last phase");
  return phase.detail();
}

const needs = ({ machines }: RandomChain): Rational[] => machines.map(({ needPerMin }) => whole(needPerMin));

test(`settled rates, ${CHAINS} chains: equal as fractions wherever proved, and nearly all are`, () => {
  let proved = 0;
  fc.assert(
    fc.property(randomChains(), (given) => {
      const outcome = runNetwork(networkOf(given), HORIZON);
      const { settling, machines, feeds, belts, output } = outcome.result;
      if (!settling.proved) return;
      proved++;
      const flow = settledFlow(outcome);
      expect(machines.map(({ settled_per_min }) => settled_per_min)).toEqual(
        needs(given).map((need, m) => need.mul(flow.machines[m]?.running ?? ZERO).toFraction()),
      );
      expect(feeds.map(({ settled_per_min }) => settled_per_min)).toEqual([flow.feeds.get("feed")?.toFraction()]);
      for (const { id, settled_per_min } of belts) expect(settled_per_min).toBe(flow.connections.get(id)?.toFraction());
      expect(output.settled_per_min).toBe(outcome.flow.settledPerMin.toFraction());
    }),
    { numRuns: CHAINS },
  );
  expect(proved).toBeGreaterThan(0.97 * CHAINS);
});

/** What lies elsewhere than a flow has it: a cycle in each machine, an item at each divider, and what belts hold. */
function itemsOff({ machines, belts }: RandomChain): number {
  const onBelts = belts === "none" ? 0 : 2 * machines.length * SHORT_BELT_PLACES;
  return machines.reduce((total, { takes }) => total + takes + 1, onBelts);
}

test("levels, at every sample: never further apart than the items on their way, however large the line", () => {
  fc.assert(
    fc.property(randomChains(), fc.constantFrom(1, 3), (given, times) => {
      const most = itemsOff(given);
      let worst = 0;
      compareLevels(runNetwork(networkOf(given, times), whole(30)), (simulated, flowing) => {
        worst = Math.max(worst, Math.abs(simulated - flowing));
      });
      expect(worst).toBeLessThanOrEqual(most);
    }),
    { numRuns: 100 },
  );
});

describe("smaller items: room and rates × k, the same minutes", () => {
  const lines = {
    equal: { machines: new Array<[number, number]>(6).fill([24, 60]), feed: 144 },
    unequal: {
      machines: [
        [30, 40],
        [10, 20],
        [25, 50],
        [15, 30],
        [20, 60],
      ] satisfies [number, number][],
      feed: 103,
    },
  };

  /** By the greatest relative error of a time at which a buffer gets full. */
  function error(line: keyof typeof lines, k: number): number {
    const { machines, feed } = lines[line];
    const scaled = machines.map(([need, room]) => ({ need: whole(need * k), room: room * k }));
    const { result, flow } = runNetwork(withoutBelts(chain(scaled, steady(whole(feed * k)))), whole(60));
    const expected = new Map(
      flow.phases.flatMap(({ events, fromMin }) =>
        events.flatMap((event) => (event.what === "full" ? [[event.machine, approximate(fromMin)] as const] : [])),
      ),
    );
    const found = fullTimes(result);
    expect(found.filter((at) => at !== null)).toHaveLength(expected.size);
    return Math.max(
      ...result.machines.map(({ id }, m) => {
        const due = expected.get(id);
        return due === undefined ? 0 : Math.abs((found[m] ?? NaN) / due - 1);
      }),
    );
  }

  test.each(["equal", "unequal"] as const)("%s machines: the relative error falls like 1/k", (line) => {
    const [one, four, sixteen] = [1, 4, 16].map((k) => error(line, k));
    expect(one).toBeLessThan(0.02);
    expect((four ?? NaN) * 4).toBeLessThan(1.25 * (one ?? NaN));
    expect((sixteen ?? NaN) * 16).toBeLessThan(1.4 * (one ?? NaN));
  });
});

test("where the recurrence lies beyond the horizon, the exact rates are the flow's, marked as such", () => {
  // Cycles of 1.013, 0.997 and 1.009 s have 1.019 million seconds as their shortest common period.
  const machines = ["1.013", "0.997", "1.009"].map((cycleS) => ({ need: rational("60").div(cycleS), room: 20 }));
  const feed = sum(machines.map(({ need }) => need));
  const outcome = runNetwork(withoutBelts(chain(machines, steady(feed))), whole(30));
  const { settling, machines: found, output } = outcome.result;
  expect([settling.basis, settling.proved, settling.period_min]).toEqual(["flow", false, null]);
  const flow = settledFlow(outcome);
  expect(found.map(({ settled_per_min }) => settled_per_min)).toEqual(
    machines.map(({ need }, m) => need.mul(flow.machines[m]?.running ?? ZERO).toFraction()),
  );
  expect(output.settled_per_min).toBe(feed.toFraction());
});
