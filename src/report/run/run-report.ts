/** All files of a report, from a result and its series. */

import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import type { ReplicationsSummary } from "../../study/replications/replications.ts";
import { paintInto } from "../chart/painted.ts";
import type { PageSource } from "../page/page.ts";
import { replicationsCsv, replicationsSeriesCsv } from "../replications/replications-csv.ts";
import { resultJson } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { machineColumns } from "./machines-table.ts";
import { reportMarkdown } from "./run-markdown.ts";
import { seriesCsv } from "./series-csv.ts";

export interface ReportOptions {
  /** Whether to paint pictures; without them a report takes no time. */
  readonly charts: boolean;
  /** What the page reads again; without it there is none. */
  readonly source?: PageSource;
}

/**
 * @param summed of several runs; result and series are those of the median one
 * @returns contents by file name
 */
export async function reportFiles(
  result: Result,
  series: Series,
  { charts, source }: ReportOptions,
  summed: ReplicationsSummary | null = null,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ pictures }) => pictures(result, series, summed));
  files.set("report.md", reportMarkdown(result, links));
  // Loaded only now, since it holds the whole engine.
  if (source !== undefined) files.set("report.html", (await import("../page/page.ts")).runPage(result, source));
  files.set("result.json", resultJson(result));
  files.set("machines.csv", csvTable(machineColumns(result), result.machines));
  files.set("series.csv", seriesCsv(series));
  if (summed !== null) {
    files.set("replications.csv", replicationsCsv(summed));
    files.set("replications-series.csv", replicationsSeriesCsv(summed));
  }
  return files;
}
