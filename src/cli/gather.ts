/** fillfront gather: the parts of a sweep, run apart from one another, joined to one report. */
import { stat } from "node:fs/promises";
import { join } from "node:path";
import {
  formatted,
  type Gathered,
  gatherSweep,
  readSweep,
  type Sweep,
  type SweepHead,
  sweepFiles,
  sweepText,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { textOf } from "./input.ts";
import { putReport, reportFolder, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface GatherOptions {
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
}

export async function gather(places: readonly string[], options: GatherOptions, terminal: Terminal): Promise<void> {
  const parts: Sweep[] = [];
  for (const place of places) parts.push(await partAt(place));
  const gathered = gatherSweep(parts);
  if (!gathered.ok) throw new RefusedError(refusal(gathered, places));
  const { sweep } = gathered;
  // The ending of a file's name is left off there.
  const folder = await reportFolder(`${sweep.scenario}.json`, options, "-sweep");
  if (folder !== null) terminal.progress("writing the report");
  const put = await putReport(folder, () => sweepFiles(sweep, { charts: options.charts }));
  if (options.json) await terminal.printJson(formatted("sweep", sweep));
  else await terminal.print(sweepText(sweep, terminal.style));
  tellPut(put, terminal);
}

const MOST_BYTES = 64 * 2 ** 20;

/** @param place a report folder of a sweep, or the sweep.json in one */
async function partAt(place: string): Promise<Sweep> {
  const isFolder = (await stat(place).catch(() => null))?.isDirectory() ?? false;
  const expected = "expected the report folder of a sweep, or its sweep.json";
  const text = await textOf(isFolder ? join(place, "sweep.json") : place, {
    what: "a part of a sweep",
    expected,
    most: MOST_BYTES,
  });
  const part = readSweep(text);
  if (part === null) throw new RefusedError(`${place}: no part of a sweep; expected what fillfront sweep has written`);
  return part;
}

const DIFFERENCES: Readonly<Record<keyof SweepHead, string>> = {
  made_by: "was made by another version of the program",
  title: "has another title",
  scenario: "is of a file of another name",
  scenario_sha256: "is of a file with other text",
  seed: "has another seed",
  horizon_min: "has another horizon",
  quantities: "varies other quantities or values",
  of_points: "has another number of points",
};

const MOST_NAMED = 8;

function refusal(gathered: Extract<Gathered, { ok: false }>, places: readonly string[]): string {
  if (gathered.why === "missing") {
    const { points, shards } = gathered;
    const named = (list: readonly (number | string)[]): string =>
      list.length > MOST_NAMED ? `${list.slice(0, MOST_NAMED).join(", ")}, …` : list.join(", ");
    const which = `${points.length === 1 ? "point" : "points"} ${named(points)}`;
    if (shards.length > 0) return `${which} missing: gather also --shard ${named(shards)}`;
    return `${which} missing: a part was not given, or was stopped before it was complete`;
  }
  const place = places[gathered.part] ?? "";
  if (gathered.why === "contradicting") {
    return `${place}: point ${gathered.point} has other figures there than in a part before it; run the sweep again with one version of the program`;
  }
  return `${place} is a part of another sweep than ${places[0]}: it ${DIFFERENCES[gathered.what]}`;
}
