/** layouts.csv: a row for each layout. */
import type { ElementCounts, LayoutResult, LayoutStudy } from "../../study/layouts/layout-results.ts";
import { type Cell, csv, yesNo } from "../text/csv.ts";
import { moneyCell } from "../text/money-text.ts";

interface Field {
  readonly name: string;
  readonly cell: (layout: LayoutResult) => Cell;
}

const FIELDS: readonly Field[] = [
  { name: "layout", cell: ({ id }) => id },
  { name: "kind", cell: ({ layout }) => layout },
  { name: "does", cell: ({ does }) => does },
  { name: "assuming", cell: ({ assuming }) => assuming },
  { name: "feasible", cell: ({ feasible }) => yesNo(feasible) },
  { name: "reason", cell: ({ reason }) => reason },
  { name: "settled_items_per_min", cell: (layout) => layout.settled_per_min },
  { name: "settling_min", cell: (layout) => layout.settling_min },
  { name: "proved", cell: ({ proved }) => yesNo(proved) },
  { name: "to_95_min", cell: (layout) => layout.to_95_min },
  { name: "ramp_up_loss_items", cell: (layout) => layout.ramp_up_loss },
  { name: "hold_up_settled_items", cell: (layout) => layout.hold_up_settled },
  { name: "hold_up_peak_items", cell: (layout) => layout.hold_up_peak },
  { name: "dwell_mean_min", cell: (layout) => layout.dwell_mean_min },
  { name: "dwell_longest_min", cell: (layout) => layout.dwell_longest_min },
  { name: "over_limit_min", cell: (layout) => layout.over_limit_min },
  { name: "over_limit_items", cell: (layout) => layout.over_limit_items },
  { name: "evenness_at_half_feed", cell: (layout) => layout.evenness_at_half_feed },
  { name: "dividers", cell: (layout) => layout.dividers },
  { name: "merges", cell: (layout) => layout.merges },
  { name: "belts", cell: (layout) => layout.belts },
  { name: "belt_m", cell: (layout) => layout.belt_m },
  { name: "to_scale", cell: ({ to_scale: toScale }) => yesNo(toScale) },
  { name: "floor_m2", cell: (layout) => layout.floor_m2 },
  { name: "crossings", cell: (layout) => layout.crossings },
  { name: "tightest_belt", cell: (layout) => layout.tightest_belt },
  { name: "headroom_items_per_min", cell: (layout) => layout.headroom_per_min },
  { name: "primed_tactic", cell: ({ primed }) => primed?.tactic ?? null },
  { name: "primed_settling_min", cell: ({ primed }) => primed?.settling_min ?? null },
  { name: "primed_ramp_up_loss_items", cell: ({ primed }) => primed?.ramp_up_loss ?? null },
  { name: "primed_items_handled", cell: ({ primed }) => primed?.items_handled ?? null },
  { name: "primed_hold_up_peak_items", cell: ({ primed }) => primed?.hold_up_peak ?? null },
  { name: "primed_by_hand", cell: ({ primed }) => yesNo(primed?.by_hand ?? null) },
  { name: "one_more_layout", cell: ({ one_more: more }) => more?.layout ?? null },
  ...counts("added", ({ one_more: more }) => more?.added),
  ...counts("torn_out", ({ one_more: more }) => more?.torn_out),
  { name: "undominated", cell: ({ undominated }) => yesNo(undominated) },
  { name: "beaten_by", cell: (layout) => layout.beaten_by },
  { name: "file", cell: ({ file }) => file },
];

function counts(what: string, of: (layout: LayoutResult) => ElementCounts | undefined): Field[] {
  return (["dividers", "merges", "belts"] as const).map((kind) => ({
    name: `one_more_${what}_${kind}`,
    cell: (layout) => of(layout)?.[kind] ?? null,
  }));
}

const MONEY: typeof FIELDS = [
  { name: "currency", cell: ({ money }) => money?.currency ?? null },
  { name: "build_cost", cell: ({ money }) => moneyCell(money?.build, money) },
  { name: "change_cost", cell: ({ money }) => moneyCell(money?.change, money) },
  { name: "loss_per_year", cell: ({ money }) => moneyCell(money?.loss_per_year, money) },
  { name: "saved_per_year", cell: ({ money }) => moneyCell(money?.saved_per_year, money) },
  { name: "paid_after_years", cell: ({ money }) => money?.paid_after_years ?? null },
];

export function layoutsCsv({ layouts }: LayoutStudy): string {
  const fields = layouts.some(({ money }) => money !== undefined) ? [...FIELDS, ...MONEY] : FIELDS;
  return csv([fields.map(({ name }) => name), ...layouts.map((layout) => fields.map(({ cell }) => cell(layout)))]);
}
