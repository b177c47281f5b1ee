/** All files of a comparison's report. */

import type { Comparison, TacticCurve, TacticResult } from "../../study/results.ts";
import { comparisonMarkdown } from "../comparison/comparison-markdown.ts";
import { luckComparisonMarkdown } from "../comparison/luck-comparison-markdown.ts";
import { tacticColumns } from "../comparison/tactics-table.ts";
import { luckCsv } from "../luck/luck-table.ts";
import { json } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { noteText, startWords, type Told } from "../text/tactic-words.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

/** What `compare --json` prints. */
export interface ComparisonTold extends Omit<Comparison, "tactics"> {
  readonly tactics: readonly Told<TacticResult>[];
}

export function comparisonTold(comparison: Comparison): ComparisonTold {
  const tactics = comparison.tactics.map((tactic) => ({
    ...tactic,
    ...startWords(tactic),
    notes: tactic.notes.map(noteText),
  }));
  return { ...comparison, tactics };
}

/**
 * @param curves of as many of the tactics as there are, in any order
 * @returns contents by file name
 */
export async function comparisonFiles(
  comparison: Comparison,
  curves: readonly TacticCurve[],
  { charts, source }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ comparisonPictures }) => comparisonPictures(comparison, curves));
  const { replications: luck } = comparison;
  if (luck === undefined) files.set("report.md", comparisonMarkdown(comparison, links));
  else {
    files.set("report.md", luckComparisonMarkdown(comparison, luck, links));
    files.set("differences.csv", luckCsv(luck));
  }
  // Loaded only now, since it holds the whole engine.
  if (source !== undefined)
    files.set("report.html", (await import("../page/study-pages.ts")).comparisonPage(comparison, source));
  files.set("comparison.csv", csvTable(tacticColumns(comparison.tactics), comparison.tactics));
  files.set("comparison.json", json("compare", comparisonTold(comparison)));
  return files;
}
