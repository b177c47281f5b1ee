/**
 * Fill-up of a chain as a flow. Source of every value without another mark: own derivation, verified by an independent
 * method (event solution against stepping). In it machines k are counted from the feed, rates in units of one machine's need d,
 * times in units of B/d, and m is the number of machines not yet full.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { solveFlow, withinToleranceMin } from "../../src/analysis/flow/flow.ts";
import { approximate, larger, ONE, type Rational, rational, sum, whole, ZERO } from "../../src/quantity/rational.ts";
import { chain, equalChain, eventTimes, outputs, settledShares, solved, steady } from "./flow-networks.ts";

const NEED = rational("24");
const ROOM = 60;

function filled(count: number, oversupply = "1") {
  return solved(solveFlow(equalChain(count, NEED, ROOM, NEED.mul(count).mul(oversupply))));
}

describe("exact supply", () => {
  test("event times and outputs", () => {
    expect(eventTimes(filled(3))).toEqual(["5"]);
    expect(eventTimes(filled(4))).toEqual(["5/2", "15/2"]);
    expect(outputs(filled(4))).toEqual(["72", "84", "96"]);
    expect(eventTimes(filled(5))).toEqual(["5/3", "15/4", "35/4"]);
    expect(filled(6).settlingMin.toFraction()).toBe("155/16");
    expect(eventTimes(filled(8))).toEqual(["5/6", "3/2", "5/2", "23/6", "6", "11"]);
    expect(outputs(filled(8))).toEqual(["96", "114", "132", "150", "168", "180", "192"]);
    expect(filled(16).settlingMin.toFraction()).toBe("82464709/6082560");
    expect(filled(24).settlingMin.toFraction()).toBe("27608241222180793/1858920649850880");
  });

  test("buffers fill in order from the feed, the last two never", () => {
    const events = filled(8).phases.flatMap((phase) => phase.events);
    expect(events).toEqual(
      [1, 2, 3, 4, 5, 6].map((k) => ({ what: "full", machine: `machine-${k}`, item: "pouch", side: "infeed" })),
    );
  });

  test("within 5 % one phase before full output", () => {
    expect(withinToleranceMin(filled(10), rational("0.05"))?.toFraction()).toBe("7051/1024");
    expect(approximate(withinToleranceMin(filled(16), rational("0.05")) ?? ZERO)).toBeCloseTo(8.5576, 4);
    expect(approximate(withinToleranceMin(filled(24), rational("0.05")) ?? ZERO)).toBeCloseTo(7.6873, 4);
  });

  test("the loss is what the buffers hold in the end, (N − 2) B", () => {
    for (const count of [3, 4, 8, 16, 30]) expect(filled(count).rampUpLoss.equals((count - 2) * ROOM)).toBe(true);
  });

  test("the time grows as ln N + 3.03, and a thousand machines are no trouble", () => {
    const times = [300, 1000].map((count) =>
      approximate(solved(solveFlow(equalChain(count, ONE, 1, whole(count)))).settlingMin),
    );
    expect(Math.abs((times[0] ?? 0) - Math.log(300) - 3.03)).toBeLessThan(0.04);
    expect(Math.abs((times[1] ?? 0) - Math.log(1000) - 3.03)).toBeLessThan(0.015);
  }, 60_000);
});

describe("overfeed", () => {
  test.each([
    [4, "1.05", "25/4", "125/4", "90"],
    [4, "1.1", "75/14", "125/7", "480/7"],
  ])("N = %i, feed × %s, as fractions", (count, oversupply, full, allFull, lost) => {
    const solution = filled(count, oversupply);
    expect(solution.settlingMin.toFraction()).toBe(full);
    expect(solution.phases.at(-1)?.fromMin.toFraction()).toBe(allFull);
    expect(solution.rampUpLoss.toFraction()).toBe(lost);
  });

  test("N = 8 has its full output at fractions", () => {
    expect(filled(8, "1.05").settlingMin.toFraction()).toBe("11125/1309");
    expect(filled(8, "1.1").settlingMin.toFraction()).toBe("61875/8816");
  });

  test.each([
    [8, "1.05", 11125 / 1309, 20.9989, 278.411],
    [8, "1.1", 61875 / 8816, 13.2685, 225.245],
    [24, "1.05", 7.5216, 13.4597, 1052.361],
    [24, "1.1", 6.2091, 9.1181, 914.796],
  ])("N = %i, feed × %s", (count, oversupply, full, allFull, lost) => {
    const solution = filled(count, oversupply);
    expect(approximate(solution.settlingMin)).toBeCloseTo(full, 4);
    expect(approximate(solution.phases.at(-1)?.fromMin ?? ZERO)).toBeCloseTo(allFull, 4);
    expect(approximate(solution.rampUpLoss)).toBeCloseTo(lost, 3);
  });

  test("a share e too much bounds the time for every N, near (B/d) ln((1 + e)/e) for long chains", () => {
    const e = 0.1;
    const long = approximate(solved(solveFlow(equalChain(400, ONE, 1, rational("440")))).settlingMin);
    expect(Math.abs(long / Math.log((1 + e) / e) - 1)).toBeLessThan(0.02);
  }, 30_000);
});

/** The recursion for the times between fillings, D(m) by m, and from them when machine k is full. */
function closedForm(count: number, excess: Rational) {
  const between = new Map<number, Rational>();
  const rises = (m: number, i: number) =>
    larger(
      whole(m + i)
        .add(excess)
        .div(whole(2).pow(whole(i + 1)) ?? ONE)
        .sub(ONE),
      ZERO,
    );
  for (let m = count; m >= 3; m--) {
    let level = ZERO;
    for (let i = 1; m + i <= count; i++) level = level.add((between.get(m + i) ?? ZERO).mul(rises(m, i)));
    between.set(m, ONE.sub(level).div(whole(m).add(excess).div(2n).sub(ONE)));
  }
  const until = (last: number) => sum([...between].filter(([m]) => m >= last).map(([, time]) => time));
  let settled = 2;
  while (excess.compare(2 ** settled - settled - 1) >= 0) settled++;
  return {
    fullAt: (k: number) => until(count - k + 1),
    fullOutput: until(settled + 1),
  };
}

