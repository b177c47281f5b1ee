/** Every sentence of the findings over all examples is true of its table. `FILLFRONT_CASES=20` takes all tactics and levels. */
import { describe, expect, test } from "vitest";
import { prepare } from "../../src/network/prepare.ts";
import { ratio, whole } from "../../src/quantity/rational.ts";
import { comparisonFindings } from "../../src/report/comparison/comparison-findings.ts";
import { luckComparisonFindings } from "../../src/report/comparison/luck-comparison-findings.ts";
import { growthFindings } from "../../src/report/growth/growth-findings.ts";
import { layoutsFindings } from "../../src/report/layouts/layouts-findings.ts";
import { shortageFindings } from "../../src/report/shortage/shortage-findings.ts";
import type { Costs } from "../../src/scenario/costs.ts";
import { PLAIN_MEANS } from "../../src/scenario/means.ts";
import { hasChance } from "../../src/scenario/random-elements.ts";
import { compareTactics } from "../../src/study/comparison/compare.ts";
import { knownTactics } from "../../src/study/comparison/standard-tactics.ts";
import { growChain, growingGroup } from "../../src/study/growth/grow.ts";
import { PRIORITIES } from "../../src/study/layouts/layout-results.ts";
import { layoutStudy } from "../../src/study/layouts/layouts.ts";
import { comparisonOnLuck } from "../../src/study/luck/luck-comparison.ts";
import { layoutsOnLuck } from "../../src/study/luck/luck-layouts.ts";
import { layoutVariants } from "../../src/study/luck/luck-variants.ts";
import { luckGrid, playVariant } from "../../src/study/luck/variant-run.ts";
import { NO_TACTIC, play } from "../../src/study/play.ts";
import { leastDoses } from "../../src/study/prime/prime.ts";
import { NO_GOALS } from "../../src/study/recommended/goals.ts";
import { studyShortage } from "../../src/study/shortage/shortage.ts";
import { EXAMPLES, prepared } from "../examples/examples.ts";
import { COMPARISON_READERS } from "./comparisons.ts";
import { readDoses } from "./doses.ts";
import { LAYOUT_READERS } from "./layouts.ts";
import { COMPARISON_ON_LUCK_READERS, LAYOUTS_ON_LUCK_READERS } from "./on-luck.ts";
import { read } from "./reader.ts";
import { SHORTAGE_READERS } from "./short-feeds.ts";
import { GROWTH_READERS } from "./sizes.ts";

/** So that money has something to decide by. */
const COSTS: Costs = {
  currency: "EUR",
  product: ratio(9n, 20n),
  handsPerHour: whole(32),
  beltPerM: whole(400),
  divider: whole(900),
  merge: whole(900),
  floorPerM2: whole(90),
  startsPerYear: whole(260),
  years: 5,
};

const ALL = Number(process.env.FILLFRONT_CASES ?? "1") >= 20;

const examples = EXAMPLES.map((name) => ({ name, scenario: prepared(name).outcome.scenario }));
const every = examples.filter(({ scenario }) => !hasChance(scenario.random));
const GENEROUS = {
  ...PLAIN_MEANS,
  hands: { items: 9999, ratePerMin: whole(60), while: "before" },
  levels: true,
  branches: true,
  dividers: true,
} as const;

/** Of every day; the files differ in what they are there to show, not in how much there is of it. */
const lines = ALL ? every : every.filter((_, i) => i % 4 === 0);

