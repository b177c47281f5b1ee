import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { autoTickS, longestTickS, nearestTicks, ticksWithin, tooFastFor } from "../../src/network/tick.ts";
import { exact, ratio, rational } from "../../src/quantity/rational.ts";
import { connection, network } from "../analysis/flow-networks.ts";
import { belt, feed, machine, profiled } from "../engine/lines.ts";

/** A machine of this cycle, and nothing faster. */
const line = (cycleS: string) => network({ feeds: [feed("feed", "0")], machines: [machine("m", cycleS)] });

describe("the automatic tick", () => {
  test.each([
    ["60", "1"],
    ["4", "1"],
    ["3.999", "1/2"],
    ["2", "1/2"],
    ["1.999", "1/4"],
    ["1", "1/4"],
    ["0.4", "1/10"],
    ["0.399", "1/20"],
    ["0.2", "1/20"],
    ["1/7", "1/40"],
    ["0.001", "1/4000"],
  ])("for an interval of %s s is %s s", (cycleS, expected) => {
    expect(exact(autoTickS(line(cycleS)))).toBe(expected);
  });

  test("is half of the longest of 2, 1, 1/2, 1/5 … s that leaves two ticks an interval", () => {
    const series = [0n, 1n, 2n, 3n, 4n, 5n].flatMap((power) => [1n, 2n, 5n].map((n) => ratio(1n, n * 10n ** power)));
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: 1, max: 9999 }), (n, d) => {
        const interval = rational(`${n}/${d}`);
        const fitting = [rational("2"), ...series].find((tick) => tick.mul(2n).compare(interval) <= 0);
        expect(exact(autoTickS(line(exact(interval))))).toBe(exact((fitting ?? rational("0")).div(2n)));
      }),
    );
  });

  test("goes by the fastest of feeds, belts and cycles", () => {
    const given = {
      feeds: [
        profiled("feed", [
          ["0", "0"],
          ["5", "40"],
          ["6", "10"],
        ]),
      ],
      machines: [machine("m", "2")],
      connections: [connection("feed", "m", { id: "belt", belt: belt("20") })],
    };
    const names = [
      network(given),
      network({ ...given, machines: [machine("m", "1.4")] }),
      network({ ...given, connections: [connection("feed", "m", { id: "belt", belt: belt("50") })] }),
    ].map((one) => tooFastFor(rational("50"), one)?.id);
    expect(names).toEqual(["feed", "m", "belt"]);
    expect(exact(longestTickS(network(given)))).toBe("3/4");
    expect(exact(autoTickS(network({})))).toBe("1");
  });

  test("may be longer than half an interval where all of them are whole ticks", () => {
    const one = network({ machines: [machine("m", "2"), machine("slow", "3")] });
    const tooFast = ["1/2", "1", "3/2", "2", "3"].map((tick) => tooFastFor(rational(tick), one)?.id);
    expect(tooFast).toEqual([undefined, undefined, "m", "slow", "m"]);
  });
});

test("durations in ticks: those that fit, and the nearest number, at least one", () => {
  const tick = rational("1/10");
  const seconds = (text: string) => rational(text).div(60n);
  expect(["0", "0.29", "0.3", "0.31"].map((text) => ticksWithin(seconds(text), tick))).toEqual([0, 2, 3, 3]);
  expect(["0", "0.04", "0.15", "0.249", "0.25"].map((text) => nearestTicks(seconds(text), tick))).toEqual([
    1, 1, 2, 2, 3,
  ]);
});
