/** All files of a search for the best start. */
import type { BestFound } from "../../study/best/best.ts";
import { paintInto } from "../chart/painted.ts";
import { comparisonCsv } from "../comparison/comparison-csv.ts";
import type { ReportOptions } from "../run/run-report.ts";
import { json } from "../text/json.ts";
import { placementsCsv } from "./best-csv.ts";
import { bestMarkdown, STARTS_FILE } from "./best-markdown.ts";

/** @returns contents by file name */
export async function bestFiles(
  { study, comparison, curves, scenarioText }: BestFound,
  { charts }: Pick<ReportOptions, "charts">,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ bestPictures }) => bestPictures(study, comparison, curves));
  files.set("report.md", bestMarkdown(study, links));
  files.set(STARTS_FILE, scenarioText);
  files.set("starts.csv", comparisonCsv(comparison));
  if (study.placements !== null) files.set("placements.csv", placementsCsv(study.placements));
  files.set("best.json", json("best", study));
  return files;
}
