/** All files of a comparison's report. */

import type { Comparison, TacticCurve } from "../../study/results.ts";
import { paintInto } from "../chart/painted.ts";
import { luckCsv } from "../luck/luck-table.ts";
import type { ReportOptions } from "../run/run-report.ts";
import { json } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { comparisonMarkdown } from "./comparison-markdown.ts";
import { luckComparisonMarkdown } from "./luck-comparison-markdown.ts";
import { tacticColumns } from "./tactics-table.ts";

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
  files.set("comparison.json", json("compare", comparison));
  return files;
}
