/** dip.csv: a row for each variant. */
import type { Dip } from "../../study/shortage/shortage-results.ts";
import { csv, yesNo } from "../text/csv.ts";
import { longRun } from "../text/figures.ts";
import { keepsLimits } from "./dip-findings.ts";

export function dipCsv({ results }: Dip): string {
  return csv([
    [
      "variant",
      "settled_items_per_min",
      "proved",
      "settled_before",
      "stops_without_min",
      "stops_at_min",
      "made_without_items",
      "made_items",
      "lost_items",
      "lowest_items_per_min",
      "lowest_at_min",
      "within_tolerance_after_min",
      "recovery_min",
      "hold_up_before_items",
      "hold_up_settled_items",
      "keeps_limits",
    ],
    ...results.map((result) => [
      result.id,
      longRun(result),
      yesNo(result.proved),
      yesNo(result.settled_before),
      result.stops_without_min,
      result.stops_at_min,
      result.made_without,
      result.made,
      result.lost,
      result.lowest_per_min,
      result.lowest_at_min,
      result.within_tolerance_min,
      result.recovery_min,
      result.hold_up_before,
      result.hold_up_settled,
      yesNo(result.limits_broken === null ? null : keepsLimits(result)),
    ]),
  ]);
}
