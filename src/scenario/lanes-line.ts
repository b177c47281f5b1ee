/** Lanes: which come in and which go out, and their belts. */
import { withoutFactors } from "../quantity/counts.ts";
import { readBelt } from "./belts.ts";
import { checkCollected, readNames, readReturn } from "./chain-line.ts";
import { isStated, type Reading } from "./reading.ts";
import type { References } from "./references.ts";
import type { LanesLine } from "./scenario.ts";
import type { RawLanes, RawScenario } from "./shapes.ts";

/** @returns `null` if a belt has a fault */
export function readLanes(
  id: string,
  line: RawLanes,
  raw: RawScenario,
  references: References,
  reading: Reading,
): LanesLine | null {
  const path = ["lines", id];
  const { findings, root } = reading;
  readNames(line.from, [...path, "from"], references.chainSource, reading);
  const outgoing = readNames(line.to, [...path, "to"], references.chainConsumers, reading).size;
  const belt = readBelt(line.belt, [...path, "belt"], reading);
  const branch = line.branch === undefined ? belt : readBelt(line.branch, [...path, "branch"], reading);
  checkCollected(line, { kind: "stop" }, raw, path, reading);
  const { from, to, ways = 3 } = line;
  const drawn = { id, layout: "lanes" as const, from, to, ways };
  if (withoutFactors(outgoing, ways) !== 1) {
    const back = readReturn(line, belt, path, reading);
    if (belt === undefined || branch === undefined || back === null) return null;
    return { ...drawn, belt, branch, return: back };
  }
  // With a consumer unknown, how many there are is unknown too.
  if (isStated(root, path, "return") && !findings.damaged([...path, "to"]) && !findings.damaged([...path, "ways"])) {
    findings.report("lanes-return", { count: String(outgoing) }, [...path, "return"], "key");
  }
  return belt === undefined || branch === undefined ? null : { ...drawn, belt, branch, return: null };
}
