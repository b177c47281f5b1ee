/** The table of a growth study: a row for each size. */
import type { GrowthStep } from "../../study/comparison/results.ts";
import { settlingOrDash } from "../text/cells.ts";
import { longRun } from "../text/figures.ts";
import { count, exactRate, flag, minutes, rate, type StudyColumn, text } from "../text/study-table.ts";

export const GROWTH_COLUMNS: readonly StudyColumn<GrowthStep>[] = [
  count(({ machines }) => machines, { csv: "machines", markdown: "machines", terminal: ["machines", 99] }),
  exactRate(({ needs_per_min: need }) => need, {
    csv: "needs_items_per_min",
    markdown: "need, items/min",
    terminal: ["need|/min", 6],
  }),
  exactRate(({ feed_per_min: feed }) => feed, {
    csv: "feed_items_per_min",
    markdown: "feed, items/min",
    terminal: ["feed|/min", 3],
  }),
  rate(longRun, { csv: "settled_items_per_min", markdown: "settled, items/min", terminal: ["settled|/min", 5] }),
  minutes(({ settling_min: at }) => at, {
    csv: "settling_min",
    markdown: "settles at, min",
    terminal: ["settles|at|min", 10],
    inFull: ({ settling_min: at, proved }) => settlingOrDash(at, proved),
  }),
  minutes(({ stops_at_min: at }) => at, { csv: "stops_at_min" }),
  flag(({ proved }) => proved, { csv: "proved" }),
  minutes(({ within_tolerance_min: at }) => at, {
    csv: "within_tolerance_min",
    markdown: "95 % from, min",
    terminal: ["95 %|from|min", 7],
  }),
  count(({ ramp_up_loss: loss }) => loss, {
    csv: "ramp_up_loss_items",
    markdown: "lost, items",
    terminal: ["lost|items", 9],
  }),
  count(({ hold_up_settled: held }) => held, {
    csv: "hold_up_settled_items",
    markdown: "settled hold-up, items",
    terminal: ["hold-up|items", 8],
  }),
  exactRate(({ headroom_per_min: left }) => left, {
    csv: "headroom_items_per_min",
    markdown: "headroom, items/min",
    terminal: ["headroom|/min", 4],
  }),
  text(({ tightest_belt: belt }) => belt, {
    csv: "tightest_belt",
    markdown: "on the tightest belt",
    terminal: ["on belt", 2],
  }),
];
