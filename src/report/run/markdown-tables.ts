/** The tables of report.md. */
import type { Result } from "../../analysis/result.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash, shareOrDash } from "../text/cells.ts";
import { approximately, longRun, rateWord, significant } from "../text/figures.ts";
import { escapeMarkdown, left, markdownTable, right } from "../text/markdown-text.ts";
import { lostTables } from "./lost-markdown.ts";
import { fullProducts, settledText } from "./machine-rates.ts";
import { placesTable, plantTables } from "./plant-tables.ts";
import { sensitivityTable } from "./sensitivity-finding.ts";

/** Headings and tables in turn. */
export function tables(result: Result): string[] {
  const hasMachines = result.machines.length > 0;
  const parts = hasMachines ? ["### Machines", machines(result), MACHINES_NOTE, ...lostTables(result)] : [];
  if (result.lines.length > 1) parts.push("### Lines", lines(result));
  if (hasMachines) parts.push("### Infeed buffers", buffers(result));
  if (result.belts.length > 0) parts.push("### Belts", belts(result));
  if (result.feeds.length > 0) parts.push("### Feeds", feeds(result));
  parts.push(...plantTables(result), "### Hold-up", holdUp(result));
  parts.push(...sensitivityTable(result));
  const places = placesTable(result);
  if (places !== null) parts.push("### Hold-up by place", places);
  if (result.flow !== null && result.flow.events.length > 0) {
    parts.push("### Events of the flow solution", flowEvents(result.flow.events));
  }
  return parts;
}

const MACHINES_NOTE = [
  "Rates are products made per minute; what is taken stands with the infeed buffers, kind by kind. Uptime is the share of",
  "the time spent running. Our running share counts waiting for items against the machine, unlike availability in",
  "ISO 22400-2. The minutes are those of the whole horizon.",
].join("\n");

function machines({ machines: all, settling }: Result): string {
  const columns = [
    left("machine"),
    right("at full speed, products/min"),
    right(`${rateWord(settling)}, products/min`),
    right("first item, min"),
    right("settled from, min"),
    right("uptime in ramp-up, %"),
    right("uptime settled, %"),
    right("running, min"),
    right("starved, min"),
    right("blocked, min"),
    right("down, min"),
    right("held, min"),
    right("made, items"),
  ];
  const rows = all.map((machine) => [
    escapeMarkdown(machine.id),
    rateOrDash(fullProducts(machine)),
    settledText(machine, rateWord(settling)),
    minutesOrDash(machine.first_item_min),
    minutesOrDash(machine.full_rate_from_min),
    shareOrDash(machine.uptime.ramp_up),
    shareOrDash(machine.uptime.settled),
    minutesOrDash(machine.minutes.running),
    minutesOrDash(machine.minutes.starved),
    minutesOrDash(machine.minutes.blocked),
    minutesOrDash(machine.minutes.down),
    minutesOrDash(machine.minutes.held),
    countOrDash(machine.made),
  ]);
  return markdownTable(columns, rows);
}

function lines({ lines: all, settling }: Result): string {
  const columns = [
    left("line"),
    left("item"),
    right("needs, items/min"),
    right(`${rateWord(settling)}, items/min`),
    right("its machines make, products/min"),
    right("at full speed, products/min"),
    right("95 % from, min"),
    right("all from, min"),
    right("ramp-up loss, products"),
  ];
  const rows = all.flatMap(({ id, items, output, settling: own }) =>
    items.map((brought, i) => [
      escapeMarkdown(id),
      escapeMarkdown(brought.item),
      exactRateOrDash(brought.needs_per_min),
      rateOrDash(longRun(brought)),
      ...(i > 0
        ? ["", "", "", "", ""]
        : [
            rateOrDash(longRun(output)),
            exactRateOrDash(output.full_per_min),
            minutesOrDash(own.to_95_min),
            minutesOrDash(own.time_min),
            countOrDash(output.ramp_up_loss),
          ]),
    ]),
  );
  return markdownTable(columns, rows);
}

function buffers({ machines: all, settling }: Result): string {
  const notFull = settling.proved ? "never" : "not by the end";
  const columns = [
    left("machine"),
    left("item"),
    right("needs, items/min"),
    right(`${rateWord(settling)}, items/min`),
    right("capacity, items"),
    right("full for the first time, min"),
    right("settled lowest, items"),
    right("settled highest, items"),
  ];
  const rows = all.flatMap(({ id, infeed }) =>
    infeed.map((buffer) => [
      escapeMarkdown(id),
      escapeMarkdown(buffer.item),
      exactRateOrDash(buffer.needs_per_min),
      rateOrDash(longRun(buffer)),
      countOrDash(buffer.capacity),
      buffer.full_at_min === null ? notFull : minutesOrDash(buffer.full_at_min),
      countOrDash(buffer.settled_low),
      countOrDash(buffer.settled_high),
    ]),
  );
  return markdownTable(columns, rows);
}

function belts({ belts: all, settling }: Result): string {
  const columns = [
    left("belt"),
    left("from"),
    left("to"),
    right("rate limit, items/min"),
    right(`${rateWord(settling)}, items/min`),
    right("headroom, items/min"),
  ];
  const rows = all.map((belt) => [
    escapeMarkdown(belt.id),
    escapeMarkdown(belt.from),
    escapeMarkdown(belt.to),
    exactRateOrDash(belt.rate_per_min),
    rateOrDash(longRun(belt)),
    exactRateOrDash(belt.headroom_per_min),
  ]);
  return markdownTable(columns, rows);
}

function feeds({ feeds: all }: Result): string {
  const columns = [
    left("feed"),
    left("item"),
    right("offers, items/min"),
    right("taken in the long run, items/min"),
    right("fed, items"),
  ];
  const rows = all.map((feed) => [
    escapeMarkdown(feed.id),
    feed.items.map(({ item }) => escapeMarkdown(item)).join(", "),
    exactRateOrDash(feed.rate_per_min),
    rateOrDash(longRun(feed)),
    countOrDash(feed.fed),
  ]);
  return markdownTable(columns, rows);
}

function holdUp({ hold_up: held, settling }: Result): string {
  const when = settling.proved ? "settled, items" : "at the end, items";
  const rows = Object.entries(held.by_item).map(([item, level]) => [escapeMarkdown(item), countOrDash(level)]);
  return markdownTable([left("item"), right(when)], [...rows, ["all kinds", countOrDash(held.settled)]]);
}

function flowEvents(events: readonly { at_min: string; what: "full" | "empty" | "feed"; where: string }[]): string {
  const what = { full: "buffer full", empty: "buffer empty", feed: "feed changes" } as const;
  const columns = [right("at, min"), left("what"), left("where"), right("exactly, min")];
  const rows = events.map((event) => [
    significant(approximately(event.at_min)),
    what[event.what],
    escapeMarkdown(event.where),
    escapeMarkdown(event.at_min),
  ]);
  return markdownTable(columns, rows);
}
