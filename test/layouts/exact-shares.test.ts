/**
 * Every tree and loop drawn up, simulated until its whole state recurs, gives each machine its exact share: fractions are
 * equal, not near. Fed five sixths of what is needed, so that no buffer fills, and just what is needed.
 */
import { describe, expect, test } from "vitest";
import { sharesOfCounts, type Ways } from "../../src/network/shares.ts";
import { exact, type Rational, ratio, rational, sum, whole } from "../../src/quantity/rational.ts";
import { cases } from "../plants/cases.ts";
import { settle } from "../plants/settled.ts";
import { networkOf } from "./shared-lines.ts";
import { randomWeights } from "./weights.ts";

/** @param part of what the machines need that is fed */
function expectShares(layout: "tree" | "loop", ways: Ways, needs: readonly Rational[], part: Rational): void {
  const feedPerMin = sum(needs).mul(part);
  const settled = settle(networkOf({ layout, ways, needs, feedPerMin }));
  const running = needs.map((_, index) => settled?.running.get(`m${index + 1}`));
  expect(running.map((share) => share && exact(share))).toEqual(needs.map(() => exact(part)));
  expect(exact(settled?.fed.get("silo") ?? whole(0))).toBe(exact(feedPerMin));
}

function layoutsFor(weights: readonly number[], ways: Ways): ("tree" | "loop")[] {
  return sharesOfCounts(weights, ways).odd === 1 ? ["tree", "loop"] : ["loop"];
}

const FED = [ratio(5n, 6n), whole(1)];

describe.each([2, 3] as const)("dividers of up to %i ways", (ways) => {
  test("all numbers of equal machines up to 64", () => {
    for (let count = 1; count <= 64; count++) {
      const weights = Array.from({ length: count }, () => 1);
      const needs = weights.map(() => whole(6));
      for (const layout of layoutsFor(weights, ways)) expectShares(layout, ways, needs, ratio(5n, 6n));
      if (count % 8 === 5) expectShares("loop", ways, needs, whole(1));
    }
  });

  test("random unequal needs", () => {
    for (const weights of randomWeights(cases(100))) {
      const needs = weights.map((weight) => whole(weight));
      for (const layout of layoutsFor(weights, ways)) {
        for (const part of FED) expectShares(layout, ways, needs, part);
      }
    }
  });

  test("7/2, 21/4 and 35/4 a minute", () => {
    for (const part of FED) expectShares("loop", ways, ["7/2", "21/4", "35/4"].map(rational), part);
  });
});