test("every filling agrees with the recursion, for any N and feed", () => {
  fc.assert(
    fc.property(fc.integer({ min: 3, max: 26 }), fc.integer({ min: 0, max: 90 }), (count, tenths) => {
      const excess = whole(tenths).div(10n);
      const solution = solved(solveFlow(equalChain(count, ONE, 1, whole(count).add(excess))));
      const expected = closedForm(count, excess);
      for (let k = 1; k <= count - 2; k++) {
        const phase = solution.phases.find(({ events }) =>
          events.some((event) => event.what === "full" && event.machine === `machine-${k}`),
        );
        expect(phase?.fromMin.toFraction()).toBe(expected.fullAt(k).toFraction());
      }
      expect(solution.settlingMin.toFraction()).toBe(expected.fullOutput.toFraction());
    }),
    { numRuns: 60 },
  );
});

describe("short supply", () => {
  const shares = (count: number, feed: string) =>
    settledShares(solved(solveFlow(equalChain(count, ONE, ROOM, rational(feed)))));

  test("what is left halves from machine to machine, the last two equal", () => {
    expect(shares(4, "3")).toEqual(["1", "1", "1/2", "1/2"]);
    expect(shares(4, "7/2")).toEqual(["1", "1", "3/4", "3/4"]);
    expect(shares(4, "2")).toEqual(["1", "1/2", "1/4", "1/4"]);
    expect(shares(24, "108/5")).toEqual([...new Array(20).fill("1"), "4/5", "2/5", "1/5", "1/5"]);
  });

  test("machine k is satisfied while y − (k − 1) > 2, or at 2 exactly by its half", () => {
    fc.assert(
      fc.property(fc.integer({ min: 3, max: 20 }), fc.integer({ min: 1, max: 200 }), (count, hundredths) => {
        const feed = whole(count).mul(whole(hundredths)).div(201n);
        let left = feed;
        const expected: string[] = [];
        for (let k = 1; k <= count; k++) {
          const share = k === count ? left : left.compare(2n) > 0 ? ONE : left.div(2n);
          expected.push(share.toFraction());
          left = left.sub(share);
        }
        expect(shares(count, feed.toFraction())).toEqual(expected);
      }),
      { numRuns: 50 },
    );
  });
});

