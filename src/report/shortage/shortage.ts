/** All files of a short-feed study's report. */
import type { Dip, DipCurve, Shortage } from "../../study/shortage/shortage-results.ts";
import { paintInto } from "../chart/painted.ts";
import type { ReportOptions } from "../run/run-report.ts";
import { json } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { dipMarkdown } from "./dip-markdown.ts";
import { dipColumns } from "./dip-table.ts";
import { shortageMarkdown } from "./shortage-markdown.ts";
import { levelRows, shortageColumns } from "./shortage-table.ts";

/** @returns contents by file name */
export async function shortageFiles(
  shortage: Shortage,
  { charts }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ shortagePictures }) => shortagePictures(shortage));
  files.set("report.md", shortageMarkdown(shortage, links));
  files.set("shortage.csv", csvTable(shortageColumns(shortage), levelRows(shortage)));
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
  files.set("dip.csv", csvTable(dipColumns(dip), dip.results));
  files.set("dip.json", json("dip", dip));
  return files;
}
