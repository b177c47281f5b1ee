/** Known values are found again from counts; what counts cannot tell is said to be so. */
import { describe, expect, test } from "vitest";
import { prepare } from "../../../src/network/prepare.ts";
import { readScenario } from "../../../src/scenario/read.ts";
import { planFit } from "../../../src/study/fit/fit-given.ts";
import type { Unknown } from "../../../src/study/fit/unknowns.ts";
import { countsOf, fitted, LINE, MEETING, normal, oddTimes, planned, unknowns } from "./lines.ts";

const RATE = "feeds.blender.rate=80/min..130/min";
const INFEED = "machines.cartoner.infeed=10..60";
const CYCLE = "machines.cartoner.cycle=1.5 s..3 s";
const OUTFEED = "machines.cartoner.outfeed=5..40";
const SEEN = ["cartoner-1.made", "cartoner-2.infeed", "cartoner-3.made", "cartoner-3.infeed"];
const TIMES = oddTimes(14, 0.43);

function given(...texts: readonly string[]): Unknown[] {
  return unknowns(...texts);
}

describe("values are found again from counts without errors", () => {
  test.each([
    ["a feed's rate", [RATE], [113]],
    ["a cycle", [CYCLE], [2.3]],
    ["room, a whole number", [INFEED], [23]],
    ["rate and room", [RATE, INFEED], [113, 23]],
    ["cycle and room", [CYCLE, INFEED], [2.3, 17]],
  ])("%s", async (_what, texts, truth) => {
    const set = given(...texts);
    const { fit } = await fitted(LINE, set, countsOf(LINE, set, truth, SEEN, TIMES));
    // What is left over is what the whole numbers of the counts hide.
    expect(fit.reduced).toBeLessThan(0.2);
    for (const [
      i,
      {
        value,
        range_95: [low, high],
        told,
        unit,
      },
    ] of fit.unknowns.entries()) {
      const true_ = truth[i] ?? Number.NaN;
      expect(told).toBe("pinned");
      // Whole numbers exactly, others within a range that is narrow.
      if (unit === "") expect(value).toBe(true_);
      expect(low).toBeLessThanOrEqual(true_);
      expect(high).toBeGreaterThanOrEqual(true_);
      expect(Math.abs(value / true_ - 1)).toBeLessThan(0.005);
    }
  });
});

test("the fitted scenario is a file that can be read and run, and gives the fitted counts", async () => {
  const set = given(RATE, INFEED);
  const { fit, scenario } = await fitted(LINE, set, countsOf(LINE, set, [113, 23], SEEN, TIMES));
  const outcome = readScenario(scenario);
  if (!outcome.ok) throw new Error("not read");
  expect(prepare(outcome.scenario)).toMatchObject({ ok: true });
  const [rate = "", room = ""] = fit.unknowns.map(({ text }) => text);
  expect(scenario).toContain(`rate: ${rate}`);
  const again = countsOf(scenario, given(INFEED), [Number(room)], SEEN, TIMES)
    .split("\n")
    .slice(1);
  const counts = again.map((row) => row.split(",").slice(1).map(Number));
  for (const [s, { fitted: own }] of fit.series.entries()) {
    for (const [row, count] of own.entries())
      expect(Math.abs(count - (counts[row]?.[s] ?? Number.NaN))).toBeLessThan(1.5);
  }
  expect(outcome.scenario.horizonMin.valueOf()).toBe(60);
});

describe("what counts cannot tell", () => {
  test("what changes nothing is left as the file has it", async () => {
    const set = given(RATE, OUTFEED);
    const { fit } = await fitted(LINE, set, countsOf(LINE, set, [113, 20], SEEN, TIMES));
    const [rate, outfeed] = fit.unknowns;
    expect(rate).toMatchObject({ told: "pinned" });
    expect(outfeed).toMatchObject({
      told: "alone-no-matter",
      value: 20,
      own: 20,
      standard_error: null,
      range_95: [null, null],
      with: [],
    });
    expect(fit.correlations[1]).toEqual([null, null]);
  });

  test("room that never filled up has only a least size", async () => {
    const set = given("machines.cartoner.infeed=10..90");
    const { fit } = await fitted(LINE, set, countsOf(LINE, set, [80], ["cartoner-1.infeed"], oddTimes(9, 0.3)));
    const [room] = fit.unknowns;
    const fullest = Math.max(...(fit.series[0]?.observed.map((count) => count ?? 0) ?? []));
    expect(fullest).toBeGreaterThan(20);
    expect(fullest).toBeLessThan(80);
    expect(room).toMatchObject({ told: "one-sided", range_95: [expect.any(Number), null] });
    expect(Math.abs((room?.range_95[0] ?? 0) - fullest)).toBeLessThanOrEqual(4);
  });

  test("what does the same to a machine is known only together", async () => {
    // Speed and cycle do the same to a machine.
    const text = LINE.replace("outfeed: 20", "outfeed: 20, speed: 100 %");
    const set = given("machines.cartoner.cycle=1.5 s..3 s", "machines.cartoner.speed=50 %..150 %");
    const { fit } = await fitted(text, set, countsOf(text, set, [2.2, 100], SEEN, TIMES));
    expect(fit.unknowns.map(({ told, with: others }) => [told, others])).toEqual([
      ["combination", ["machines.cartoner.speed"]],
      ["combination", ["machines.cartoner.cycle"]],
    ]);
    const [cycle, speed] = fit.unknowns.map(({ value }) => value);
    expect((cycle ?? 0) / ((speed ?? 0) / 100)).toBeCloseTo(2.2, 1);
  });

  test("a feed beyond what is taken has only a least rate", async () => {
    const set = given("feeds.lids.rate=20/min..60/min");
    // Tins tell what the scarcer part brings: lids only where there are fewer than bodies.
    const { fit } = await fitted(MEETING, set, countsOf(MEETING, set, [45], ["made"], TIMES));
    expect(fit.unknowns[0]).toMatchObject({ told: "one-sided", range_95: [expect.any(Number), null] });
  });
});

