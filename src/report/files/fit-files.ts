/** All files of a fit's report. */
import type { FitDone } from "../../study/fit/fit-results.ts";
import { fitCsv, fitMarkdown } from "../fit/fit-report.ts";
import { json } from "../text/json.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

/** @returns contents by file name */
export async function fitFiles(
  { fit, curves, scenario }: FitDone,
  { charts }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ fitPictures }) => fitPictures(fit, curves));
  files.set("report.md", fitMarkdown(fit, links));
  files.set("fit.csv", fitCsv(fit));
  files.set("fit.json", json("fit", fit));
  files.set("fitted.yaml", scenario);
  return files;
}
