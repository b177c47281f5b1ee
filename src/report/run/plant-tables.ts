/** The tables of report.md on rate cuts, vehicles and surge buffers, limits, and where items lie. */
import type { RateCut } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import { countOrDash } from "../text/cells.ts";
import { approximately, longRun, number, rateWord, significant } from "../text/figures.ts";
import {
  count,
  exactRate,
  flag,
  minutes,
  quantity,
  rate,
  reportTable,
  type StudyColumn,
  share,
  text,
} from "../text/study-table.ts";

/** Headings and tables in turn. */
export function plantTables(result: Result): string[] {
  const parts: string[] = [];
  if (result.cuts.length > 0) parts.push("### Rate cuts", reportTable(CUTS, result.cuts));
  if (result.outlets.length > 0) parts.push("### Outlets", outlets(result));
  if (result.batches.length > 0) parts.push("### Vehicles and surge buffers", reportTable(BATCHES, result.batches));
  if (result.limits.length > 0) parts.push("### Limits", reportTable(LIMITS, result.limits));
  return parts;
}

const STATES: Readonly<Record<NonNullable<RateCut["state"]>, string>> = {
  exact: "exactly the belt's rate",
  short: "too little arrives",
  uneven: "comes by fits and starts",
  "held-up": "held up behind the belt",
};

const CUTS: readonly StudyColumn<RateCut>[] = [
  text(({ divider }) => divider, { markdown: "divider" }),
  text(({ belt }) => belt, { markdown: "slower belt" }),
  exactRate((cut) => cut.cut_per_min, { markdown: "its rate, items/min" }),
  exactRate((cut) => cut.arriving_per_min, { markdown: "arrives, items/min" }),
  exactRate((cut) => cut.taken_per_min, { markdown: "taken, items/min" }),
  exactRate((cut) => cut.passed_on_per_min, { markdown: "passed on, items/min" }),
  text(({ state }) => state && STATES[state], { markdown: "taken is" }),
];

function outlets({ outlets: all, settling }: Result): string {
  const rows = all.flatMap(({ id, items, left }) =>
    items.map((one, i) => ({ id, ...one, left: i === 0 ? left : null })),
  );
  const columns: StudyColumn<(typeof rows)[number]>[] = [
    text(({ id }) => id, { markdown: "outlet" }),
    text(({ item }) => item, { markdown: "item" }),
    rate(longRun, { markdown: `${rateWord(settling)}, items/min` }),
    quantity(({ left }) => (left === null ? "" : countOrDash(left)), { markdown: "left, items of all kinds" }),
  ];
  return reportTable(columns, rows);
}

const BATCHES: readonly StudyColumn<Result["batches"][number]>[] = [
  text(({ feed }) => feed, { markdown: "feed" }),
  rate(({ vehicles }) => vehicles && approximately(vehicles.every_min), { markdown: "a vehicle every, min" }),
  count(({ vehicles }) => vehicles?.items ?? null, { markdown: "brings, items" }),
  exactRate(({ vehicles }) => vehicles?.bring_per_min ?? null, { markdown: "on average, items/min" }),
  exactRate(({ vehicles }) => vehicles?.unloading_per_min ?? null, { markdown: "unloads, items/min" }),
  count(({ surge }) => surge?.room ?? null, { markdown: "surge room, items" }),
  count(({ surge }) => surge?.peak ?? null, { markdown: "peak, items" }),
  count(({ surge }) => surge?.settled_low ?? null, { markdown: "settled lowest, items" }),
  count(({ surge }) => surge?.settled_high ?? null, { markdown: "settled highest, items" }),
  count(({ needed_room: needed }) => needed, { markdown: "room needed, items" }),
  rate(({ cycle }) => cycle?.length_min ?? null, { markdown: "cycle, min" }),
  minutes(({ cycle }) => cycle?.held_up_min ?? null, { markdown: "of it held up, min" }),
  minutes(({ cycle }) => cycle?.vehicles_wait_min ?? null, { markdown: "vehicles wait, min" }),
  minutes(({ held_up_min: held }) => held, { markdown: "held up over the horizon, min" }),
  flag(({ cycle }) => cycle?.runs_through ?? null, { markdown: "line runs through" }),
];

type Limit = Result["limits"][number];

const LIMITS: readonly StudyColumn<Limit>[] = [
  text(({ what }) => what, { markdown: "limit on" }),
  text(({ place }) => place ?? "whole plant", { markdown: "where" }),
  text(({ item }) => item ?? "every kind", { markdown: "item" }),
  quantity((one) => amount(one, one.limit), { markdown: "limit" }),
  quantity((one) => amount(one, one.peak), { markdown: "most" }),
  minutes(({ peak_at_min: at }) => at, { markdown: "first at, min" }),
  minutes(({ over_min: over }) => over, { markdown: "over it, min" }),
  share(({ settled_over_share: over }) => over, { markdown: "settled, % of the time over" }),
  count(({ over_items: over }) => over, { markdown: "taken too late, items" }),
  count(({ lying_over: lying }) => lying, { markdown: "lying too long at the end, items" }),
];

function amount({ what }: Limit, value: number): string {
  return what === "hold-up" ? number(value) : `${significant(value)} min`;
}

const PARTS = { belts: "belts", infeed: "infeed buffers", outfeed: "outfeed buffers", surge: "surge buffer" } as const;

/** @returns `null` where it would say no more than the total */
export function placesTable({ hold_up: { by_place: places }, settling }: Result): string | null {
  if (places.length < 2) return null;
  const when = settling.proved ? "settled, items" : "at the end, items";
  const columns: StudyColumn<(typeof places)[number]>[] = [
    text(({ place }) => place, { markdown: "where" }),
    text(({ part }) => PARTS[part], { markdown: "part" }),
    text(({ item }) => item, { markdown: "item" }),
    quantity(({ settled }) => number(settled, settled < 10 ? 1 : 0), { markdown: when }),
    count(({ peak }) => peak, { markdown: "most in the samples, items" }),
  ];
  return reportTable(columns, places);
}