describe.each(lines.map((line, place) => ({ ...line, place })))("$name", ({ scenario, place }) => {
  test("compare", () => {
    const known = knownTactics(scenario);
    const some = known.filter((_, i) => i % 4 === 0);
    const { comparison } = compareTactics(scenario, ALL ? known : some);
    const findings = comparisonFindings(comparison);
    expect(findings.length).toBeGreaterThan(0);
    read(findings, comparison, COMPARISON_READERS);
  });

  test("shortage", () => {
    const percents = ALL ? [100n, 90n, 80n, 70n, 60n, 50n, 40n, 30n, 20n, 10n] : [100n, 50n];
    const study = studyShortage(
      scenario,
      percents.map((percent) => ratio(percent, 100n)),
    );
    read(shortageFindings(study), study, SHORTAGE_READERS);
  });

  test("grow", () => {
    const growing = growingGroup(scenario);
    if (typeof growing === "string") return;
    const counts = [2, 4, 7, 12].map((count) => growing.least - 1 + count);
    const growth = growChain(scenario, growing, counts);
    read(growthFindings(growth), growth, GROWTH_READERS);
  });

  // Of every day every third of them.
  test.skipIf(!ALL && place % 3 > 0)("prime", () => {
    readDoses(leastDoses(scenario, { ...NO_GOALS, withinMin: 5 }), play(scenario, NO_TACTIC).output.oneCycle);
  });

  // Of every day `test/study/layouts-limits.test.ts` has some.
  test.skipIf(!ALL)("layouts", () => {
    const priority = PRIORITIES[scenario.machines.length % PRIORITIES.length] ?? "fast";
    const done = layoutStudy({ ...scenario, costs: COSTS }, { priority });
    if (done.ok) read(layoutsFindings(done.study), done.study, LAYOUT_READERS);
  });
});

test("unequal-chain with branches first makes more for good with another variant, behind at first", () => {
  const { scenario } = prepared("unequal-chain.yaml").outcome;
  const lines = scenario.lines.map((line) =>
    line.layout === "chain" ? { ...line, dividers: "branch-first" as const } : line,
  );
  const study = studyShortage({ ...scenario, lines }, [ratio(7n, 10n)]);
  const findings = shortageFindings(study);
  expect(findings.find(({ code }) => code === "worth")?.text).toContain("through first makes more for good");
  read(findings, study, SHORTAGE_READERS);
});

/** Those under chance, and of all others what they say with a fluttering feed; an hour of each. */
const FLUTTERING = {
  interval: { family: "exponential", mean: whole(1) },
  jitterMin: null,
  outages: null,
  batch: null,
} as const;

const chancy = examples
  .filter(({ scenario }) => ALL || hasChance(scenario.random))
  .map(({ name, scenario }) => {
    const feeds = scenario.feeds.filter(({ batch }) => batch === null).map(({ id }) => ({ id, ...FLUTTERING }));
    const random = hasChance(scenario.random) ? scenario.random : { machines: [], feeds };
    return { name, scenario: { ...scenario, random, horizonMin: whole(60), horizonIsAuto: false } };
  })
  .filter(({ scenario }) => hasChance(scenario.random));

const REPLICATIONS = ALL ? 8 : 3;
const times = Array.from({ length: REPLICATIONS }, (_, i) => i + 1);

describe.each(chancy)("$name under chance", ({ scenario }) => {
  test("compare", () => {
    const ready = prepare(scenario);
    if (!ready.ok) throw new Error("not to be prepared");
    const grid = luckGrid(scenario, ready);
    const tactics = knownTactics(scenario).filter((_, i) => i % (ALL ? 3 : 6) === 0);
    for (const means of [scenario.means, GENEROUS]) {
      const granting = { ...scenario, means };
      const played = [NO_TACTIC, ...tactics].map((tactic) => ({
        tactic,
        runs: times.map((replication) => playVariant(granting, tactic, replication, grid)),
      }));
      const { comparison } = comparisonOnLuck(granting, played, grid);
      const { replications: luck } = comparison;
      if (luck === undefined) throw new Error("nothing of luck");
      read(luckComparisonFindings(comparison, luck), comparison, COMPARISON_ON_LUCK_READERS);
    }
  });

  test("layouts", () => {
    const found = layoutVariants(scenario, {});
    if (!found.ok) return;
    const runs = found.variants.map(({ play: once }) => times.map(once));
    for (const priority of PRIORITIES.filter((one) => one !== "money")) {
      const { study } = layoutsOnLuck(scenario, found, runs, { priority });
      read(layoutsFindings(study), study, LAYOUTS_ON_LUCK_READERS);
    }
  });

  test("prime", () => {
    readDoses(leastDoses(scenario, { ...NO_GOALS, withinMin: 5 }), play(scenario, NO_TACTIC).output.oneCycle);
  });
});
