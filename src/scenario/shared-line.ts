/** Trees and return loops: what they collect, whom they share it out to, and their belts. */
import { readBelt } from "./belts.ts";
import { checkCollected, checkCollecting, readNames, readReturn } from "./chain-line.ts";
import type { Reading } from "./reading.ts";
import type { References } from "./references.ts";
import type { LoopLine, TreeLine } from "./scenario.ts";
import type { RawLoop, RawScenario, RawTree } from "./shapes.ts";

/** @returns `null` if a belt has a fault */
export function readShared(
  id: string,
  line: RawTree | RawLoop,
  raw: RawScenario,
  references: References,
  reading: Reading,
): TreeLine | LoopLine | null {
  const path = ["lines", id];
  const sources = readNames(line.from, [...path, "from"], references.chainSource, reading);
  readNames(line.to, [...path, "to"], references.chainConsumers, reading);
  const belt = readBelt(line.belt, [...path, "belt"], reading);
  const branch = line.branch === undefined ? belt : readBelt(line.branch, [...path, "branch"], reading);
  const collect = line.collect === undefined ? belt : readBelt(line.collect, [...path, "collect"], reading);
  const back = line.layout === "loop" ? readReturn(line, belt, path, reading) : null;
  checkCollecting(line, sources, line.layout === "loop", path, reading);
  checkCollected(line, { kind: "stop" }, raw, path, reading);
  if (belt === undefined || branch === undefined || collect === undefined) return null;
  const { from, to, merges = "even", ways = 3 } = line;
  const shared = { id, from, to, belt, branch, collect, merges, ways };
  if (line.layout === "tree") return { ...shared, layout: "tree" };
  return back === null ? null : { ...shared, layout: "loop", return: back };
}
