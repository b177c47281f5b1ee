/** What a file leaves to chance, as read and written; what is wrong with it is in findings.test.ts. */
import { describe, expect, test } from "vitest";
import { ratio, whole } from "../../src/quantity/rational.ts";
import { meanOf } from "../../src/scenario/distribution.ts";
import { formatFinding } from "../../src/scenario/file-finding.ts";
import { readScenario, scenarioReader } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { changed, EXAMPLE, plain, RANDOM_EXAMPLE } from "./example.ts";

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

test("as stated, in minutes and in shares of 1", () => {
  const { seed, random } = read(RANDOM_EXAMPLE);
  expect(seed).toBe("spring-1");
  expect(plain(random)).toEqual(
    plain({
      machines: [
        {
          id: "cartoner",
          breakdowns: {
            betweenMin: { family: "exponential", mean: whole(45) },
            counted: "running",
            repairMin: { family: "lognormal", mean: whole(4), spread: whole(2) },
          },
          microStops: {
            chance: ratio(1n, 50n),
            lastingMin: { family: "triangular", least: ratio(1n, 12n), mode: ratio(1n, 6n), most: ratio(1n, 2n) },
          },
          cycle: { family: "lognormal", mean: whole(1), spread: ratio(1n, 10n) },
        },
        {
          id: "cartoner-3",
          breakdowns: {
            betweenMin: { family: "weibull", mean: whole(120), shape: 1.5 },
            counted: "clock",
            repairMin: { family: "erlang", mean: whole(4), stages: 3 },
          },
          microStops: {
            chance: ratio(1n, 300n),
            lastingMin: { family: "geometric", mean: ratio(1n, 3n), step: ratio(1n, 30n) },
          },
          cycle: null,
        },
      ],
      feeds: [
        {
          id: "blender",
          interval: { family: "exponential", mean: whole(1) },
          jitterMin: null,
          outages: {
            betweenMin: { family: "fixed", mean: whole(30) },
            lastingMin: { family: "fixed", mean: ratio(3n, 2n) },
          },
          batch: null,
        },
        {
          id: "dock",
          interval: null,
          jitterMin: { family: "uniform", least: whole(0), most: ratio(1n, 60n) },
          outages: null,
          batch: {
            every: null,
            jitterMin: { family: "triangular", least: whole(0), mode: whole(0), most: whole(6) },
            items: { family: "uniform", least: ratio(4n, 5n), most: ratio(6n, 5n) },
          },
        },
      ],
    }),
  );
});

test.each(["", "random: {}\n", "random: { machines: {}, feeds: {} }\n"])("nothing in %j", (section) => {
  const scenario = read(`${EXAMPLE}${section}`);
  expect(scenario.random).toEqual({ machines: [], feeds: [] });
  expect(writeScenario(scenario)).not.toContain("random");
});

test("means of what is stated by its ends", () => {
  const [stops] = read(RANDOM_EXAMPLE).random.machines;
  const dock = read(RANDOM_EXAMPLE).random.feeds[1];
  const lasting = stops?.microStops?.lastingMin;
  const items = dock?.batch?.items;
  expect(plain([lasting && meanOf(lasting), items && meanOf(items)])).toEqual(plain([ratio(1n, 4n), whole(1)]));
});

test("written as people would", () => {
  const text = writeScenario(read(RANDOM_EXAMPLE));
  expect(text).toContain(
    "random:\n  machines:\n    cartoner:\n      breakdowns:\n        between: { exponential: 45 min }\n",
  );
  expect(text).toContain("        counted: running\n        repair: { lognormal: 4 min, spread: 2 min }\n");
  expect(text).toContain("        chance: 2 %\n        lasting: { triangular: [ 5 s, 10 s, 30 s ] }\n");
  expect(text).toContain("      cycle: { lognormal: 100 %, spread: 10 % }\n");
  expect(text).toContain("      outages: { between: 30 min, lasting: 90 s }\n");
});

test("a value of it can be set, as in a sweep", () => {
  const path = ["random", "machines", "cartoner", "breakdowns", "between", "exponential"];
  const outcome = scenarioReader(RANDOM_EXAMPLE)([{ path, value: "30 min" }]);
  const between = outcome.ok ? outcome.scenario.random.machines[0]?.breakdowns?.betweenMin : null;
  expect(plain(between)).toEqual({ family: "exponential", mean: "30" });
});

describe("what is said of faults, all at once", () => {
  test.each([
    [
      "exponential: 45 min",
      "exponental: 45 min",
      'x.yaml:13:32: unknown key "exponental", did you mean "exponential"?',
    ],
    [
      "{ exponential: 45 min }",
      "exponential",
      'x.yaml:13:30: found "exponential", expected a duration, or a distribution such as { exponential: 45 min }',
    ],
    [
      "{ exponential: 45 min }",
      "{}",
      "x.yaml:13:21: a distribution states exactly one of fixed, exponential, geometric, uniform, triangular, weibull, lognormal, erlang; this one states none of them",
    ],
    [
      ", spread: 2 min",
      "",
      'x.yaml:13:55: "spread" is missing: state the standard deviation, such as spread: 2 min or spread: 10 %',
    ],
    [
      "[5 s, 10 s, 30 s]",
      "[5 s, 30 s]",
      'x.yaml:14:46: "5 s, 30 s": triangular takes three values, [least, most frequent, most], none below the one before and the last above the first',
    ],
    [
      "step: 2 s",
      "step: 21 s",
      "x.yaml:18:71: a step of 21 s is longer than the mean of 20 s; the step is the least value",
    ],
    [
      "lognormal: 100 %",
      "lognormal: 110 %",
      "x.yaml:15:7: the mean here is 110 % and must be 100 %: this says only how values spread about what is stated at the machine or feed itself",
    ],
    ["chance: 2 %", "chance: 120 %", 'x.yaml:14:30: "120 %": at most 100 %'],
    ["    dock:\n", "    dok:\n", 'x.yaml:23:5: no feed is called "dok", did you mean "dock"?'],
    ["    cartoner:\n", "    cartner:\n", 'x.yaml:12:5: no machine is called "cartner", did you mean "cartoner"?'],
    [
      "      outages:",
      "      batch: {}\n      outages:",
      'x.yaml:22:7: the feed "blender" has no batch whose vehicles could be left to chance; remove this',
    ],
    [
      "      outages:",
      "      jitter: 1 s\n      outages:",
      'x.yaml:22:7: "interval" counts each time from the one before, "jitter" from the schedule; remove one of the two',
    ],
    ["shape: 1.5", "shape: 0", 'x.yaml:17:53: found "0", expected a shape from 0.1 to 100, such as shape: 1.5'],
  ])("%s as %s", (from, to, ...said) => {
    const outcome = readScenario(changed(RANDOM_EXAMPLE, from, to));
    expect(outcome.ok ? [] : outcome.findings.map((finding) => formatFinding(finding, "x.yaml"))).toEqual(said);
  });

  test("one of each on one reading", () => {
    const text = RANDOM_EXAMPLE.replace("chance: 2 %", "chance: 2")
      .replace("spread: 10 %", "spread: 0 %")
      .replace("[0 s, 1 s]", "[1 s, 0 s]")
      .replace("    blender:\n      i", "    blnder:\n      i");
    const outcome = readScenario(text);
    expect(outcome.ok ? [] : outcome.findings.map(({ code, line }) => `${code} ${line}`)).toEqual([
      "missing-unit 14",
      "zero 15",
      "unknown-reference 20",
      "distribution-values 24",
    ]);
  });
});
