/**
 * Rate cuts. That an ordered divider with a belt of 60/min on its first outlet cuts 110/min into exactly 60 and 50 is
 * common practice, no source.
 */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { plannedCuts } from "../../src/analysis/cuts.ts";
import type { RateCut } from "../../src/analysis/plant-results.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import { autoTickS, ticksWithin } from "../../src/network/tick.ts";
import { rational, whole } from "../../src/quantity/rational.ts";
import { belt, divider, feed, machine } from "../engine/lines.ts";
import { connection, network } from "./flow-networks.ts";
import { TITLE_AND_SEED } from "./runs.ts";

interface Given {
  readonly feed: string;
  readonly first: string;
  readonly cycleS?: string;
  readonly transitS?: string;
  readonly capacity?: number;
}

/** feed ─ 10 times as fast as it feeds ─ cut ─ first: machine one; second: machine two, both quick unless told. */
function cutLine({ feed: perMin, first, cycleS = "1/20", transitS = "3", capacity = 60 }: Given): Network {
  const fast = rational(perMin).mul(10n).toFraction();
  return network({
    feeds: [feed("feed", perMin)],
    dividers: [divider("cut", "ordered")],
    machines: [machine("one", cycleS), machine("two", "1/20")],
    connections: [
      connection("feed", "cut", { id: "in", belt: belt(fast, 60, "2") }),
      connection("cut", "one", { id: "first", belt: belt(first, capacity, transitS) }),
      connection("cut", "two", { id: "second", belt: belt(fast, 60, "2") }),
    ],
  });
}

function cutsOf(line: Network, minutes = "240"): readonly RateCut[] {
  const tickS = autoTickS(line);
  const run = simulate(compile(line, tickS), { horizonTicks: ticksWithin(rational(minutes), tickS), check: true });
  return analyse(run, TITLE_AND_SEED, { applies: false, reason: "it is not asked" }).result.cuts;
}

describe("the cut", () => {
  test("of 60 out of 110 passes on 50, exactly, by recurrence", () => {
    expect(cutsOf(cutLine({ feed: "110", first: "60" }))).toEqual([
      {
        divider: "cut",
        belt: "first",
        cut_per_min: "60",
        arriving_per_min: "110",
        taken_per_min: "60",
        passed_on_per_min: "50",
        state: "exact",
      },
    ]);
  });

  test("stays exact for awkward rates, and what is taken and passed on is what arrives", () => {
    const perMin = fc.constantFrom("7", "45/4", "97/3", "60", "61", "500/7");
    fc.assert(
      fc.property(perMin, fc.constantFrom("1/9", "1/2", "8/9", "1", "10/9", "3"), (first, ratio) => {
        const given = rational(first).mul(rational(ratio));
        const [cut] = cutsOf(cutLine({ feed: given.toFraction(), first, transitS: "1" }), "600");
        const expected = given.compare(rational(first)) >= 0 ? rational(first) : given;
        expect(cut?.arriving_per_min).toBe(given.toFraction());
        expect(cut?.taken_per_min).toBe(expected.toFraction());
        expect(cut?.passed_on_per_min).toBe(given.sub(expected).toFraction());
        expect(cut?.state).toBe(expected.equals(rational(first)) ? "exact" : "short");
      }),
      { numRuns: 36 },
    );
  }, 60_000);

  test("is exact, too, with a belt that has room for no more than it carries", () => {
    for (const [capacity, transitS] of [
      [3, "3"],
      [10, "10"],
      [1, "0"],
    ] as const) {
      expect(cutsOf(cutLine({ feed: "110", first: "60", capacity, transitS }))[0]?.state).toBe("exact");
    }
  });

  test("is short of its rate where less arrives: all is taken, nothing passes on", () => {
    const all = { arriving_per_min: "45", taken_per_min: "45", passed_on_per_min: "0", state: "short" };
    expect(cutsOf(cutLine({ feed: "45", first: "60" }))[0]).toMatchObject(all);
    // Whoever is alone on a belt without a way is always at its head, and never held up.
    expect(cutsOf(cutLine({ feed: "45", first: "60", capacity: 1, transitS: "0" }))[0]).toMatchObject(all);
  });

  test("is held up where what lies behind it takes less", () => {
    // The machine needs 60 but its product has nowhere to go faster than 20.
    const plain = cutLine({ feed: "110", first: "60", cycleS: "1" });
    const held = {
      ...plain,
      outlets: [{ id: "out", item: "carton" }],
      connections: [...plain.connections, connection("one", "out", { belt: belt("20", 5, "1") })],
    };
    expect(cutsOf(held)[0]).toMatchObject({ taken_per_min: "20", passed_on_per_min: "90", state: "held-up" });
  });

  test("is uneven where its flow comes by fits and starts", () => {
    const dock = { ...feed("feed", "240"), batch: { everyMin: whole(1), items: 60, firstMin: whole(0) } };
    const [cut] = cutsOf({ ...cutLine({ feed: "240", first: "50" }), feeds: [dock] });
    // 60 in a quarter of a minute, of which the belt takes a quarter of 50.
    expect(cut?.state).toBe("uneven");
    expect(Number(cut?.taken_per_min)).toBeLessThan(16);
    expect(
      whole(60)
        .sub(rational(cut?.taken_per_min ?? "0"))
        .toFraction(),
    ).toBe(cut?.passed_on_per_min);
  });
});

describe("no cut is", () => {
  const planned = (line: Network) => plannedCuts(line).map((cut) => cut.divider);

  test("an even divider, nor a first outlet as fast as what comes", () => {
    const line = cutLine({ feed: "110", first: "60" });
    expect(planned(line)).toEqual(["cut"]);
    expect(planned({ ...line, dividers: [divider("cut", "even")] })).toEqual([]);
    expect(planned(cutLine({ feed: "110", first: "1100" }))).toEqual([]);
  });

  test("one whose machine needs less than the belt carries", () => {
    expect(planned(cutLine({ feed: "110", first: "60", cycleS: "1" }))).toEqual(["cut"]);
    expect(planned(cutLine({ feed: "110", first: "60", cycleS: "2" }))).toEqual([]);
  });

  test("one that sorts", () => {
    const line = cutLine({ feed: "110", first: "60" });
    const connections = line.connections.map((one) => (one.id === "first" ? { ...one, only: ["pouch"] } : one));
    expect(planned({ ...line, connections })).toEqual([]);
  });

  test("without an inlet belt, one whose feed is slower", () => {
    const line = (perMin: string) => {
      const plain = cutLine({ feed: perMin, first: "60" });
      return {
        ...plain,
        connections: plain.connections.map((one) => (one.id === "in" ? { ...one, belt: null } : one)),
      };
    };
    expect(planned(line("45"))).toEqual([]);
    expect(planned(line("110"))).toEqual(["cut"]);
    expect(cutsOf(line("110"))[0]).toMatchObject({ taken_per_min: "60", passed_on_per_min: "50", state: "exact" });
  });
});
