/** fillfront gather: the parts of a study, run apart from one another, joined to one report. */
import { stat } from "node:fs/promises";
import { join } from "node:path";
import { type Gathered, gatherSweep, type Part, readPart, readSweep, type Sweep, type SweepHead } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { type GatherOptions, named } from "./gather-request.ts";
import { textOf } from "./input.ts";
import type { Terminal } from "./terminal.ts";

/** A part's place, as stated, and what it holds. */
type Found = { readonly sweep: Sweep; readonly part?: never } | { readonly part: Part; readonly sweep?: never };

export async function gather(places: readonly string[], options: GatherOptions, terminal: Terminal): Promise<void> {
  const found: Found[] = [];
  for (const place of places) found.push(await partAt(place));
  const parts = found.flatMap(({ part }) => part ?? []);
  const sweeps = found.flatMap(({ sweep }) => sweep ?? []);
  if (parts.length > 0 && sweeps.length > 0) {
    const other = places[found.findIndex(({ sweep }) => (sweep !== undefined) !== (found[0]?.sweep !== undefined))];
    throw new RefusedError(`${other} is a part of another study than ${places[0]}: gather them one by one`);
  }
  if (parts.length > 0) {
    const { gatherParts } = await import("./gather-parts.ts");
    await gatherParts(parts, places, options, terminal);
    return;
  }
  const gathered = gatherSweep(sweeps);
  if (!gathered.ok) throw new RefusedError(refusal(gathered, places));
  const { reportSweep } = await import("./put-sweep.ts");
  await reportSweep(gathered.sweep, options, terminal);
}

const MOST_BYTES = 64 * 2 ** 20;
const FILES = ["sweep.json", "part.json"] as const;

/** @param place a report folder of a part, or the file in one */
async function partAt(place: string): Promise<Found> {
  const isFolder = (await stat(place).catch(() => null))?.isDirectory() ?? false;
  const expected = `expected the report folder of a sweep or of a part, or its ${FILES.join(" or ")}`;
  const isThere = async (file: string): Promise<boolean> => (await stat(file).catch(() => null)) !== null;
  const [first, second] = FILES.map((name) => join(place, name));
  const file = isFolder ? ((await isThere(second ?? "")) ? second : first) : place;
  const text = await textOf(file ?? place, { what: "a part", expected, most: MOST_BYTES });
  const sweep = readSweep(text);
  if (sweep !== null) return { sweep };
  const part = readPart(text);
  if (part !== null) return { part };
  throw new RefusedError(
    `${place}: no part of a sweep, of replications or of a comparison; expected what fillfront has written with --shard`,
  );
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

function refusal(gathered: Extract<Gathered, { ok: false }>, places: readonly string[]): string {
  if (gathered.why === "missing") {
    const { points, shards } = gathered;
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
