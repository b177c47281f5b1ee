/** Tables of layouts: a row for each, with what it does, what it takes to build, and what priming and more machines bring. */

import type {
  ElementCounts,
  LayoutGrowth,
  LayoutMoney,
  LayoutResult,
  LayoutStudy,
} from "../../study/layouts/layout-results.ts";
import type { SameLuck } from "../../study/luck-results.ts";
import { lossMinColumn, luckColumns, TO_95 } from "../luck/luck-table.ts";
import { settlingOrDash, yearsOrDash } from "../text/cells.ts";
import {
  count,
  csvTable,
  figure,
  flag,
  index,
  minutes,
  onlyIf,
  rate,
  type StudyColumn,
  sum,
  text,
} from "../text/study-table.ts";
import { tacticText } from "../text/tactic-words.ts";
import { areaOrDash, beltCell, commonOutput, elementsText, limitedIn, oneMoreCell } from "./layout-figures.ts";
import { assumingText, doesText, reasonText } from "./layout-words.ts";

type Column = StudyColumn<LayoutResult>;

const NAME: Column = text(({ id }) => id, {
  csv: "layout",
  markdown: "layout",
  terminal: ["  layout", 99],
  mark: ({ undominated }) => (undominated ? "*" : " "),
});

/** Limits come first in the terminal. */
function limitColumns(study: LayoutStudy): Column[] {
  const { holdUp, dwell } = limitedIn(study);
  return [
    ...(holdUp ? [minutes((one: LayoutResult) => one.over_limit_min, { terminal: ["over|limit|min", 12] })] : []),
    ...(dwell ? [count((one: LayoutResult) => one.over_limit_items, { terminal: ["too long|there|items", 11] })] : []),
  ];
}

/** Of little interest where all make the same. */
function makesColumn(study: LayoutStudy): Column[] {
  if (commonOutput(study) !== null) return [];
  return [rate((one) => one.settled_per_min, { terminal: ["makes|/min", 9.5] })];
}

/** What each does. */
export function doingColumns(study: LayoutStudy): Column[] {
  const { replications: luck } = study;
  const { holdUp, dwell } = limitedIn(study);
  const settled =
    luck === undefined ? ({ markdown: "settles at, min", terminal: ["settles|at|min", 10] } as const) : {};
  return [
    NAME,
    onlyIf(({ undominated }) => undominated, { markdown: "not beaten" }),
    text(({ layout }) => layout, { csv: "kind" }),
    text(doesText, { csv: "does" }),
    text(({ assuming }) => assuming && assumingText(assuming), { csv: "assuming" }),
    flag(({ feasible }) => feasible, { csv: "feasible" }),
    text(({ reason }) => reason && reasonText(reason), { csv: "reason" }),
    ...limitColumns(study),
    rate((one) => one.settled_per_min, { csv: "settled_items_per_min", markdown: "settled, items/min" }),
    minutes((one) => one.settling_min, {
      csv: "settling_min",
      ...settled,
      inFull: ({ settling_min: at, proved }) => settlingOrDash(at, proved),
    }),
    flag(({ proved }) => proved, { csv: "proved" }),
    minutes((one) => one.to_95_min, { csv: "to_95_min", markdown: "95 % at, min" }),
    count((one) => one.ramp_up_loss, {
      csv: "ramp_up_loss_items",
      markdown: "lost, items",
      terminal: ["lost|items", 9],
    }),
    ...(luck === undefined ? [] : [lossMinColumn<LayoutResult>(luck)]),
    count((one) => one.hold_up_settled, {
      csv: "hold_up_settled_items",
      markdown: "settled hold-up, items",
      terminal: ["settled|hold-up|items", 8],
    }),
    count((one) => one.hold_up_peak, {
      csv: "hold_up_peak_items",
      markdown: "peak hold-up, items",
      terminal: ["peak|hold-up|items", 5],
    }),
    minutes((one) => one.dwell_mean_min, {
      csv: "dwell_mean_min",
      markdown: "mean dwell, min",
      terminal: ["mean|dwell|min", 6],
    }),
    minutes((one) => one.dwell_longest_min, { csv: "dwell_longest_min", markdown: "longest dwell, min" }),
    minutes((one) => one.over_limit_min, {
      csv: "over_limit_min",
      ...(holdUp ? { markdown: "time over limit, min" } : {}),
    }),
    count((one) => one.over_limit_items, {
      csv: "over_limit_items",
      ...(dwell ? { markdown: "dwell over limit, items" } : {}),
    }),
    index((one) => one.evenness_at_half_feed, {
      csv: "evenness_at_half_feed",
      markdown: "evenness on half the feed",
      terminal: ["even", 7],
    }),
    ...makesColumn(study),
    text(
      ({ feasible, beaten_by: by, assuming }) =>
        feasible ? (by ?? (assuming && assumingText(assuming)) ?? "") : "cannot be built",
      { markdown: "beaten by" },
    ),
  ];
}

