/**
 * The fill-up of a chain, simulated. Source of every value without another mark: own derivation (machines as flows on
 * empty, filling or full buffers; even dividers), exact fractions computed and confirmed by a second method.
 *
 * N machines need d items/min each and have room for B; the feed is (N + s) d. Discrete items differ from a flow by
 * about 2 % in time, or by 2 items over the rate at which a buffer fills, and by the item in each machine.
 */
import { describe, expect, test } from "vitest";
import { approximate, type Rational, rational, whole } from "../../src/quantity/rational.ts";
import { type ChainMachine, chain, equalChain, steady } from "./flow-networks.ts";
import {
  apartBy,
  fullTimes,
  lackingBefore,
  leewayOfSteady,
  type Outcome,
  productsUpTo,
  recordedMin,
  runNetwork,
  SHORT_BELT_PLACES,
  withoutBelts,
  withShortBelts,
} from "./runs.ts";

const NEED = 24;
const ROOM = 60;
const CYCLE_MIN = 1 / NEED;
const ITEMS_OFF = 2;
const HORIZON = whole(60);

/** Items/min at which the buffers of machine k fill at last, with k − 1 full before it: the last two fill alike. */
function fillingRate(count: number, k: number, surplus = 0): number {
  const notFull = Math.max(2, count - k + 1);
  return ((notFull + surplus) / 2 - 1) * NEED;
}

function expectFullAt(found: number | null | undefined, expectedMin: number, netPerMin: number): void {
  expect(found).toBeTypeOf("number");
  expect(Math.abs((found ?? NaN) - expectedMin)).toBeLessThanOrEqual(
    Math.max(0.02 * expectedMin, ITEMS_OFF / netPerMin),
  );
}

/** The item in each machine, one in each of the last two buffers, and the one due from the feed. */
const itemsInProcess = (count: number): number => count + 3;

function run(count: number, feed: Rational, belts: "none" | "short" = "none") {
  const network = equalChain(count, rational("24"), ROOM, feed);
  return runNetwork(belts === "none" ? withoutBelts(network) : withShortBelts(network, feed), HORIZON);
}

/** With the last event: as soon as the leeway makes up for all that is lacking up to it, but no machine has yet to wait. */
function expectFullOutputAt(outcome: Outcome, count: number, lastMin: number, toleranceMin = 0): void {
  const lacking = lackingBefore(outcome);
  const { time_min: found } = outcome.result.settling;
  const most = Math.max(CYCLE_MIN, 0.004 * lastMin, apartBy(lacking), toleranceMin);
  expect(found).toBeGreaterThanOrEqual(lastMin - leewayOfSteady(count) / lacking - most);
  expect(found).toBeLessThanOrEqual(lastMin + most);
}

const supply = (count: number, share = "1"): Rational => rational("24").mul(whole(count)).mul(share);

/** [N, times at which machines get full, from a machine on] */
const EXACT_SUPPLY: [number, number, string[]][] = [
  [3, 1, ["5"]],
  [4, 1, ["5/2", "15/2"]],
  [5, 1, ["5/3", "15/4", "35/4"]],
  [6, 4, ["155/16"]],
  [8, 1, ["5/6", "3/2", "5/2", "23/6", "6", "11"]],
  [16, 14, ["82464709/6082560"]],
  [24, 22, ["27608241222180793/1858920649850880"]],
];

