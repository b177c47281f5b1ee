/** Tables of report.md: what machines wait for and why, jams, and mixes. */
import type { Jam, Mix } from "../../analysis/plant-results.ts";
import type { Result } from "../../analysis/result.ts";
import { exactRateOrDash, minutesOrDash, NONE, shareOrDash } from "../text/cells.ts";
import { approximately, listed, percentCell } from "../text/figures.ts";
import { escapeMarkdown, left, markdownTable, right } from "../text/markdown-text.ts";
import { because } from "./causes-text.ts";

/** Headings and tables in turn. */
export function lostTables(result: Result): string[] {
  const parts: string[] = [];
  if (result.machines.some(({ waits }) => waits.length > 0)) parts.push("### Waits", waits(result), WAITS_NOTE);
  if (result.jams !== null && result.jams.length > 0) parts.push("### Jams", jams(result.jams));
  if (result.mixes.length > 0) parts.push("### Mixes", mixes(result.mixes));
  return parts;
}

const WAITS_NOTE = [
  "Minutes are those of the whole horizon, shares those of the time once settled. Where a machine lacks several kinds at",
  "once, each counts in full.",
].join("\n");

function waits(result: Result): string {
  const columns = [
    left("machine"),
    left("state"),
    left("item"),
    right("waits, min"),
    right("waits settled, %"),
    left("because"),
  ];
  const rows = result.machines.flatMap(({ id, waits: own }) =>
    own.map((wait) => [
      escapeMarkdown(id),
      wait.state,
      escapeMarkdown(wait.item),
      minutesOrDash(wait.minutes),
      shareOrDash(wait.settled_share),
      wait.cause === null ? NONE : escapeMarkdown(because(wait, wait.cause, result)),
    ]),
  );
  return markdownTable(columns, rows);
}

function jams(all: readonly Jam[]): string {
  const columns = [
    left("item"),
    left("stands at the end of"),
    left("refused by"),
    left("why"),
    right("since, min"),
    left("likewise at"),
    left("starved behind it"),
    left("blocked behind it"),
  ];
  const names = (ids: readonly string[]): string => (ids.length === 0 ? NONE : escapeMarkdown(listed(ids)));
  const rows = all.map((jam) => [
    escapeMarkdown(jam.item),
    escapeMarkdown(jam.belt),
    escapeMarkdown(jam.at),
    jam.is_full ? "buffer full" : "takes none",
    minutesOrDash(jam.since_min),
    names(jam.also),
    names(jam.starved.map(({ machine, item }) => `${machine} (${item})`)),
    names(jam.blocked),
  ]);
  return markdownTable(columns, rows);
}

function mixes(all: readonly Mix[]): string {
  const columns = [
    left("line"),
    left("item"),
    right("offered, items/min"),
    right("can be taken, items/min"),
    right("beside the other kinds, items/min"),
    right("may rise by, %"),
  ];
  const rows = all.flatMap(({ line, kinds, nearest, margin }) =>
    kinds.map(({ item, offered_per_min: offered, takeable_per_min: takeable, beside_per_min: beside }) => [
      escapeMarkdown(line),
      escapeMarkdown(item),
      exactRateOrDash(offered),
      takeable === null ? "any" : exactRateOrDash(takeable),
      beside === null ? "any" : exactRateOrDash(beside),
      item === nearest && margin !== null ? percentCell(approximately(margin)) : "",
    ]),
  );
  return markdownTable(columns, rows);
}