/** Means, and differences from whichever leads in each. */
export function luckLayoutColumns(luck: SameLuck): Column[] {
  return [
    NAME,
    ...luckColumns<LayoutResult>(luck, "ramp_up_loss"),
    lossMinColumn(luck),
    TO_95,
    ...luckColumns<LayoutResult>(luck, "settled_output_per_min").slice(0, 1),
    ...luckColumns<LayoutResult>(luck, "hold_up_settled").slice(0, 1),
    ...luckColumns<LayoutResult>(luck, "evenness_at_half_feed").slice(0, 1),
  ];
}

function moneyOf({ layouts }: LayoutStudy): LayoutMoney | undefined {
  return layouts.flatMap(({ money }) => money ?? [])[0];
}

/** What it costs, where that is stated. */
function pricedColumns(study: LayoutStudy): Column[] {
  const money = moneyOf(study);
  if (money === undefined) return [];
  const amount = sum(money);
  const { currency } = money;
  return [
    amount((one: LayoutResult) => one.money?.build, {
      markdown: `built new, ${currency}`,
      terminal: [["costs", currency], 6.8],
    }),
    amount((one: LayoutResult) => one.money?.change, { markdown: `in place of today's, ${currency}` }),
    amount((one: LayoutResult) => one.money?.loss_per_year, { markdown: `lost a year, ${currency}` }),
    figure((one) => yearsOrDash(one.money?.paid_after_years), {
      markdown: "paid for after, years",
      terminal: ["paid|after|years", 6.7],
    }),
  ];
}

const ONE_MORE: Column = figure((one) => oneMoreCell(one.one_more), { terminal: ["one|more", 5] });

/** What each takes to build. */
export function buildingColumns(study: LayoutStudy): Column[] {
  const { length_unit: unit } = study;
  return [
    NAME,
    count((one) => one.dividers, { csv: "dividers", markdown: "dividers", terminal: ["di-|viders", 10] }),
    count((one) => one.merges, { csv: "merges", markdown: "merges", terminal: ["merges", 9] }),
    count((one) => one.belts, { csv: "belts", markdown: "belts" }),
    figure((one) => beltCell(one, study), {
      csv: "belt_m",
      markdown: `belt, ${unit}`,
      terminal: [["belt", unit], 8],
      value: (one) => one.belt_m,
    }),
    flag((one) => one.to_scale, { csv: "to_scale" }),
    figure((one) => areaOrDash(one.floor_m2, unit), {
      csv: "floor_m2",
      markdown: `floor, ${unit}²`,
      terminal: [["floor", `${unit}²`], 7],
      value: (one) => one.floor_m2,
    }),
    count((one) => one.crossings, { csv: "crossings", markdown: "crossings" }),
    text((one) => one.tightest_belt, { csv: "tightest_belt", markdown: "tightest belt" }),
    rate((one) => one.headroom_per_min, {
      csv: "headroom_items_per_min",
      markdown: "headroom, items/min",
      terminal: ["headroom|/min", 6],
    }),
    ...pricedColumns(study),
    ONE_MORE,
  ];
}

/** What counts most of each, in one table. */
export function layoutColumns(study: LayoutStudy): Column[] {
  if (study.replications !== undefined) return luckLayoutColumns(study.replications);
  const { length_unit: unit } = study;
  return [
    NAME,
    ...limitColumns(study),
    ...makesColumn(study),
    minutes((one) => one.settling_min, { terminal: ["settles|at|min", 10] }),
    count((one) => one.ramp_up_loss, { terminal: ["lost|items", 9] }),
    count((one) => one.hold_up_settled, { terminal: ["hold-up|items", 8] }),
    index((one) => one.evenness_at_half_feed, { terminal: ["even", 7] }),
    count(({ dividers, merges }) => (dividers === null ? null : dividers + (merges ?? 0)), {
      terminal: ["dividers,|merges", 6],
    }),
    figure((one) => areaOrDash(one.floor_m2, unit), { terminal: [["floor", `${unit}²`], 6.5] }),
    ...pricedColumns(study),
    ONE_MORE,
  ];
}

