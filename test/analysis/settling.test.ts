/** What "settled" means: for good, proved or said not to be, and the same whatever the horizon and the tick. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { asTrain, eventsOf } from "../../src/analysis/events.ts";
import { changingAt } from "../../src/analysis/flow/flow.ts";
import { averageAt } from "../../src/analysis/moving-average.ts";
import type { Network } from "../../src/network/network.ts";
import { approximate, rational, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import { type ChainMachine, chain, equalChain, steady } from "./flow-networks.ts";
import { networkOf, randomChains } from "./random-chains.ts";
import {
  apartBy,
  lackingBefore,
  leewayOfSteady,
  type Outcome,
  runNetwork,
  TITLE_AND_SEED,
  withoutBelts,
} from "./runs.ts";

const NEED = 24;
const CYCLE_MIN = 1 / NEED;

function exactSupply(count: number): Network {
  return withoutBelts(equalChain(count, whole(NEED), 60, whole(NEED * count)));
}

const tickMin = ({ run }: Outcome): number => approximate(run.program.tickS) / 60;

describe("four machines, fed exactly (own derivation: output 72, 84, 96/min from 0, 5/2, 15/2 min)", () => {
  const outcome = runNetwork(exactSupply(4), whole(60));
  const { settling, machines } = outcome.result;

  test("settled, proved", () => {
    expect(settling).toMatchObject({ proved: true, basis: "recurrence", flow_time_min: "15/2", still_changing: [] });
    // The leeway makes up for what is lacking from here on: 12/min.
    expect(Math.abs((settling.time_min ?? NaN) - (7.5 - leewayOfSteady(4) / 12))).toBeLessThanOrEqual(CYCLE_MIN);
  });

  test("the first product: the first item's due time and a cycle, and less than a tick each to release, start and end", () => {
    const first = 1 / 96 + CYCLE_MIN;
    expect(settling.first_product_min).toBeGreaterThanOrEqual(first);
    expect(settling.first_product_min).toBeLessThan(first + 3 * tickMin(outcome));
  });

  test("shares of the settled output: 84/min up to 7.5 lacks less of them", () => {
    const { to_50_min, to_90_min, to_95_min, to_99_min } = settling;
    const shares = { 0.9: to_90_min, 0.95: to_95_min, 0.99: to_99_min };
    for (const [share, found] of Object.entries(shares)) {
      const lacking = Number(share) * 96 - 84;
      const expected = 7.5 - leewayOfSteady(4) / lacking;
      expect(Math.abs((found ?? NaN) - expected)).toBeLessThanOrEqual(apartBy(lacking));
    }
    // Half of it as soon as two machines run.
    expect(to_50_min).toBeLessThanOrEqual(2 / 96 + 4 * tickMin(outcome));
    expect(settling.within_tolerance_min).toBe(to_95_min);
    const inOrder = [to_50_min, to_90_min, to_95_min, to_99_min, settling.time_min].map((min) => min ?? NaN);
    expect(inOrder).toEqual(inOrder.toSorted((a, b) => a - b));
  });

  test("each machine by itself: of 24/min the last two lack 6 up to 7.5, and a leeway of 3/4 of a product makes up for it", () => {
    const from = machines.map(({ full_rate_from_min }) => full_rate_from_min ?? NaN);
    const last = 7.5 - 3 / 4 / 6;
    for (const [k, min] of [0, 0, last, last].entries()) {
      expect(Math.abs((from[k] ?? NaN) - min)).toBeLessThanOrEqual(CYCLE_MIN + 2 * tickMin(outcome));
    }
  });
});

test("to touch full output is not to settle (own derivation: full at 5/4, a dip at 7/4, for good at 9/2, 15 + 33 lost)", () => {
  const profile = [
    { fromMin: ZERO, ratePerMin: whole(144) },
    { fromMin: rational("3/2"), ratePerMin: whole(96) },
  ];
  const machines = new Array<ChainMachine>(4).fill({ need: whole(NEED), room: 60 });
  const { result, series } = runNetwork(withoutBelts(chain(machines, profile)), whole(60));
  const { timesMin, output } = series;
  const between = (from: number, to: number): number[] =>
    output.movingAveragePerMin.filter((_, i) => (timesMin[i] ?? 0) >= from && (timesMin[i] ?? 0) <= to);
  expect(Math.max(...between(1.25, 1.75))).toBeGreaterThan(0.95 * 96);
  expect(Math.max(...between(2.1, 4.2))).toBeLessThan(0.95 * 96);
  // Counted from the last change of the feed; the 15 were lost before. Up to 9/2 min 12/min are lacking, and a buffer
  // fills as fast: with whole items, within 1/12 min.
  const { settling, output: made } = result;
  expect(settling.counted_from_min).toBe(1.5);
  expect(Math.abs((settling.time_min ?? NaN) - (3 - leewayOfSteady(4) / 12))).toBeLessThanOrEqual(1 / 12);
  expect(Math.abs((settling.to_95_min ?? NaN) - (3 - leewayOfSteady(4) / 7.2))).toBeLessThanOrEqual(1 / 12);
  expect(Math.abs((made.ramp_up_loss ?? NaN) - 33)).toBeLessThanOrEqual(2);
});

test("a feed 0.1 % over the need: settled by the flow solution, and which buffers go on filling, how fast, until when", () => {
  const horizonMin = whole(120);
  const { result, flow } = runNetwork(
    withoutBelts(equalChain(4, whole(NEED), 60, rational("96").mul("1001/1000"))),
    horizonMin,
  );
  const { settling, output, machines } = result;
  expect(settling).toMatchObject({ proved: false, basis: "flow", period_min: null });
  expect(Math.abs((settling.time_min ?? NaN) - approximate(flow.settlingMin))).toBeLessThanOrEqual(CYCLE_MIN);
  expect([output.settled_per_min, ...machines.map((one) => one.settled_per_min)]).toEqual([
    "96",
    "24",
    "24",
    "24",
    "24",
  ]);
  // A thousandth of 96/min, shared by the last two; both would be done when 2 × 60 items have come beyond the need.
  const changing = changingAt(flow, horizonMin);
  expect(settling.still_changing).toEqual(
    [3, 4].map((k) => ({
      buffer: `machine-${k}`,
      rate_per_min: "6/125",
      done_at_min: approximate(changing.find(({ machine }) => machine === `machine-${k}`)?.doneAtMin ?? ZERO),
    })),
  );
  expect(settling.still_changing[0]?.done_at_min).toBeCloseTo(approximate(flow.phases.at(-1)?.fromMin ?? ZERO), 9);
});

describe("a horizon that ends before the line has settled", () => {
  // The flow settles at 11 min.
  test.each(["1/2", "2", "4", "8", "10"])("%s min: no settling time, no loss, and what still fills", (horizon) => {
    const { settling, output } = runNetwork(exactSupply(8), rational(horizon)).result;
    expect([settling.proved, settling.period_min]).toEqual([false, null]);
    expect(settling.still_changing.length).toBeGreaterThan(0);
    expect([settling.time_min, output.ramp_up_loss]).toEqual([null, null]);
  });

  test("half a minute after it has settled: the right time or none", () => {
    const { settling } = runNetwork(exactSupply(8), rational("11.5")).result;
    expect(settling.time_min === null || Math.abs(settling.time_min - 11) < 0.1).toBe(true);
  });

  test("without a flow solution, rates are measured and marked so", () => {
    const { run } = runNetwork(exactSupply(8), whole(8));
    const { result } = analyse(run, TITLE_AND_SEED, { applies: false, reason: "a test" });
    expect(result.settling).toMatchObject({ proved: false, basis: "measured", time_min: null, flow_time_min: null });
    expect(result.flow).toBeNull();
    expect(result.no_flow).toBe("a test");
    // From 6 to 8 min six machines run all the time and the last two share 36/min.
    expect(result.output.settled_per_min).toBeNull();
    expect(Math.abs((result.output.measured_per_min ?? NaN) - 180)).toBeLessThan(8 / 2);
    expect(result.machines.map(({ settled_per_min }) => settled_per_min)).toEqual(new Array(8).fill(null));
    // Machine 6 receives 36/min and needs 24; it was empty at 6 min, and has room for 60.
    const [filling, ...others] = result.settling.still_changing;
    expect([filling?.buffer, others]).toEqual(["machine-6", []]);
    expect(Math.abs(approximate(rational(filling?.rate_per_min ?? "0")) - 12)).toBeLessThan(1);
  });
});

test("no feed: settled from the start, at nothing", () => {
  const { settling, output, machines, hold_up, dwell } = runNetwork(
    withoutBelts(equalChain(4, whole(NEED), 60, ZERO)),
    whole(30),
  ).result;
  expect(settling).toMatchObject({ proved: true, time_min: 0, first_product_min: null, within_tolerance_min: null });
  expect(output).toMatchObject({ full_per_min: "96", settled_per_min: "0", made: 0, ramp_up_loss: null });
  for (const { minutes, uptime, settled_per_min } of machines) {
    expect(minutes).toEqual({ running: 0, starved: 30, blocked: 0, down: 0, held: 0 });
    expect([uptime.settled, uptime.horizon, settled_per_min]).toEqual([0, 0, "0"]);
  }
  expect([hold_up.peak, hold_up.settled, dwell.mean_min, dwell.longest_min]).toEqual([0, 0, null, null]);
});

test("two lines in one plant: each settles as it does alone, the plant as both have", () => {
  const lines = [
    { id: "a", network: exactSupply(4) },
    { id: "b", network: withoutBelts(equalChain(3, whole(15), 40, whole(45))) },
  ];
  const plants = lines.map(({ id, network }) => named(network, id));
  const tickS = rational("1/5");
  const horizonMin = whole(120);
  const both = runNetwork(joined(plants), horizonMin, tickS).result;
  const alone = plants.map((plant) => runNetwork(plant, horizonMin, tickS).result);
  for (const [i, { settling, output, machines }] of alone.entries()) {
    const line = both.lines[i];
    expect(line?.id).toBe(lines[i]?.id);
    expect(line?.machines).toEqual(machines.map(({ id }) => id));
    expect(line?.settling.time_min).toBeCloseTo(settling.time_min ?? NaN, 9);
    expect(line?.settling.first_product_min).toBe(settling.first_product_min);
    const { full_per_min, settled_per_min, made, ramp_up_loss } = output;
    expect(line?.output).toMatchObject({ full_per_min, settled_per_min, made });
    expect(line?.output.ramp_up_loss).toBeCloseTo(ramp_up_loss ?? NaN, 6);
  }
  const lost = alone.reduce((total, { output }) => total + (output.ramp_up_loss ?? NaN), 0);
  expect(both.output.ramp_up_loss).toBeCloseTo(lost, 6);
  // The leeway is of both together, and the later lacks 12/min.
  const last = Math.max(...alone.map(({ settling }) => settling.time_min ?? NaN));
  expect(both.settling.time_min).toBeLessThanOrEqual(last);
  expect(both.settling.time_min).toBeGreaterThanOrEqual(last - leewayOfSteady(3) / 12 - apartBy(12));
  expect(both.output.made).toBe(alone.reduce((total, { output }) => total + output.made, 0));
});

function named(network: Network, line: string): Network {
  const own = <T extends { readonly id: string }>(one: T): T => ({ ...one, id: `${line}.${one.id}`, line });
  return {
    ...network,
    lines: [line],
    feeds: network.feeds.map(own),
    dividers: network.dividers.map(own),
    machines: network.machines.map(own),
    connections: network.connections.map((one) => ({
      ...own(one),
      from: `${line}.${one.from}`,
      to: `${line}.${one.to}`,
    })),
  };
}

function joined(networks: readonly Network[]): Network {
  const all = <T>(list: (network: Network) => readonly T[]): T[] => networks.flatMap((network) => [...list(network)]);
  return {
    items: ["pouch", "carton"],
    surges: [],
    holdUpLimits: [],
    dwellLimits: [],
    lines: all(({ lines }) => lines),
    feeds: all(({ feeds }) => feeds),
    dividers: all(({ dividers }) => dividers),
    merges: [],
    machines: all(({ machines }) => machines),
    outlets: [],
    connections: all(({ connections }) => connections),
  };
}

test("minutes in all states add up to the horizon; settled uptime is the exact share", () => {
  fc.assert(
    fc.property(randomChains(), fc.integer({ min: 1, max: 120 }), (given, horizon) => {
      const { result, network } = runNetwork(networkOf(given), whole(horizon));
      for (const [m, { minutes, uptime, settled_per_min, needs_per_min }] of result.machines.entries()) {
        const { running, starved, blocked, down, held } = minutes;
        expect(running + starved + blocked + down + held).toBeCloseTo(result.horizon_min, 9);
        expect([down, held]).toEqual([0, 0]);
        expect(Math.min(running, starved, blocked)).toBeGreaterThanOrEqual(0);
        expect(uptime.horizon).toBeCloseTo(running / result.horizon_min, 12);
        expect(needs_per_min).toBe(String(given.machines[m]?.needPerMin));
        if (settled_per_min === null) continue;
        expect(uptime.settled).toBeCloseTo(approximate(rational(settled_per_min).div(needs_per_min)), 12);
      }
      expect(result.machines).toHaveLength(network.machines.length);
    }),
    { numRuns: 60 },
  );
});

test("a longer horizon never changes what was proved", () => {
  let proved = 0;
  fc.assert(
    fc.property(randomChains(), (given) => {
      const network = networkOf(given);
      const [short, long] = [60, 240].map((min) => runNetwork(network, whole(min)).result);
      if (!short?.settling.proved) return;
      proved++;
      expect(rounded(long?.settling)).toEqual(rounded(short.settling));
      expect(rounded({ ...long?.output, made: 0, made_by_item: {} })).toEqual(
        rounded({ ...short.output, made: 0, made_by_item: {} }),
      );
      for (const [m, machine] of short.machines.entries()) {
        const { first_item_min, full_rate_from_min, settled_per_min, uptime, infeed } = machine;
        expect(rounded(long?.machines[m])).toMatchObject(
          rounded({
            first_item_min,
            full_rate_from_min,
            settled_per_min,
            infeed: infeed.map(({ item, capacity, full_at_min }) => ({ item, capacity, full_at_min })),
            uptime: { ramp_up: uptime.ramp_up, settled: uptime.settled },
          }),
        );
      }
    }),
    { numRuns: 50 },
  );
  expect(proved).toBeGreaterThan(35);
});

/** Sums of many straight pieces are right to so many digits. */
function rounded<T extends object | undefined>(value: T): T {
  return JSON.parse(JSON.stringify(value ?? null), (_, one: unknown) =>
    typeof one === "number" ? Math.round(one * 1e8) / 1e8 : one,
  );
}

