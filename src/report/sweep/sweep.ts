/** All files of a sweep's report. */
import type { Sweep } from "../../study/sweep/sweep-results.ts";
import { paintInto } from "../chart/painted.ts";
import type { ReportOptions } from "../run/run-report.ts";
import { json } from "../text/json.ts";
import { sweepCsv } from "./sweep-csv.ts";
import { sweepMarkdown } from "./sweep-markdown.ts";

/** @returns contents by file name; without pictures of a part, which is there to be joined with others */
export async function sweepFiles(sweep: Sweep, { charts }: ReportOptions): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts && sweep.shard === null, ({ sweepPictures }) => sweepPictures(sweep));
  files.set("report.md", sweepMarkdown(sweep, links));
  files.set("sweep.csv", sweepCsv(sweep));
  files.set("sweep.json", json("sweep", sweep));
  return files;
}
