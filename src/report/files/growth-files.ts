/** All files of a growth study's report. */
import type { Growth } from "../../study/results.ts";
import { GROWTH_COLUMNS, growthMarkdown } from "../growth/growth-report.ts";
import { json } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

/** @returns contents by file name */
export async function growthFiles(
  growth: Growth,
  { charts }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ growthPictures }) => growthPictures(growth));
  files.set("report.md", growthMarkdown(growth, links));
  files.set("growth.csv", csvTable(GROWTH_COLUMNS, growth.sizes));
  files.set("growth.json", json("grow", growth));
  return files;
}