test("a gap once in every long period is part of what it settles to, whatever the horizon", () => {
  const machines = [
    { needPerMin: 6, takes: 1, room: 6 },
    { needPerMin: 40, takes: 1, room: 6 },
    { needPerMin: 20, takes: 3, room: 6 },
  ];
  const network = networkOf({ machines, rule: "even", supply: "9/10", belts: "short" });
  const found = [60, 120, 240].map((horizon) => runNetwork(network, whole(horizon)).result.settling);
  for (const one of found) {
    expect(one.period_min).toBe(15);
    expect(rounded(one)).toEqual(rounded(found[0] ?? one));
    // Less than the first gap's time: no buffer has to get full, the feed is short.
    expect(one.time_min).toBeLessThan(2);
  }
});

test("a longer horizon doesn't move what the flow solution bears out either, by more than 6 s", () => {
  // Cycles about a second long without a common period, and a feed that satisfies but two of the four.
  const cyclesS = ["1.013", "0.997", "1.009", "1.003"];
  const machines = cyclesS.map((cycle): ChainMachine => ({ need: rational("60").div(cycle), room: 20 }));
  const network = withoutBelts(chain(machines, steady(whole(190))));
  const found = [30, 60, 240].map((min) => runNetwork(network, whole(min)).result);
  for (const { settling } of found) expect(settling.basis).toBe("flow");
  const times = found.map(({ settling, machines: all }) => [settling, ...all].map(timeOf));
  for (const [i, first] of (times[0] ?? []).entries()) {
    for (const other of times) expect(Math.abs((other[i] ?? NaN) - first)).toBeLessThanOrEqual(0.1);
  }
});