describe("exact supply", () => {
  test.each(EXACT_SUPPLY)("N = %i: machines fill one after the other, the last two never", (count, first, times) => {
    for (const belts of ["none", "short"] as const) {
      const { result } = run(count, supply(count), belts);
      const found = fullTimes(result);
      for (const [i, time] of times.entries()) {
        const k = first + i;
        expectFullAt(found[k - 1], approximate(rational(time)), fillingRate(count, k));
      }
      expect(found.slice(-2)).toEqual([null, null]);
      expect(result.machines.map(({ settled_per_min }) => settled_per_min)).toEqual(new Array(count).fill("24"));
      expect(result.settling.proved).toBe(true);
    }
  });

  test.each(EXACT_SUPPLY)(
    "N = %i: full output as the last buffer gets full, for (N − 2) B items",
    (count, _, times) => {
      const outcome = run(count, supply(count));
      const { output } = outcome.result;
      expectFullOutputAt(outcome, count, approximate(rational(times.at(-1) ?? "")));
      const lostMore = (output.ramp_up_loss ?? NaN) - (count - 2) * ROOM;
      expect(lostMore).toBeGreaterThanOrEqual(0);
      expect(lostMore).toBeLessThanOrEqual(itemsInProcess(count));
    },
  );

  test.each(EXACT_SUPPLY)("N = %i: a branch's places are room as well", (count, _, times) => {
    const more = (ROOM + SHORT_BELT_PLACES) / ROOM;
    const last = approximate(rational(times.at(-1) ?? "")) * more;
    const outcome = run(count, supply(count), "short");
    const { output } = outcome.result;
    expectFullOutputAt(outcome, count, last, CYCLE_MIN + ITEMS_OFF / fillingRate(count, count - 2));
    const lostMore = (output.ramp_up_loss ?? NaN) - (count - 2) * ROOM * more;
    expect(lostMore).toBeGreaterThanOrEqual(0);
    // Besides, an item on each of the through belts.
    expect(lostMore).toBeLessThanOrEqual(itemsInProcess(count) + count);
  });

  test.each([
    [4, ["0", "5/2", "15/2"], [72, 84, 96]],
    [8, ["0", "5/6", "3/2", "5/2", "23/6", "6", "11"], [96, 114, 132, 150, 168, 180, 192]],
  ])("N = %i: output levels between the events", (count, times, levels) => {
    const { run: simulated } = run(count, supply(count));
    const events = times.map((time) => approximate(rational(time)));
    // Clear of the events themselves, and of the first items' way to the machines.
    const clear = (t: number): number => Math.max(0.02 * t, 2 * CYCLE_MIN);
    for (const [i, level] of levels.entries()) {
      const from = (events[i] ?? 0) + clear(events[i] ?? 0);
      const next = events[i + 1];
      const to = next === undefined ? recordedMin(simulated) : next - clear(next);
      expect(to - from).toBeGreaterThan(0.4);
      const made = productsUpTo(simulated, to) - productsUpTo(simulated, from);
      expect(Math.abs(made - level * (to - from))).toBeLessThanOrEqual(count);
    }
  });
});

describe("overfeed", () => {
  test.each([
    [4, "1.05", "25/4", 125 / 4, 90],
    [8, "1.05", "11125/1309", 20.9989, 278.411],
    [24, "1.05", "7.5216", 13.4597, 1052.361],
    [4, "1.1", "75/14", 125 / 7, 480 / 7],
    [8, "1.1", "61875/8816", 13.2685, 225.245],
    [24, "1.1", "6.2091", 9.1181, 914.796],
  ])("N = %i, feed × %s", (count, share, full, allFull, lost) => {
    const outcome = run(count, supply(count, share));
    const { result } = outcome;
    const surplus = count * (Number(share) - 1);
    const { output, machines, feeds } = result;
    expectFullOutputAt(outcome, count, approximate(rational(full)));
    expectFullAt(Math.max(...fullTimes(result).map((at) => at ?? NaN)), allFull, fillingRate(count, count, surplus));
    const lostMore = (output.ramp_up_loss ?? NaN) - lost;
    expect(lostMore).toBeGreaterThanOrEqual(0);
    expect(lostMore).toBeLessThanOrEqual(itemsInProcess(count));
    expect(new Set(machines.map(({ settled_per_min }) => settled_per_min))).toEqual(new Set(["24"]));
    expect(feeds[0]?.settled_per_min).toBe(supply(count).toFraction());
  });
});

