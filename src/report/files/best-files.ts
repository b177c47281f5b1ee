/** All files of a search for the best start. */
import type { BestFound } from "../../study/best/best.ts";
import type { BestStart, BestStudy } from "../../study/best/best-results.ts";
import { bestMarkdown, STARTS_FILE } from "../best/best-markdown.ts";
import { PLACEMENTS } from "../best/best-table.ts";
import { type CardStepTold, cardTold } from "../best/card-text.ts";
import { tacticColumns } from "../comparison/tactics-table.ts";
import { json } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { startWords, type Told } from "../text/tactic-words.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

/** What `best --json` prints. */
export interface BestTold extends Omit<BestStudy, "starts" | "card"> {
  readonly card: readonly CardStepTold[];
  readonly starts: readonly Told<BestStart>[];
}

export function bestTold(study: BestStudy): BestTold {
  const starts = study.starts.map((start) => ({ ...start, ...startWords(start) }));
  return { ...study, starts, card: cardTold(study.card) };
}

/** @returns contents by file name */
export async function bestFiles(
  { study, comparison, curves, scenarioText }: BestFound,
  { charts, source }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ bestPictures }) => bestPictures(study, comparison, curves));
  files.set("report.md", bestMarkdown(study, links));
  files.set(STARTS_FILE, scenarioText);
  if (source !== undefined) {
    const own = { ...source, text: scenarioText };
    files.set("report.html", (await import("../page/study-pages.ts")).bestPage(study, own));
  }
  files.set("starts.csv", csvTable(tacticColumns(comparison.tactics), comparison.tactics));
  if (study.placements !== null) files.set("placements.csv", csvTable(PLACEMENTS, study.placements));
  files.set("best.json", json("best", bestTold(study)));
  return files;
}