/** With the tactic that comes first for each. */
export const PRIMING: readonly Column[] = [
  NAME,
  text(({ primed }) => (primed === null ? "none is better than doing nothing" : primed.tactic), {
    csv: "primed_tactic",
    markdown: "tactic",
    value: ({ primed }) => primed?.tactic ?? null,
  }),
  text(({ primed }) => (primed === null ? "" : tacticText(primed.does)), { markdown: "does" }),
  minutes(({ primed }) => primed?.settling_min ?? null, {
    csv: "primed_settling_min",
    markdown: "settles at, min",
    terminal: ["primed,|settles|min", 10],
  }),
  count(({ primed }) => primed?.ramp_up_loss ?? null, {
    csv: "primed_ramp_up_loss_items",
    markdown: "lost, items",
    terminal: ["lost|items", 9],
  }),
  count(({ primed }) => primed?.items_handled ?? null, {
    csv: "primed_items_handled",
    markdown: "handled, items",
    terminal: ["handled|items", 8],
  }),
  count(({ primed }) => primed?.hold_up_peak ?? null, {
    csv: "primed_hold_up_peak_items",
    markdown: "peak hold-up, items",
    terminal: ["peak|hold-up|items", 6],
  }),
  flag(({ primed }) => primed?.by_hand ?? null, {
    csv: "primed_by_hand",
    markdown: "hands in the line",
    inFull: ({ primed }) => (primed === null ? "" : primed.by_hand ? "yes" : "no"),
  }),
  text(({ primed }) => primed?.tactic ?? "", { terminal: ["with", 7] }),
];

export interface GrownLayout extends LayoutGrowth {
  readonly id: string;
}

export function growingColumns(what: string): StudyColumn<GrownLayout>[] {
  return [
    text(({ id }) => id, { markdown: "layout" }),
    count(({ machines }) => machines, { markdown: what }),
    text(({ layout }) => layout, { markdown: "becomes" }),
    text(({ added }) => elementsText(added), { markdown: "added" }),
    text(({ torn_out: out }) => elementsText(out), { markdown: "torn out" }),
    count(({ too_slow: slow }) => slow, { markdown: "belts too slow" }),
    rate(({ busiest_per_min: busiest }) => busiest, { markdown: "busiest of them, items/min" }),
  ];
}

function elementCounts(what: string, of: (one: LayoutResult) => ElementCounts | undefined): Column[] {
  return (["dividers", "merges", "belts"] as const).map((kind) => {
    return count((one: LayoutResult) => of(one)?.[kind] ?? null, { csv: `one_more_${what}_${kind}` });
  });
}

/** layouts.csv: a row for each layout. */
export function layoutsCsv(study: LayoutStudy): string {
  const money = moneyOf(study);
  const amount = sum(money);
  const inMoney: Column[] = [
    text((one) => one.money?.currency ?? null, { csv: "currency" }),
    amount((one) => one.money?.build, { csv: "build_cost" }),
    amount((one) => one.money?.change, { csv: "change_cost" }),
    amount((one) => one.money?.loss_per_year, { csv: "loss_per_year" }),
    amount((one) => one.money?.saved_per_year, { csv: "saved_per_year" }),
    count((one) => one.money?.paid_after_years ?? null, { csv: "paid_after_years" }),
  ];
  const columns: Column[] = [
    ...doingColumns(study),
    ...buildingColumns(study).slice(1),
    ...PRIMING.slice(1),
    text((one) => one.one_more?.layout ?? null, { csv: "one_more_layout" }),
    ...elementCounts("added", ({ one_more: more }) => more?.added),
    ...elementCounts("torn_out", ({ one_more: more }) => more?.torn_out),
    flag(({ undominated }) => undominated, { csv: "undominated" }),
    text((one) => one.beaten_by, { csv: "beaten_by" }),
    text((one) => one.file, { csv: "file" }),
    ...(money === undefined ? [] : inMoney),
  ];
  return csvTable(columns, study.layouts);
}
