/** The report of a run, and its curves as CSV. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import { answerTable } from "../answer/answer.ts";
import { replicationSections } from "../replications/replication-report.ts";
import { type Cell, csv } from "../text/csv.ts";
import { duration, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { assumptions, CAUTIONS } from "../text/notes.ts";
import { findings } from "./findings.ts";
import { tables } from "./markdown-tables.ts";
import { runAnswer } from "./run-answer.ts";

/** report.md: the answer first, then pictures, findings, tables, then assumptions and cautions. */
export function reportMarkdown(result: Result, pictures: readonly PictureLink[]): string {
  const sections = [
    `# ${escapeMarkdown(result.title)}`,
    answerTable(runAnswer(result)),
    ...pictureSections(pictures),
    "## Findings",
    `Horizon ${duration(result.horizon_min)}, tick ${escapeMarkdown(result.tick_s)} s, seed ${escapeMarkdown(result.seed)}.`,
    bullets(
      findings(result).map(({ code, text }) => `${code === "warning" ? "**Warning:** " : ""}${escapeMarkdown(text)}`),
    ),
  ];
  if (result.replications !== undefined) sections.push(...replicationSections(result.replications));
  sections.push("## Tables", ...tables(result));
  sections.push("## Assumptions", bullets(assumptions(result)), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

const STATES = ["running", "starved", "blocked", "down", "held"] as const;

/**
 * A row for each sample, which lasts from the row before (or 0) to its `time_min`: rates and shares are means over it,
 * levels those at its end.
 */
export function seriesCsv(series: Series): string {
  const columns: { name: string; values: readonly number[] }[] = [
    { name: "time_min", values: series.timesMin },
    { name: "output_items_per_min", values: series.output.perMin },
    { name: "output_moving_average_items_per_min", values: series.output.movingAveragePerMin },
  ];
  for (const { item, level } of series.holdUp) columns.push({ name: `hold_up_items:${item}`, values: level });
  for (const { feed, level } of series.surges) columns.push({ name: `surge_items:${feed}`, values: level });
  for (const machine of series.machines) {
    for (const { item, level } of machine.infeed) {
      columns.push({ name: `infeed_items:${machine.id}:${item}`, values: level });
    }
    for (const state of STATES) columns.push({ name: `${state}_share:${machine.id}`, values: machine[state] });
  }
  return csv([
    columns.map(({ name }) => name),
    ...series.timesMin.map((_, i) => columns.map(({ values }): Cell => values[i] ?? null)),
  ]);
}