describe("counting errors", () => {
  test("χ² per degree of freedom is near 1, and ranges of 95 % hold the truth, over twenty sets of errors", async () => {
    const set = given(RATE);
    const fits = await Promise.all(
      Array.from({ length: 20 }, async (_, n) => {
        const observed = countsOf(LINE, set, [113], SEEN, TIMES, normal(20_011 + 7919 * n));
        return (await fitted(LINE, set, observed)).fit;
      }),
    );
    const freedom = 20 * (TIMES.length * SEEN.length - 1);
    const sum = fits.reduce((before, { chi_square: chiSquare }) => before + chiSquare, 0);
    expect(fits.reduce((before, fit) => before + fit.degrees_of_freedom, 0)).toBe(freedom);
    // Counts at levels next to none are cut off at 0, so that their errors are somewhat less.
    expect(sum / freedom).toBeGreaterThan(0.8);
    expect(sum / freedom).toBeLessThan(1 + 3 * Math.sqrt(2 / freedom));
    expect(fits.filter(({ fits: isFit }) => isFit).length).toBeGreaterThanOrEqual(18);
    const holding = fits.filter(({ unknowns: [rate] }) => {
      const [low, high] = rate?.range_95 ?? [];
      return (low ?? Infinity) <= 113 && (high ?? -Infinity) >= 113;
    });
    // Fewer than 17 of 20 come by chance once in sixty times (binomial, 95 %).
    expect(holding.length).toBeGreaterThanOrEqual(17);
  });

  test("where they are larger than stated the model is said not to fit, and ranges are wider for it", async () => {
    const set = given(RATE);
    const width = async (by: number) => {
      const error = normal(20_011);
      const { fit } = await fitted(
        LINE,
        set,
        // What is counted from the start never falls, however wrong.
        countsOf(LINE, set, [113], ["hold-up"], TIMES, () => by * error()),
      );
      const [low, high] = fit.unknowns[0]?.range_95 ?? [];
      return { fit, width: (high ?? Number.NaN) - (low ?? Number.NaN) };
    };
    const [usual, large] = [await width(1), await width(5)];
    expect([usual.fit.fits, large.fit.fits]).toEqual([true, false]);
    expect(large.fit.widened_by).toBeGreaterThan(3);
    expect(large.width).toBeGreaterThan(2 * usual.width);
  });

  test("under chance the mean is fitted, on the same luck for all values; the plant had its own", async () => {
    const chance =
      "random: { machines: { cartoner: { micro-stops: { chance: 2 %, lasting: { exponential: 4 s } } } } }\n";
    const set = given(RATE);
    const counts = countsOf(`${LINE}${chance}`, set, [113], SEEN, TIMES);
    const { fit } = await fitted(`${LINE}seed: another\n${chance}`, set, counts);
    expect(Math.abs(Number(fit.unknowns[0]?.value) - 113)).toBeLessThan(1.5);
  });

  test("a wrong model is found out", async () => {
    const truth = LINE.replace("cycle: 2 s", "cycle: 2.4 s");
    const set = given(RATE);
    const { fit } = await fitted(LINE, set, countsOf(truth, set, [113], SEEN, TIMES));
    expect(fit).toMatchObject({ fits: false });
  });
});

test("the expected error is a cycle's items where they come in cycles", () => {
  const text = LINE.replace("makes: { carton: 1 }", "makes: { carton: 6 }").replace(
    "takes: { pouch: 1 }",
    "takes: { pouch: 2 }",
  );
  const observed = "time_min,made,cartoner-1.made,cartoner-1.infeed,blender.fed\n1,1,1,1,1\n2,1,1,1,1\n";
  expect(planned(text, given(INFEED), observed).errors).toEqual([6, 6, 2, 1]);
});

test("values of the file, in the unit of the bounds", () => {
  const observed = "time_min,made\n1,1\n2,1\n";
  const own = (path: string): number | null => planned(LINE, given(path), observed).own[0] ?? null;
  expect(own("feeds.blender.rate=1/s..2/s")).toBeCloseTo(100 / 60, 12);
  expect(own("machines.cartoner.infeed=10..60")).toBe(30);
  expect(own("machines.cartoner.speed=80 %..120 %")).toBeNull();
  const listed = LINE.replace("outfeed: 20", "outfeed: 20, speed: [100 %, 90 %, 80 %]");
  const plan = planned(listed, given("machines.cartoner.speed.1=80 %..120 %"), observed);
  expect(plan.own).toEqual([90]);
});

test("a scenario that cannot be run at a corner of the bounds is refused with the corner", () => {
  const set = given("feeds.blender.rate=80/min..200/min", "machines.cartoner.infeed=0..60");
  const outcome = planFit({
    text: LINE,
    name: "line",
    change: (same) => same,
    unknowns: set,
    observed: "time_min,made\n1,1\n",
    errors: new Map(),
  });
  expect(outcome).toMatchObject({
    ok: false,
    wrong: "scenario",
    values: "feeds.blender.rate=80/min, machines.cartoner.infeed=0",
  });
});
