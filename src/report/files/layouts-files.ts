/** All files of a layout study's report. */
import type { PlantDrawing } from "../../analysis/plant-drawing.ts";
import type { LayoutStudy } from "../../study/layouts/layout-results.ts";
import type { TacticCurve } from "../../study/results.ts";
import { drawingFiles, refusalOf } from "../drawing/drawing.ts";
import { layoutsTold } from "../layouts/because-text.ts";
import { doesText, titledLayouts } from "../layouts/layout-words.ts";
import { layoutsMarkdown } from "../layouts/layouts-markdown.ts";
import { layoutsCsv } from "../layouts/layouts-table.ts";
import { luckCsv } from "../luck/luck-table.ts";
import { json } from "../text/json.ts";
import { oneLine } from "../text/text-width.ts";
import { paintInto } from "./painted.ts";
import type { ReportOptions } from "./report-options.ts";

export interface StudiedLayouts {
  readonly study: LayoutStudy;
  /** By the id of the layout: its scenario as text, and what a drawing of it shows. */
  readonly scenarios: ReadonlyMap<string, string>;
  readonly drawings: ReadonlyMap<string, PlantDrawing>;
  readonly curves: readonly TacticCurve[];
}

/** @returns contents by file name */
export async function layoutsFiles(
  { study, scenarios, drawings, curves }: StudiedLayouts,
  { charts, source }: ReportOptions,
): Promise<Map<string, string | Uint8Array>> {
  const files = new Map<string, string | Uint8Array>();
  const links = await paintInto(files, charts, ({ layoutsPictures }) => layoutsPictures(study, curves));
  for (const [id, text] of scenarios) files.set(`${id}.yaml`, `${heading(study, id)}${text}`);
  const drawn = charts ? titledLayouts(study, drawings) : new Map<string, PlantDrawing>();
  for (const [name, content] of await drawingFiles(drawn)) files.set(name, content);
  const undrawn = new Map(
    [...drawn].flatMap(([id, drawing]): [string, string][] => {
      const refusal = refusalOf(drawing);
      return refusal === null ? [] : [[id, refusal]];
    }),
  );
  files.set("report.md", layoutsMarkdown(study, links, { files: new Set(files.keys()), undrawn }));
  if (source !== undefined)
    files.set("report.html", (await import("../page/study-pages.ts")).layoutsPage(study, scenarios, source));
  if (study.replications !== undefined) files.set("differences.csv", luckCsv(study.replications));
  files.set("layouts.csv", layoutsCsv(study));
  files.set("layouts.json", json("layouts", layoutsTold(study)));
  return files;
}

/** What the scenario is, for whoever opens it without the report beside it. */
function heading({ title, line, layouts }: LayoutStudy, id: string): string {
  const layout = layouts.find((one) => one.id === id);
  const does = layout === undefined ? "" : doesText(layout);
  return [
    `# Made by fillfront layouts from: ${oneLine(title)}`,
    `# The line ${oneLine(line)} as ${oneLine(id)}: ${oneLine(does)}.`,
    "# The report it lies with is replaced whole: copy this file before changing it.",
    "",
  ].join("\n");
}
