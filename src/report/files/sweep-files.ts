/** All files of a sweep's report. */
import type { Sweep } from "../../study/sweep/sweep-results.ts";
import { sweepColumns, sweepMarkdown } from "../sweep/sweep-report.ts";
import { json } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

/** @returns contents by file name; without pictures of a part, which is there to be joined with others */
export async function sweepFiles(sweep: Sweep, { charts }: ReportOptions): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts && sweep.shard === null, ({ sweepPictures }) => sweepPictures(sweep));
  files.set("report.md", sweepMarkdown(sweep, links));
  files.set("sweep.csv", csvTable(sweepColumns(sweep), sweep.points));
  files.set("sweep.json", json("sweep", sweep));
  return files;
}
