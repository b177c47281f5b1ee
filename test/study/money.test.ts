/**
 * What starts and layouts are worth, worked by hand to the cent: four equal machines on one chain, 120 products a minute, exactly fed,
 * at 0.45 EUR each, hands at 32 EUR/h placing 50 items a minute, five starts a week of 52 weeks.
 */

import { expect, test } from "vitest";
import { rational } from "../../src/quantity/rational.ts";
import { comparisonAnswer } from "../../src/report/comparison/comparison-answer.ts";
import { tacticColumns } from "../../src/report/comparison/tactics-table.ts";
import { comparisonTold } from "../../src/report/files/comparison-files.ts";
import { layoutsAnswer } from "../../src/report/layouts/layouts-answer.ts";
import { plain } from "../../src/report/text/figures.ts";
import { csvTable } from "../../src/report/text/study-table.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { compareTactics } from "../../src/study/comparison/compare.ts";
import { layoutStudy } from "../../src/study/layouts/layouts.ts";
import { recommendationOf } from "../../src/study/layouts/recommended-layout.ts";

const COSTS =
  "costs: { product: 0.45 EUR, hands: 32 EUR/h, belt: 400 EUR/m, divider: 900 EUR, floor: 90 EUR/m2, starts: 5 per week }";
const FOUR = `
title: Four
horizon: 1 h
feeds: { feed: { item: a, rate: as needed } }
machines: { m: { count: 4, cycle: 2 s, takes: { a: 1 }, makes: { b: 1 }, infeed: 60 } }
lines:
  main:
    layout: chain
    from: feed
    to: m
    belt: { length: 2 m, speed: 20 m/min, pitch: 100 mm }
    branch: { length: 1 m, speed: 20 m/min, pitch: 100 mm }
floor: { lengths: as-stated }
means: { hands: { items: 100, rate: 50/min, while: before } }
tactics:
  first-two: { prefill: { m-1: 50, m-2: 50 } }
  waiting: { prefill: { m-1: 50 }, by-hand: 50/min, while: stopped }
`;

function read(text: string): Scenario {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  return outcome.scenario;
}

const said = (answer: readonly { readonly what: string; readonly text: string }[]): string | undefined => {
  const text = answer.find(({ what }) => what === "Money")?.text;
  return text === undefined ? undefined : plain(text);
};
const cents = (amount: string | null | undefined): number => Math.round(rational(amount ?? "0").valueOf() * 100) / 100;

function compared(costs: string, priority: "loss" | "money" = "loss") {
  const scenario = read(FOUR + costs);
  const { comparison } = compareTactics(scenario, scenario.tactics, { priority });
  const row = (id: string) => {
    const found = comparison.tactics.find((one) => one.id === id);
    if (found === undefined) throw new Error(id);
    return found;
  };
  return { comparison, row };
}

test("what starts lose, cost and save, to the cent", () => {
  const { comparison, row } = compared(COSTS);
  const [none, two, waiting] = [row("none"), row("first-two"), row("waiting")];
  // By the accounting identity: items placed, less the rise of settled stock, here a quarter of an item less; a minute's wait
  // costs 120 products.
  expect((none.ramp_up_loss ?? 0) - (two.ramp_up_loss ?? 0)).toBeCloseTo(100.25, 9);
  expect((none.ramp_up_loss ?? 0) - (waiting.ramp_up_loss ?? 0)).toBeCloseTo(50.25 - 120, 9);
  // 173.6 x 0.45 = 78.12; a year has 260 starts.
  expect([none.money?.loss_per_start, none.money?.loss_per_year].map(cents)).toEqual([78.12, 20_311.2]);
  expect([none.money?.hands_per_start, none.money?.saved_per_start]).toEqual(["0", null]);
  // Two minutes of hands are 16/15 EUR; 100.25 x 0.45 - 16/15 = 44.045 8333...; 260 of them 11 451.9166...
  expect(two.money?.hands_per_start).toBe("16/15");
  expect([two.money?.saved_per_start, two.money?.saved_per_year].map(cents)).toEqual([44.05, 11_451.92]);
  // -69.75 x 0.45 - 8/15.
  expect(cents(waiting.money?.saved_per_start)).toBe(-31.92);
  expect(said(comparisonAnswer(comparison))).toBe(
    "saves 44.05 EUR a start after 1.07 EUR for hands; 11 451.92 EUR a year",
  );
  const [head = "", first = ""] = csvTable(tacticColumns(comparison.tactics), comparison.tactics).split("\r\n");
  expect(head).toMatch(/currency,loss_per_start,hands_per_start,saved_per_start,saved_per_year$/);
  expect(first).toMatch(/^first-two,.*,EUR,33.01,1.07,44.05,11451.92$/);
});

