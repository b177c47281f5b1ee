/** All files of a short-feed study's report. */
import type { Dip, DipCurve, Shortage } from "../../study/shortage/shortage-results.ts";
import { paintInto } from "../chart/painted.ts";
import type { ReportOptions } from "../run/run-report.ts";
import { json } from "../text/json.ts";
import { dipCsv } from "./dip-csv.ts";
import { dipMarkdown } from "./dip-markdown.ts";
import { shortageCsv } from "./shortage-csv.ts";
import { shortageMarkdown } from "./shortage-markdown.ts";

/** @returns contents by file name */
export async function shortageFiles(
  shortage: Shortage,
  { charts }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ shortagePictures }) => shortagePictures(shortage));
  files.set("report.md", shortageMarkdown(shortage, links));
  files.set("shortage.csv", shortageCsv(shortage));
  files.set("shortage.json", json("shortage", shortage));
  return files;
}

/** @returns contents by file name */
export async function dipFiles(
  dip: Dip,
  curves: readonly DipCurve[],
  { charts }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ dipPictures }) => dipPictures(dip, curves));
  files.set("report.md", dipMarkdown(dip, links));
  files.set("dip.csv", dipCsv(dip));
  files.set("dip.json", json("dip", dip));
  return files;
}
