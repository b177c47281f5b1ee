/** The references for unreliable machines and single queues: each by two methods, and the values that stand for them. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { secondEigenvalue, solved, stationary, stepped, steppedUntilStill } from "./chain.ts";
import { md1kLoss, md1kLossByChain, md1Wait, mm1k, mm1kLevels } from "./queues.ts";
import { flowPair, flowPairInSteps, geometricPair, gershwinPair } from "./unreliable-pair.ts";

describe("chains", () => {
  // A machine that fails with 0.2 and is repaired with 0.3: up for 3/5 of the time, forgets by 1 − 0.2 − 0.3.
  const machine = [
    [
      { to: 0, probability: 0.7 },
      { to: 1, probability: 0.3 },
    ],
    [
      { to: 0, probability: 0.2 },
      { to: 1, probability: 0.8 },
    ],
  ];

  test("two states by hand", () => {
    expect(stationary(machine)[1]).toBeCloseTo(0.6, 14);
    expect(secondEigenvalue(machine)).toBeCloseTo(0.5, 12);
    expect(stepped(machine, [1, 0])).toEqual([0.7, 0.3]);
  });

  test("solving and stepping give the same", () => {
    const random = fc.array(fc.array(fc.integer({ min: 1, max: 20 }), { minLength: 5, maxLength: 5 }), {
      minLength: 5,
      maxLength: 5,
    });
    fc.assert(
      fc.property(random, (weights) => {
        const chain = weights.map((row) => {
          const total = row.reduce((sum, weight) => sum + weight, 0);
          return row.map((weight, to) => ({ to, probability: weight / total }));
        });
        const direct = solved(chain);
        for (const [state, probability] of steppedUntilStill(chain).entries()) {
          expect(probability).toBeCloseTo(direct[state] ?? 0, 12);
        }
      }),
    );
  });
});

describe("two unreliable machines with geometric times (S. B. Gershwin 1994, chapter 3; formulas from memory)", () => {
  test.each([
    [0.1, 0.01, 0.1, 0.01, 4, 0.84093614],
    [0.1, 0.01, 0.1, 0.01, 10, 0.85617493],
    [0.1, 0.01, 0.1, 0.01, 20, 0.87054072],
    [0.1, 0.01, 0.1, 0.01, 100, 0.89693712],
    [0.1, 0.01, 0.2, 0.01, 10, 0.89061469],
    [0.2, 0.05, 0.15, 0.03, 8, 0.73667923],
  ])("r1 %f, p1 %f, r2 %f, p2 %f, N %i: the known rate, by both methods", (r1, p1, r2, p2, room, rate) => {
    expect(geometricPair({ r1, p1, r2, p2, room }).rate).toBeCloseTo(rate, 8);
    expect(gershwinPair({ r1, p1, r2, p2, room }).rate).toBeCloseTo(rate, 8);
  });

  test("chain and closed form agree on rate and level for any pair", () => {
    const chance = fc.double({ min: 0.02, max: 0.4, noNaN: true });
    const pairs = fc.record({ r1: chance, p1: chance, r2: chance, p2: chance, room: fc.integer({ min: 4, max: 12 }) });
    fc.assert(
      fc.property(pairs, (given) => {
        const chain = geometricPair(given);
        const closed = gershwinPair(given);
        expect(chain.rate).toBeCloseTo(closed.rate, 8);
        expect(chain.buffer).toBeCloseTo(closed.buffer, 6);
      }),
    );
  });
});

describe("two unreliable machines with exponential times and a flow", () => {
  const KNOWN = [
    { lambda1: 0.1, mu1: 0.9, lambda2: 0.1, mu2: 0.9, room: 1, rate: 0.84, steps: 20 },
    { lambda1: 0.05, mu1: 0.45, lambda2: 0.05, mu2: 0.45, room: 10, rate: 0.87428571, steps: 5 },
    { lambda1: 0.1, mu1: 0.5, lambda2: 0.2, mu2: 0.8, room: 3, rate: 0.74433966, steps: 10 },
  ];

  test.each(KNOWN)("$lambda1, $mu1, $lambda2, $mu2, room $room: the known rate", ({ rate, ...given }) => {
    expect(flowPair(given)).toBeCloseTo(rate, 8);
  });

  test.each(KNOWN)("$lambda1, $mu1, $lambda2, $mu2, room $room: small steps come to the closed form", (given) => {
    expect(Math.abs(flowPairInSteps(given, given.steps) - flowPair(given))).toBeLessThan(5e-5);
  });

  test("no room leaves the product of both, ample room the worse of both", () => {
    const given = { lambda1: 0.1, mu1: 0.9, lambda2: 0.2, mu2: 0.8 };
    expect(flowPair({ ...given, room: 0 })).toBeCloseTo(0.9 * 0.8, 12);
    expect(flowPair({ ...given, room: 500 })).toBeCloseTo(0.8, 8);
  });
});

describe("queues (closed forms from memory)", () => {
  test("M/M/1/K: share of turned away and mean number", () => {
    expect(mm1k(1 / 2, 3).full).toBeCloseTo(1 / 15, 14);
    expect(mm1k(1 / 2, 3).mean).toBeCloseTo(11 / 15, 14);
    expect(mm1k(1, 4)).toEqual({ full: 0.2, mean: 2 });
    expect(mm1kLevels(1 / 2, 3)).toEqual([8 / 15, 4 / 15, 2 / 15, 1 / 15]);
  });

  test("M/D/1: mean wait in services", () => {
    expect(md1Wait(0.5)).toBeCloseTo(0.5, 14);
    expect(md1Wait(0.8)).toBeCloseTo(2, 13);
    expect(md1Wait(0.9)).toBeCloseTo(4.5, 13);
  });

  test.each([
    [0.8, 2, 0.19957],
    [0.8, 5, 0.03529],
    [1, 5, 0.103449],
  ])("M/D/1/K with ρ %f, K %i: the known loss, by both methods", (rho, room, loss) => {
    expect(md1kLoss(rho, room)).toBeCloseTo(loss, 6);
    expect(md1kLossByChain(rho, room)).toBeCloseTo(loss, 6);
  });

  test("M/D/1/K: series and chain agree for any load and room", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.1, max: 2, noNaN: true }), fc.integer({ min: 1, max: 8 }), (rho, room) => {
        expect(md1kLoss(rho, room)).toBeCloseTo(md1kLossByChain(rho, room), 9);
      }),
    );
  });
});
