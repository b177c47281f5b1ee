/** All files of a report, from a result and its series. */
import type { Result } from "../analysis/result.ts";
import type { Series } from "../analysis/series.ts";
import { resultJson } from "./json.ts";
import { machinesCsv } from "./machines-csv.ts";
import { reportMarkdown } from "./markdown.ts";
import { seriesCsv } from "./series-csv.ts";

export interface ReportOptions {
  /** Whether to paint pictures; without them a report takes no time. */
  readonly charts: boolean;
}

/** @returns contents by file name */
export async function reportFiles(
  result: Result,
  series: Series,
  { charts }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = [];
  if (charts) {
    // Loaded only now, since the painting library takes its time.
    const { paint, pictures } = await import("./pictures/pictures.ts");
    for (const picture of pictures(result, series)) {
      files.set(picture.file, paint(picture));
      links.push(picture);
    }
  }
  files.set("report.md", reportMarkdown(result, links));
  files.set("result.json", resultJson(result));
  files.set("machines.csv", machinesCsv(result));
  files.set("series.csv", seriesCsv(series));
  return files;
}
