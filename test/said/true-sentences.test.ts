/** Every sentence of the findings over all examples is true of its table. `FILLFRONT_CASES=20` takes all tactics and levels. */
import { describe, expect, test } from "vitest";
import { ratio } from "../../src/quantity/rational.ts";
import { comparisonFindings } from "../../src/report/comparison/comparison-findings.ts";
import { growthFindings } from "../../src/report/growth/growth-findings.ts";
import { layoutsFindings } from "../../src/report/layouts/layouts-findings.ts";
import { shortageFindings } from "../../src/report/shortage/shortage-findings.ts";
import { hasChance } from "../../src/scenario/random-elements.ts";
import { compareTactics } from "../../src/study/compare.ts";
import { growChain, growingGroup } from "../../src/study/grow.ts";
import { PRIORITIES } from "../../src/study/layout-results.ts";
import { layoutStudy } from "../../src/study/layouts.ts";
import { NO_TACTIC, play } from "../../src/study/play.ts";
import { leastDoses } from "../../src/study/prime.ts";
import { studyShortage } from "../../src/study/shortage.ts";
import { knownTactics } from "../../src/study/standard-tactics.ts";
import { EXAMPLES, prepared } from "../examples/examples.ts";
import { COMPARISON_READERS } from "./comparisons.ts";
import { readDoses } from "./doses.ts";
import { LAYOUT_READERS } from "./layouts.ts";
import { read } from "./reader.ts";
import { SHORTAGE_READERS } from "./short-feeds.ts";
import { GROWTH_READERS } from "./sizes.ts";

const ALL = Number(process.env.FILLFRONT_CASES ?? "1") >= 20;

const every = EXAMPLES.map((name) => ({ name, scenario: prepared(name).outcome.scenario })).filter(
  ({ scenario }) => !hasChance(scenario.random),
);
/** Of every day; the files differ in what they are there to show, not in how much there is of it. */
const lines = ALL ? every : every.filter((_, i) => i % 4 === 0);

describe.each(lines)("$name", ({ scenario }) => {
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

  // Of every day `test/study/prime.test.ts` has one.
  test.skipIf(!ALL)("prime", () => {
    readDoses(leastDoses(scenario, { within_min: 5 }), play(scenario, NO_TACTIC).output.oneCycle);
  });

  // Of every day `test/study/layouts-limits.test.ts` has some.
  test.skipIf(!ALL)("layouts", () => {
    const priority = PRIORITIES[scenario.machines.length % PRIORITIES.length] ?? "fast";
    const done = layoutStudy(scenario, { priority });
    if (done.ok) read(layoutsFindings(done.study), done.study, LAYOUT_READERS);
  });
});
