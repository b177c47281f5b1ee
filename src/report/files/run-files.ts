/** All files of a run's report, from a result and its series. */
import type { Result } from "../../analysis/result.ts";
import type { Series } from "../../analysis/series.ts";
import type { ReplicationsSummary } from "../../study/replications/replications.ts";
import { replicationsCsv, replicationsSeriesCsv } from "../replications/replication-report.ts";
import { machineColumns } from "../run/machines-table.ts";
import { reportMarkdown, seriesCsv } from "../run/run-report.ts";
import { resultJson } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

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
