/** comparison.csv: a row for each tactic. */
import type { Comparison, TacticResult } from "../../study/comparison/results.ts";
import { type Cell, csv, yesNo } from "../text/csv.ts";
import { moneyCell } from "../text/money-text.ts";

const FIELDS: readonly { readonly name: string; readonly cell: (tactic: TacticResult) => Cell }[] = [
  { name: "tactic", cell: ({ id }) => id },
  { name: "does", cell: ({ does }) => does },
  { name: "settling_min", cell: (tactic) => tactic.settling_min },
  { name: "proved", cell: ({ proved }) => yesNo(proved) },
  { name: "to_95_min", cell: (tactic) => tactic.to_95_min },
  { name: "ramp_up_loss_items", cell: (tactic) => tactic.ramp_up_loss },
  { name: "items_handled", cell: (tactic) => tactic.items_handled },
  { name: "stops_at_min", cell: (tactic) => tactic.stops_at_min },
  { name: "first_product_min", cell: (tactic) => tactic.first_product_min },
  { name: "hold_up_peak_items", cell: (tactic) => tactic.hold_up_peak },
  { name: "hold_up_settled_items", cell: (tactic) => tactic.hold_up_settled },
  { name: "over_limit_min", cell: (tactic) => tactic.over_limit_min },
  { name: "over_limit_items", cell: (tactic) => tactic.over_limit_items },
  { name: "made_in_10_min_items", cell: ({ made }) => made.min_10 },
  { name: "made_in_30_min_items", cell: ({ made }) => made.min_30 },
  { name: "made_in_60_min_items", cell: ({ made }) => made.min_60 },
  { name: "made_more_in_10_min_items", cell: ({ made_more: more }) => more.min_10 },
  { name: "made_more_in_30_min_items", cell: ({ made_more: more }) => more.min_30 },
  { name: "made_more_in_60_min_items", cell: ({ made_more: more }) => more.min_60 },
  { name: "over_limit_item_min", cell: (tactic) => tactic.over_limit_item_min },
  { name: "reserve_kept", cell: (tactic) => tactic.reserve_kept },
  { name: "bridges_less_min", cell: (tactic) => tactic.bridges_less_min },
  { name: "made_while_machine_stops_items", cell: ({ made_while_stopped: made }) => made.machine },
  { name: "made_while_feed_stops_items", cell: ({ made_while_stopped: made }) => made.feeds },
  { name: "asks_for", cell: ({ asks_for: asks }) => (asks.length === 0 ? null : asks.join("; ")) },
  { name: "granted", cell: ({ granted }) => yesNo(granted) },
  { name: "same_as", cell: ({ same_as: same }) => (same.length === 0 ? null : same.join("; ")) },
  { name: "slower_for_good", cell: (tactic) => yesNo(tactic.slower_for_good) },
  { name: "by_hand", cell: (tactic) => yesNo(tactic.by_hand) },
  { name: "undominated", cell: ({ undominated }) => yesNo(undominated) },
  { name: "beaten_by", cell: (tactic) => tactic.beaten_by },
  { name: "notes", cell: ({ notes }) => (notes.length === 0 ? null : notes.join("; ")) },
];

const MONEY: typeof FIELDS = [
  { name: "currency", cell: ({ money }) => money?.currency ?? null },
  { name: "loss_per_start", cell: ({ money }) => moneyCell(money?.loss_per_start, money) },
  { name: "hands_per_start", cell: ({ money }) => moneyCell(money?.hands_per_start, money) },
  { name: "saved_per_start", cell: ({ money }) => moneyCell(money?.saved_per_start, money) },
  { name: "saved_per_year", cell: ({ money }) => moneyCell(money?.saved_per_year, money) },
];

export function comparisonCsv({ tactics }: Comparison): string {
  const fields = tactics.some(({ money }) => money !== undefined) ? [...FIELDS, ...MONEY] : FIELDS;
  return csv([fields.map(({ name }) => name), ...tactics.map((tactic) => fields.map(({ cell }) => cell(tactic)))]);
}
