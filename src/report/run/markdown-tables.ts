/** The tables of report.md. */
import type { Result } from "../../analysis/result.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash } from "../text/cells.ts";
import { approximately, longRun, rateWord, significant } from "../text/figures.ts";
import { count, exactRate, quantity, rate, reportTable, type StudyColumn, text } from "../text/study-table.ts";
import { lostTables } from "./lost-markdown.ts";
import { machineColumns } from "./machines-table.ts";
import { placesTable, plantTables } from "./plant-tables.ts";
import { sensitivityTable } from "./sensitivity-finding.ts";

/** Headings and tables in turn. */
export function tables(result: Result): string[] {
  const hasMachines = result.machines.length > 0;
  const parts = hasMachines
    ? ["### Machines", reportTable(machineColumns(result), result.machines), MACHINES_NOTE, ...lostTables(result)]
    : [];
  if (result.lines.length > 1) parts.push("### Lines", lines(result));
  if (hasMachines) parts.push("### Infeed buffers", buffers(result));
  if (result.belts.length > 0) parts.push("### Belts", belts(result));
  if (result.feeds.length > 0) parts.push("### Feeds", reportTable(FEEDS, result.feeds));
  parts.push(...plantTables(result), "### Hold-up", holdUp(result));
  parts.push(...sensitivityTable(result));
  const places = placesTable(result);
  if (places !== null) parts.push("### Hold-up by place", places);
  if (result.flow !== null && result.flow.events.length > 0) {
    parts.push("### Events of the flow solution", reportTable(FLOW_EVENTS, result.flow.events));
  }
  return parts;
}

const MACHINES_NOTE = [
  "Rates are products made per minute; what is taken stands with the infeed buffers, kind by kind. Uptime is the share of",
  "the time spent running. Our running share counts waiting for items against the machine, unlike availability in",
  "ISO 22400-2. The minutes are those of the whole horizon.",
].join("\n");

/** Parts as rows of their own, such as the kinds that a line brings. */
function partRows<Whole, Part>(all: readonly Whole[], partsOf: (whole: Whole) => readonly Part[]) {
  return all.flatMap((whole) => partsOf(whole).map((part, i) => ({ whole, part, isFirst: i === 0 })));
}

function lines({ lines: all, settling }: Result): string {
  type Row = ReturnType<typeof rowsOf>[number];
  const rowsOf = () => partRows(all, ({ items }) => items);
  const once = (read: (row: Row) => string) => (row: Row) => (row.isFirst ? read(row) : "");
  const columns: StudyColumn<Row>[] = [
    text(({ whole }) => whole.id, { markdown: "line" }),
    text(({ part }) => part.item, { markdown: "item" }),
    exactRate(({ part }) => part.needs_per_min, { markdown: "needs, items/min" }),
    rate(({ part }) => longRun(part), { markdown: `${rateWord(settling)}, items/min` }),
    quantity(
      once(({ whole }) => rateOrDash(longRun(whole.output))),
      { markdown: "its machines make, products/min" },
    ),
    quantity(
      once(({ whole }) => exactRateOrDash(whole.output.full_per_min)),
      { markdown: "at full speed, products/min" },
    ),
    quantity(
      once(({ whole }) => minutesOrDash(whole.settling.to_95_min)),
      { markdown: "95 % from, min" },
    ),
    quantity(
      once(({ whole }) => minutesOrDash(whole.settling.time_min)),
      { markdown: "all from, min" },
    ),
    quantity(
      once(({ whole }) => countOrDash(whole.output.ramp_up_loss)),
      { markdown: "ramp-up loss, products" },
    ),
  ];
  return reportTable(columns, rowsOf());
}

function buffers({ machines: all, settling }: Result): string {
  const notFull = settling.proved ? "never" : "not by the end";
  const rows = partRows(all, ({ infeed }) => infeed);
  const columns: StudyColumn<(typeof rows)[number]>[] = [
    text(({ whole }) => whole.id, { markdown: "machine" }),
    text(({ part }) => part.item, { markdown: "item" }),
    exactRate(({ part }) => part.needs_per_min, { markdown: "needs, items/min" }),
    rate(({ part }) => longRun(part), { markdown: `${rateWord(settling)}, items/min` }),
    count(({ part }) => part.capacity, { markdown: "capacity, items" }),
    quantity(({ part: { full_at_min: at } }) => (at === null ? notFull : minutesOrDash(at)), {
      markdown: "full for the first time, min",
    }),
    count(({ part }) => part.settled_low, { markdown: "settled lowest, items" }),
    count(({ part }) => part.settled_high, { markdown: "settled highest, items" }),
  ];
  return reportTable(columns, rows);
}

function belts({ belts: all, settling }: Result): string {
  const columns: StudyColumn<Result["belts"][number]>[] = [
    text(({ id }) => id, { markdown: "belt" }),
    text(({ from }) => from, { markdown: "from" }),
    text(({ to }) => to, { markdown: "to" }),
    exactRate(({ rate_per_min: most }) => most, { markdown: "rate limit, items/min" }),
    rate(longRun, { markdown: `${rateWord(settling)}, items/min` }),
    exactRate(({ headroom_per_min: left }) => left, { markdown: "headroom, items/min" }),
  ];
  return reportTable(columns, all);
}

const FEEDS: readonly StudyColumn<Result["feeds"][number]>[] = [
  text(({ id }) => id, { markdown: "feed" }),
  text(({ items }) => items.map(({ item }) => item).join(", "), { markdown: "item" }),
  exactRate(({ rate_per_min: offered }) => offered, { markdown: "offers, items/min" }),
  rate(longRun, { markdown: "taken in the long run, items/min" }),
  count(({ fed }) => fed, { markdown: "fed, items" }),
];

function holdUp({ hold_up: holdUp, settling }: Result): string {
  const rows: (readonly [string, number])[] = [...Object.entries(holdUp.by_item), ["all kinds", holdUp.settled]];
  const columns: StudyColumn<(typeof rows)[number]>[] = [
    text(([item]) => item, { markdown: "item" }),
    count(([, level]) => level, { markdown: settling.proved ? "settled, items" : "at the end, items" }),
  ];
  return reportTable(columns, rows);
}

const EVENTS = { full: "buffer full", empty: "buffer empty", feed: "feed changes" } as const;

const FLOW_EVENTS: readonly StudyColumn<NonNullable<Result["flow"]>["events"][number]>[] = [
  quantity(({ at_min: at }) => significant(approximately(at)), { markdown: "at, min" }),
  text(({ what }) => EVENTS[what], { markdown: "what" }),
  text(({ where }) => where, { markdown: "where" }),
  quantity(({ at_min: at }) => at, { markdown: "exactly, min" }),
];