test.each([
  [4, "3", ["1", "1", "1/2", "1/2"]],
  [4, "7/2", ["1", "1", "3/4", "3/4"]],
  [4, "2", ["1", "1/2", "1/4", "1/4"]],
  [24, "108/5", [...new Array<string>(20).fill("1"), "4/5", "2/5", "1/5", "1/5"]],
])("short supply, N = %i, %s needs: exact shares", (count, needs, shares) => {
  const expected = shares.map((share) => rational(share).mul("24").toFraction());
  for (const belts of ["none", "short"] as const) {
    const { settling, machines } = run(count, rational(needs).mul("24"), belts).result;
    expect(settling.proved).toBe(true);
    expect(machines.map(({ settled_per_min }) => settled_per_min)).toEqual(expected);
  }
});

describe("unequal needs, feed 96/min", () => {
  const unequal = (machines: [need: number, room: number][]) => {
    const given = machines.map(([need, room]): ChainMachine => ({ need: whole(need), room }));
    return runNetwork(withoutBelts(chain(given, steady(rational("96")))), HORIZON);
  };

  test("growing along the chain", () => {
    const outcome = unequal([8, 16, 24, 48].map((need) => [need, 60]));
    const { result, run: simulated } = outcome;
    const found = fullTimes(result);
    // A buffer fills at its share of what comes, less its need.
    expectFullAt(found[0], 3 / 2, 48 - 8);
    expectFullAt(found[1], 45 / 14, 44 - 16);
    expectFullAt(found[2], 115 / 14, 36 - 24);
    expect(found[3]).toBeNull();
    const events = [0.1, 3 / 2, 45 / 14, 115 / 14, 12];
    for (const [i, level] of [48, 68, 84, 96].entries()) {
      const from = (events[i] ?? 0) * 1.02;
      const to = (events[i + 1] ?? 0) * 0.98;
      const made = productsUpTo(simulated, to) - productsUpTo(simulated, from);
      expect(Math.abs(made - level * (to - from))).toBeLessThanOrEqual(4);
    }
    expect((result.output.ramp_up_loss ?? NaN) - 180).toBeGreaterThanOrEqual(0);
    expect((result.output.ramp_up_loss ?? NaN) - 180).toBeLessThanOrEqual(itemsInProcess(4));
  });

  test("falling along the chain: only the last fills", () => {
    const { result } = unequal([
      [48, 60],
      [24, 30],
      [16, 120],
      [8, 24],
    ]);
    const found = fullTimes(result);
    expect(found.slice(0, 3)).toEqual([null, null, null]);
    expectFullAt(found[3], 6, 12 - 8);
    expect((result.output.ramp_up_loss ?? NaN) - 24).toBeGreaterThanOrEqual(0);
    expect((result.output.ramp_up_loss ?? NaN) - 24).toBeLessThanOrEqual(itemsInProcess(4));
  });
});

describe("a chain fed exactly what it needs (common practice, no source)", () => {
  const chainOf = (count: number) => {
    const feed = whole(30 * count);
    const belt = { ratePerMin: feed.mul("6/5"), capacity: 40, transitMin: rational("1/20"), metres: null };
    const network = equalChain(count, whole(30), 100, feed);
    const connections = network.connections.map((one) => ({ ...one, belt }));
    return runNetwork({ ...network, connections }, whole(240)).result;
  };

  test.each([4, 8, 26])(
    "%i machines: the last two never fill and just receive their need; all come to 100 per cent",
    (count) => {
      const result = chainOf(count);
      expect(fullTimes(result).map((at) => at !== null)).toEqual(
        Array.from({ length: count }, (_, k) => k < count - 2),
      );
      expect(result.machines.slice(-2).map(({ settled_per_min }) => settled_per_min)).toEqual(["30", "30"]);
      expect(result.machines.map(({ uptime }) => uptime.settled)).toEqual(new Array(count).fill(1));
    },
  );

  test("four take minutes, twenty-six about half an hour", () => {
    const four = chainOf(4).settling.time_min ?? NaN;
    const twentySix = chainOf(26).settling.time_min ?? NaN;
    expect(four).toBeGreaterThan(2);
    expect(four).toBeLessThan(20);
    expect(twentySix).toBeGreaterThan(20);
    expect(twentySix).toBeLessThan(35);
  });
});
