/** All files of a growth study's report. */
import type { Growth } from "../../study/results.ts";
import { json } from "../json.ts";
import type { ReportOptions } from "../report.ts";
import { growthCsv } from "./growth-csv.ts";
import { growthMarkdown } from "./growth-markdown.ts";

/** @returns contents by file name */
export async function growthFiles(
  growth: Growth,
  { charts }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = [];
  if (charts) {
    // Loaded only now, since the painting library takes its time.
    const { growthPictures, paint } = await import("../pictures/pictures.ts");
    for (const picture of growthPictures(growth)) {
      files.set(picture.file, paint(picture));
      links.push(picture);
    }
  }
  files.set("report.md", growthMarkdown(growth, links));
  files.set("growth.csv", growthCsv(growth));
  files.set("growth.json", json(growth));
  return files;
}