describe("unequal machines", () => {
  const unequal = (needs: number[], rooms: number[]) =>
    solved(
      solveFlow(
        chain(
          needs.map((need, k) => ({ need: whole(need), room: rooms[k] ?? ROOM })),
          steady(rational("96")),
        ),
      ),
    );

  test("needs that grow along the chain", () => {
    const solution = unequal([8, 16, 24, 48], [60, 60, 60, 60]);
    expect(eventTimes(solution)).toEqual(["3/2", "45/14", "115/14"]);
    expect(outputs(solution)).toEqual(["48", "68", "84", "96"]);
    expect(solution.rampUpLoss.toFraction()).toBe("180");
  });

  test("needs that fall along the chain: only the last buffer fills", () => {
    const solution = unequal([48, 24, 16, 8], [60, 30, 120, 24]);
    expect(solution.phases.flatMap(({ events }) => events)).toEqual([
      { what: "full", machine: "machine-4", item: "pouch", side: "infeed" },
    ]);
    expect(eventTimes(solution)).toEqual(["6"]);
    expect(solution.rampUpLoss.toFraction()).toBe("24");
  });
});

test("buffers filled to the fraction f beforehand lose max(0, N − 2 − N f) B", () => {
  fc.assert(
    fc.property(fc.integer({ min: 3, max: 12 }), fc.integer({ min: 0, max: 12 }), (count, twelfths) => {
      const fraction = whole(twelfths).div(12n);
      const initialLevels = Array.from({ length: count }, (_, k) => ({
        machine: `machine-${k + 1}`,
        item: "pouch",
        level: fraction.mul(whole(ROOM)),
      }));
      const solution = solved(solveFlow(equalChain(count, NEED, ROOM, NEED.mul(whole(count))), { initialLevels }));
      const lost = larger(whole(count - 2).sub(fraction.mul(whole(count))), ZERO).mul(whole(ROOM));
      expect(solution.rampUpLoss.toFraction()).toBe(lost.toFraction());
    }),
    { numRuns: 60 },
  );
});

test("a surge of feed reaches full output for a moment, which is not settling", () => {
  const profile = [
    { fromMin: ZERO, ratePerMin: rational("144") },
    { fromMin: rational("3/2"), ratePerMin: rational("96") },
  ];
  const solution = solved(solveFlow(chain(new Array(4).fill({ need: NEED, room: ROOM }), profile)));
  const output = new Map(solution.phases.map((phase) => [phase.fromMin.toFraction(), phase.outputPerMin.toFraction()]));
  expect(output.get("5/4")).toBe("96");
  expect(output.get("7/4")).not.toBe("96");
  expect(solution.settlingMin.toFraction()).toBe("9/2");
  expect(solution.rampUpLoss.toFraction()).toBe("48");
});

describe("ordered dividers fill one machine after the other", () => {
  const inTurn = (order: number[]) =>
    order.map((k) => ({ what: "full", machine: `machine-${k}`, item: "pouch", side: "infeed" }));
  const machines = new Array(4).fill({ need: NEED, room: ROOM });

  test("branch first, from the feed", () => {
    const solution = solved(solveFlow(chain(machines, steady(rational("96")), "ordered")));
    expect(solution.phases.flatMap(({ events }) => events)).toEqual(inTurn([1, 2, 3]));
    expect(eventTimes(solution)).toEqual(["5/6", "25/12", "55/12"]);
    expect(outputs(solution)).toEqual(["24", "48", "72", "96"]);
    expect(solution.rampUpLoss.toFraction()).toBe("180");
  });

  test("through first, from the far end", () => {
    const forward = chain(machines, steady(rational("96")), "ordered");
    const connections = forward.connections.toSorted((a, b) => b.id.localeCompare(a.id));
    const solution = solved(solveFlow({ ...forward, connections }));
    expect(solution.phases.flatMap(({ events }) => events)).toEqual(inTurn([4, 3, 2]));
    expect(eventTimes(solution)).toEqual(["5/6", "25/12", "55/12"]);
  });
});
