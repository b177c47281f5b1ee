/** All files of a report of short feeds, or of a dip. */
import type { Dip, DipCurve, Shortage } from "../../study/shortage/shortage-results.ts";
import { dipColumns, dipMarkdown } from "../shortage/dip-report.ts";
import { variantsTold } from "../shortage/shortage-figures.ts";
import { shortageMarkdown } from "../shortage/shortage-report.ts";
import { levelRows, shortageColumns } from "../shortage/shortage-table.ts";
import { json } from "../text/json.ts";
import { csvTable } from "../text/study-table.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

/**
 * @param texts the file at each level, for the page
 * @returns contents by file name
 */
export async function shortageFiles(
  shortage: Shortage,
  { charts, source }: ReportOptions,
  texts: ReadonlyMap<string, string> = new Map(),
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ shortagePictures }) => shortagePictures(shortage));
  files.set("report.md", shortageMarkdown(shortage, links));
  if (source !== undefined)
    files.set("report.html", (await import("../page/study-pages.ts")).shortagePage(shortage, texts, source));
  files.set("shortage.csv", csvTable(shortageColumns(shortage), levelRows(shortage)));
  files.set("shortage.json", json("shortage", variantsTold(shortage)));
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
  files.set("dip.json", json("dip", variantsTold(dip)));
  return files;
}