test("where money decides, hands may be too dear; of what has no price nothing is known", () => {
  const dear = COSTS.replace("32 EUR/h", "1600 EUR/h");
  expect(compared(dear, "loss").comparison.winner).toBe("first-two");
  const { comparison } = compared(dear, "money");
  expect(comparison.winner).toBe("none");
  expect(said(comparisonAnswer(comparison))).toBe("78.12 EUR lost a start, 20 311.20 EUR a year");
  const unpriced = compared(COSTS.replace("hands: 32 EUR/h, ", "")).row("first-two");
  expect([unpriced.money?.hands_per_start, unpriced.money?.saved_per_start]).toEqual([null, null]);
  expect(JSON.stringify(comparisonTold(compared("").comparison))).not.toMatch(/money|currency/);
  expect(JSON.stringify(comparisonTold(compared("costs: { belt: 400 EUR/m }").comparison))).not.toMatch(/currency/);
});

test("what layouts cost, and when they have paid for themselves", () => {
  const studied = layoutStudy(read(FOUR + COSTS), { priority: "fast" });
  if (!studied.ok) throw new Error(studied.why);
  const { study } = studied;
  const money = (id: string) => study.layouts.find((one) => one.id === id)?.money;
  // Four belts of 2 m and three of 1 m, three dividers, 67.2 m2: 4400 + 2700 + 6048.
  expect([study.today, money("chain")?.build, money("chain")?.change]).toEqual(["chain", "13148", "0"]);
  // Three of 2 m and four of 1 m, three dividers, 88.8 m2, 21.6 of them more: 4000 + 2700 + 7992, or 1944.
  expect([money("tree")?.build, money("tree")?.change]).toEqual(["14692", "8644"]);
  // It loses 141 fewer products, which is 63.45 EUR, 260 times a year; in five years 32.6 x 0.45 x 1300 beside the change.
  expect(money("tree")?.saved_per_year).toBe("16497");
  expect(money("tree")?.paid_after_years).toBeCloseTo(8644 / 16_497, 12);
  expect(money("tree")?.over_years).toBe("27715");
  const built = { ...study, recommended: "tree" };
  expect(said(layoutsAnswer(built))).toBe("14 692.00 EUR (8644.00 EUR on today's floor); paid for after 0.5 years");
  expect(said(layoutsAnswer(study))).toBe("it stands; built new it would cost 13 148.00 EUR");
});

test("where money decides between layouts, what stands stays until another has paid for itself", () => {
  const chosen = (years: number): string | null => {
    const costs = COSTS.replace("0.45 EUR", "0.045 EUR").replace(" }", `, years: ${years} }`);
    const studied = layoutStudy(read(FOUR + costs), { priority: "money" });
    if (!studied.ok) throw new Error(studied.why);
    // Whatever stock each leaves.
    return recommendationOf(
      studied.study.layouts.map((one) => ({ ...one, reserve_kept: null })),
      "money",
    ).recommended;
  };
  // The chain loses 2031.12 EUR a year, the tree 381.42: 10 155.60 beside 8644 + 1907.10, then 12 186.72 beside 8644 + 2288.52.
  expect([chosen(5), chosen(6)]).toEqual(["chain", "tree"]);
});