function timeOf(one: { readonly time_min: number | null } | { readonly full_rate_from_min: number | null }): number {
  return ("time_min" in one ? one.time_min : one.full_rate_from_min) ?? NaN;
}

test.each([3, 4, 5, 6])("once settled, a moving average over whole periods is the settled output, N = %i", (count) => {
  const { run, result, series } = runNetwork(exactSupply(count), whole(60), rational("1/5"));
  const { settling, output } = result;
  const [window, period, settled] = [series.output.averagedOverMin, settling.period_min, settling.pattern_from_min].map(
    (minutes) => Math.round((minutes ?? NaN) * 60 * 5),
  );
  if (window === undefined || period === undefined || settled === undefined) throw new Error("it has settled");
  expect(window % period).toBe(0);
  const made = asTrain(
    eventsOf(run, () => 1),
    run,
  );
  const ticks = Array.from({ length: period }, (_, i) => settled + window + i);
  const averages = ticks.map((tick) => averageAt(made, window, tick, run.steppedTicks) * 60 * 5);
  for (const average of averages) expect(average).toBeCloseTo(approximate(rational(output.settled_per_min ?? "")), 9);
});

test("half the tick: the same settled rates, and a settling time that moves by ticks, or a quarter of an item", () => {
  for (const count of [3, 4, 8]) {
    for (const extra of ["1", "21/20"]) {
      const feed = sum(new Array(count).fill(whole(NEED))).mul(extra);
      const network = withoutBelts(equalChain(count, whole(NEED), 60, feed));
      const ticks = ["1/10", "1/20", "1/40"].map((tickS) => {
        const outcome = runNetwork(network, whole(120), rational(tickS));
        return { tickMin: tickMin(outcome), lacking: lackingBefore(outcome), result: outcome.result };
      });
      for (const [i, { tickMin: tick, lacking, result }] of ticks.entries()) {
        const halved = ticks[i + 1]?.result;
        if (halved === undefined) break;
        expect(halved.output.settled_per_min).toBe(result.output.settled_per_min);
        expect(halved.machines.map((one) => one.settled_per_min)).toEqual(
          result.machines.map((one) => one.settled_per_min),
        );
        const moved = Math.abs((halved.settling.time_min ?? NaN) - (result.settling.time_min ?? NaN));
        expect(moved).toBeLessThanOrEqual(Math.max(4 * tick, apartBy(lacking)));
      }
    }
  }
});

test("a horizon of a few ticks gives numbers, or null, everywhere", () => {
  const line = exactSupply(4);
  const everyNumber = (value: unknown): number[] => {
    if (typeof value === "number") return [value];
    return typeof value === "object" && value !== null ? Object.values(value).flatMap(everyNumber) : [];
  };
  for (const ticks of [1, 2, 3, 4, 5]) {
    const tickS = rational("1/50");
    const { result, series } = runNetwork(line, tickS.mul(whole(ticks)).div(60n), tickS);
    expect(everyNumber([result, series]).filter((value) => !Number.isFinite(value))).toEqual([]);
  }
});
