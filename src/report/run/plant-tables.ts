/** The tables of report.md on rate cuts, vehicles and surge buffers, limits, and where items lie. */
import type { RateCut } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, NONE, rateOrDash, shareOrDash } from "../text/cells.ts";
import { approximately, longRun, number, rateWord, significant } from "../text/figures.ts";
import { escapeMarkdown, left, markdownTable, right } from "../text/markdown-text.ts";

/** Headings and tables in turn. */
export function plantTables(result: Result): string[] {
  const parts: string[] = [];
  if (result.cuts.length > 0) parts.push("### Rate cuts", cuts(result));
  if (result.outlets.length > 0) parts.push("### Outlets", outlets(result));
  if (result.batches.length > 0) parts.push("### Vehicles and surge buffers", batches(result));
  if (result.limits.length > 0) parts.push("### Limits", limits(result));
  return parts;
}

const STATES: Readonly<Record<NonNullable<RateCut["state"]>, string>> = {
  exact: "exactly the belt's rate",
  short: "too little arrives",
  uneven: "comes by fits and starts",
  "held-up": "held up behind the belt",
};

function cuts({ cuts: all }: Result): string {
  const columns = [
    left("divider"),
    left("slower belt"),
    right("its rate, items/min"),
    right("arrives, items/min"),
    right("taken, items/min"),
    right("passed on, items/min"),
    left("taken is"),
  ];
  const rows = all.map((cut) => [
    escapeMarkdown(cut.divider),
    escapeMarkdown(cut.belt),
    exactRateOrDash(cut.cut_per_min),
    exactRateOrDash(cut.arriving_per_min),
    exactRateOrDash(cut.taken_per_min),
    exactRateOrDash(cut.passed_on_per_min),
    cut.state === null ? NONE : STATES[cut.state],
  ]);
  return markdownTable(columns, rows);
}

function outlets({ outlets: all, settling }: Result): string {
  const columns = [
    left("outlet"),
    left("item"),
    right(`${rateWord(settling)}, items/min`),
    right("left, items of all kinds"),
  ];
  const rows = all.flatMap(({ id, items, left: count }) =>
    items.map((one, i) => [
      escapeMarkdown(id),
      escapeMarkdown(one.item),
      rateOrDash(longRun(one)),
      i === 0 ? countOrDash(count) : "",
    ]),
  );
  return markdownTable(columns, rows);
}

function batches({ batches: all }: Result): string {
  const columns = [
    left("feed"),
    right("a vehicle every, min"),
    right("brings, items"),
    right("on average, items/min"),
    right("unloads, items/min"),
    right("surge room, items"),
    right("peak, items"),
    right("settled lowest, items"),
    right("settled highest, items"),
    right("room needed, items"),
    right("cycle, min"),
    right("of it held up, min"),
    right("vehicles wait, min"),
    right("held up over the horizon, min"),
    left("line runs through"),
  ];
  const rows = all.map(({ feed, vehicles, surge, cycle, needed_room: needed, held_up_min: held }) => [
    escapeMarkdown(feed),
    vehicles === null ? NONE : significant(approximately(vehicles.every_min)),
    countOrDash(vehicles?.items ?? null),
    exactRateOrDash(vehicles?.bring_per_min ?? null),
    exactRateOrDash(vehicles?.unloading_per_min ?? null),
    countOrDash(surge?.room ?? null),
    countOrDash(surge?.peak ?? null),
    countOrDash(surge?.settled_low ?? null),
    countOrDash(surge?.settled_high ?? null),
    countOrDash(needed),
    cycle === null ? NONE : significant(cycle.length_min),
    minutesOrDash(cycle?.held_up_min ?? null),
    minutesOrDash(cycle?.vehicles_wait_min ?? null),
    minutesOrDash(held),
    cycle === null ? NONE : cycle.runs_through ? "yes" : "no",
  ]);
  return markdownTable(columns, rows);
}

function limits({ limits: all }: Result): string {
  const columns = [
    left("limit on"),
    left("where"),
    left("item"),
    right("limit"),
    right("most"),
    right("first at, min"),
    right("over it, min"),
    right("settled, % of the time over"),
    right("taken too late, items"),
    right("lying too long at the end, items"),
  ];
  const rows = all.map((limit) => {
    const isHoldUp = limit.what === "hold-up";
    const amount = (value: number): string => (isHoldUp ? number(value) : `${significant(value)} min`);
    return [
      limit.what,
      limit.place === null ? "whole plant" : escapeMarkdown(limit.place),
      limit.item === null ? "every kind" : escapeMarkdown(limit.item),
      amount(limit.limit),
      amount(limit.peak),
      minutesOrDash(limit.peak_at_min),
      minutesOrDash(limit.over_min),
      shareOrDash(limit.settled_over_share),
      countOrDash(limit.over_items),
      countOrDash(limit.lying_over),
    ];
  });
  return markdownTable(columns, rows);
}

const PARTS = { belts: "belts", infeed: "infeed buffers", outfeed: "outfeed buffers", surge: "surge buffer" } as const;

/** @returns `null` where it would say no more than the total */
export function placesTable({ hold_up: { by_place: places }, settling }: Result): string | null {
  if (places.length < 2) return null;
  const when = settling.proved ? "settled, items" : "at the end, items";
  const rows = places.map(({ place, part, item, settled, peak }) => [
    escapeMarkdown(place),
    PARTS[part],
    escapeMarkdown(item),
    number(settled, settled < 10 ? 1 : 0),
    number(peak),
  ]);
  return markdownTable(
    [left("where"), left("part"), left("item"), right(when), right("most in the samples, items")],
    rows,
  );
}
