/**
 * What each command prints of each example: an answer of ten lines, a table that fits, nothing beyond 80 columns, details too.
 * `FILLFRONT_CASES=20` has every command on every example; of every day the slow ones have some.
 */
import { readFileSync } from "node:fs";
import { describe, expect, test } from "vitest";
import {
  analyse,
  asCustom,
  compareTactics,
  comparisonOnLuck,
  comparisonText,
  dippingFeeds,
  dipText,
  drawingText,
  estimate,
  estimateText,
  fitScenario,
  fitText,
  growChain,
  growingGroup,
  growthText,
  knownTactics,
  layoutStudy,
  layoutsText,
  leastDoses,
  lineFacts,
  lineFactsText,
  luckGrid,
  NO_GOALS,
  NO_TACTIC,
  PLAIN_STYLE,
  planFit,
  plannedPoints,
  plantDrawing,
  playPoint,
  playVariant,
  prepare,
  primeText,
  rational,
  readDraft,
  type Scenario,
  type Shown,
  type Style,
  type Sweep,
  scenarioReader,
  shortageText,
  simulate,
  sizePlant,
  sizeText,
  solveFlow,
  studyDip,
  studyShortage,
  summary,
  sweepText,
  sweptQuantity,
  unknownOf,
} from "../../src/index.ts";
import { textWidth } from "../../src/report/text/text-width.ts";
import { hasChance } from "../../src/scenario/random-elements.ts";
import { EXAMPLES, fileBeside, prepared, textOf } from "../examples/examples.ts";

const ALL = Number(process.env.FILLFRONT_CASES ?? "1") >= 20;

type Told = (shown: Shown) => string;
/** Beside title and answer a caution and the lines between. */
const MOST_LINES = 35;

/** @param most lines of the whole */
function holds(told: Told, most = MOST_LINES): void {
  const brief = told({ place: "reports/a-plant-of-some-name" });
  expect(brief).not.toMatch(/undefined|NaN|null|Infinity| {2,}$/m);
  for (const text of [brief, told({ details: true })]) {
    for (const line of text.split("\n")) expect(textWidth(line), line).toBeLessThanOrEqual(80);
  }
  const [, answer = ""] = brief.split("\n\n");
  expect(answer.trimEnd().split("\n").length, brief).toBeLessThanOrEqual(10);
  expect(brief.trimEnd().split("\n").length, brief).toBeLessThanOrEqual(most);
}

const style: Style = PLAIN_STYLE;
const LEVELS = ["1", "1/2"].map(rational);

/** Two values in turn that every file can have. */
function sweepOf(name: string): Sweep {
  const quantities = ["horizon=1 h..4 h:1 h", "seed=1,2"].map((text) => {
    const found = sweptQuantity(text);
    if (typeof found === "string") throw new Error(found);
    return found;
  });
  const planned = plannedPoints(quantities);
  const read = scenarioReader(textOf(name), { name });
  const points = planned.map((point) => {
    const outcome = read(point.settings);
    const ready = outcome.ok ? prepare(outcome.scenario) : null;
    if (!outcome.ok || ready?.ok !== true) throw new Error(`${name} is refused at point ${point.point}`);
    return playPoint(point, outcome.scenario, ready);
  });
  const head = {
    made_by: "fillfront 0",
    scenario: name,
    scenario_sha256: "",
    seed: null,
    horizon_min: null,
    shard: null,
  };
  return { ...head, title: prepared(name).outcome.scenario.title, quantities, of_points: points.length, points };
}

function onLuck(scenario: Scenario, ready: ReturnType<typeof prepared>["prepared"]) {
  const grid = luckGrid(scenario, ready);
  const played = [NO_TACTIC, ...knownTactics(scenario).slice(0, 4)].map((tactic) => ({
    tactic,
    runs: [0, 1].map((replication) => playVariant(scenario, tactic, replication, grid)),
  }));
  return comparisonOnLuck(scenario, played, grid).comparison;
}

describe.each(EXAMPLES.map((name, index) => ({ name, index })))("$name", ({ name, index }) => {
  const { outcome, prepared: ready } = prepared(name);
  const { scenario } = outcome;
  const { program, network, horizonTicks } = ready;
  const isChance = hasChance(scenario.random);
  const isSeldom = !ALL && index % 7 !== 1;

  test("run, draw, check, estimate, size", () => {
    const flow = solveFlow(network);
    const { result } = analyse(simulate(program, { horizonTicks, seed: scenario.seed }), scenario, flow, []);
    // A chain of eight has 24; more machines have a row each, and long words a line more.
    holds((shown) => summary(result, style, shown), Math.max(24, 18 + result.machines.length));
    holds((shown) => drawingText(plantDrawing(network, result), style, shown));
    const { title, horizonMin, lines } = scenario;
    const facts = lineFacts({ title, horizonMin, lines, tickS: program.tickS }, network, flow, []);
    holds((shown) => lineFactsText(facts, style, shown));
    if (flow.applies) {
      const solution = estimate(title, network, flow);
      holds((shown) => estimateText(solution, style, shown), Math.max(24, 18 + result.machines.length));
    }
    const draft = readDraft(textOf(name), { name });
    const sized = draft.ok && !isChance ? sizePlant(draft) : null;
    if (sized?.ok === true) holds((shown) => sizeText(sized.size, style, shown));
    expect(asCustom(scenario, network).machines.length).toBe(scenario.machines.length);
  });

  test("grow, shortage", () => {
    const study = studyShortage(scenario, LEVELS);
    holds((shown) => shortageText(study, style, shown));
    const growing = growingGroup(scenario);
    if (typeof growing === "string") return;
    const growth = growChain(
      scenario,
      growing,
      [2, 7].map((count) => growing.least - 1 + count),
    );
    holds((shown) => growthText(growth, style, shown));
  });

  test.skipIf(isSeldom)("dip, sweep", () => {
    const dip = { level: rational("1/2"), fromMin: rational("30"), forMin: rational("10") };
    if (!isChance && dippingFeeds(scenario).length > 0) {
      const study = studyDip(scenario, dip);
      holds((shown) => dipText(study.dip, style, shown));
    }
    const sweep = sweepOf(name);
    holds((shown) => sweepText(sweep, style, shown));
  });

  test.skipIf(isSeldom)("compare", () => {
    const { comparison } = isChance
      ? { comparison: onLuck(scenario, ready) }
      : compareTactics(scenario, knownTactics(scenario));
    holds((shown) => comparisonText(comparison, style, shown), 30);
  });

  test.skipIf(isSeldom || isChance)("prime, layouts", () => {
    const doses = leastDoses(scenario, { ...NO_GOALS, withinMin: 6 });
    holds((shown) => primeText(doses, style, shown));
    const done = layoutStudy(scenario, { priority: "fast" });
    if (done.ok) holds((shown) => layoutsText(done.study, style, shown));
  });
});

test("fit", async () => {
  const name = "pouch-trial.yaml";
  const observed = readFileSync(fileBeside("pouch-trial-counts.csv"), "utf8");
  const unknown = unknownOf("machines.cartoner.infeed=30..50");
  if (typeof unknown === "string") throw new Error(unknown);
  const given = { text: textOf(name), name, change: (same: Scenario) => same, unknowns: [unknown], errors: new Map() };
  const plan = planFit({ ...given, observed });
  if (!plan.ok) throw new Error(plan.wrong);
  const { fit } = await fitScenario(plan);
  holds((shown) => fitText(fit, style, shown));
});
