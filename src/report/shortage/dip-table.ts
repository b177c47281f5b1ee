/** The table of a study of a dip: a row for each variant. */
import type { Dip, DipResult } from "../../study/shortage/shortage-results.ts";
import { settlingOrDash } from "../text/cells.ts";
import { longRun } from "../text/figures.ts";
import { count, flag, minutes, rate, type StudyColumn, text } from "../text/study-table.ts";
import { keepsLimits, standsBefore } from "./dip-findings.ts";
import { variantName } from "./shortage-figures.ts";

export function dipColumns(dip: Dip): StudyColumn<DipResult>[] {
  return [
    text(({ id }) => variantName(id), {
      csv: "variant",
      markdown: "variant",
      terminal: ["variant", 99],
      value: ({ id }) => id,
    }),
    rate(longRun, { csv: "settled_items_per_min", markdown: "settled, items/min", terminal: ["settled|/min", 7] }),
    flag(({ proved }) => proved, { csv: "proved" }),
    flag(({ settled_before: settled }) => settled, { csv: "settled_before" }),
    minutes(({ stops_without_min: at }) => at, { csv: "stops_without_min" }),
    minutes(({ stops_at_min: at }) => at, { csv: "stops_at_min" }),
    count(({ made_without: made }) => made, { csv: "made_without_items" }),
    count(({ made }) => made, { csv: "made_items" }),
    count((result) => (standsBefore(dip, result) ? null : result.lost), {
      csv: "lost_items",
      markdown: "lost, items",
      terminal: ["lost|items", 10],
      value: ({ lost }) => lost,
    }),
    rate(({ lowest_per_min: lowest }) => lowest, {
      csv: "lowest_items_per_min",
      markdown: "lowest, items/min",
      terminal: ["lowest|/min", 9],
    }),
    minutes(({ lowest_at_min: at }) => at, { csv: "lowest_at_min", markdown: "at, min" }),
    minutes(({ within_tolerance_min: after }) => after, {
      csv: "within_tolerance_after_min",
      markdown: "95 % after, min",
      terminal: ["95 %|after|min", 8],
    }),
    minutes(({ recovery_min: after }) => after, {
      csv: "recovery_min",
      markdown: "in its pattern after, min",
      terminal: ["pattern|after|min", 8],
      inFull: ({ recovery_min: after, proved }) => settlingOrDash(after, proved),
    }),
    count(({ hold_up_before: held }) => held, {
      csv: "hold_up_before_items",
      markdown: "hold-up before, items",
      terminal: ["hold-up|before|items", 4],
    }),
    count(({ hold_up_settled: held }) => held, {
      csv: "hold_up_settled_items",
      markdown: "hold-up settled, items",
      terminal: ["hold-up|settled|items", 5],
    }),
    flag((result) => (result.limits_broken === null ? null : keepsLimits(result)), { csv: "keeps_limits" }),
  ];
}
