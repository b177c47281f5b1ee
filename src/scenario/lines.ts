/** Lines, each layout in a file of its own, and what all of them together may hold. */

import { withoutFactors } from "../quantity/counts.ts";
import { readBelt } from "./belts.ts";
import { checkCollected, checkCollecting, readChain, readNames, readReturn } from "./chain-line.ts";
import { readCustom } from "./custom-line.ts";
import { MAX_BELT_ITEMS_IN_ALL, MAX_CHAIN_ELEMENTS, MAX_CUSTOM_ELEMENTS } from "./file-limits.ts";
import { inFileOrder, isStated, type Reading } from "./reading.ts";
import { createReferences, type References } from "./references.ts";
import type { LanesLine, Line, LoopLine, TreeLine } from "./scenario.ts";
import type { RawChain, RawLanes, RawLoop, RawScenario, RawTree } from "./shapes.ts";

/** Lines with a fault are left out. */
export function readLines(raw: RawScenario, reading: Reading): Line[] {
  const references = createReferences(reading);
  const lines: Line[] = [];
  const elementsOf = createCount(reading);
  let elements = 0;
  for (const [id, line] of inFileOrder(reading.root, ["lines"], raw.lines)) {
    if (line.layout === "custom") {
      const read = readCustom(id, line, references, reading);
      if (read !== null) lines.push(read);
      continue;
    }
    const [sources, consumers] = [elementsOf(line.from), elementsOf(line.to)];
    elements += 3 * (line.layout === "lanes" ? sources * consumers : sources + consumers);
    // Not even looked at: a short file may list every machine in every line.
    if (elements > MAX_CHAIN_ELEMENTS) continue;
    const read = readLine(id, line, raw, references, reading);
    if (read !== null) lines.push(read);
  }
  if (elements > MAX_CHAIN_ELEMENTS) {
    const args = { found: String(elements), limit: String(MAX_CHAIN_ELEMENTS), what: "dividers, merges and belts" };
    reading.findings.report("too-many", args, ["lines"]);
  }
  references.reportUnusedFeeds(raw);
  checkSize(raw, lines, reading);
  return lines;
}

function readLine(
  id: string,
  line: RawChain | RawTree | RawLoop | RawLanes,
  raw: RawScenario,
  references: References,
  reading: Reading,
): Line | null {
  switch (line.layout) {
    case "chain":
      return readChain(id, line, raw, references, reading);
    case "tree":
    case "loop":
      return readShared(id, line, raw, references, reading);
    case "lanes":
      return readLanes(id, line, raw, references, reading);
  }
}

/** Counts the elements of names, a group's machines each by itself. */
function createCount({ names }: Reading): (listed: readonly string[]) => number {
  return (listed) => listed.reduce((count, name) => count + Math.max(1, names.get(name)?.ids.length ?? 0), 0);
}

/**
 * Items on belts, were all of them full: a stretch of the through belt and a branch for each consumer, a stretch of the
 * collecting belt for each source, the return, and the surge buffers.
 */
function checkSize(raw: RawScenario, lines: readonly Line[], reading: Reading): void {
  const { findings, names, root } = reading;
  let elements = 0;
  let items = 0;
  const elementsOf = createCount(reading);
  for (const [, { surge = 0 }] of inFileOrder(root, ["feeds"], raw.feeds)) items += surge;
  for (const line of lines) {
    if (line.layout === "custom") {
      elements += line.dividers.length + line.merges.length + line.belts.length;
      for (const { belt } of line.belts) items += belt?.capacity ?? 0;
      continue;
    }
    // How many belts the other layouts have hangs on needs and dividers; the network is looked at later.
    if (line.layout !== "chain") continue;
    const { belt, branch, collect, end } = line;
    const past = end.kind === "stop" ? 0 : 1;
    items += (elementsOf(line.to) + past) * ((belt?.capacity ?? 0) + (branch?.capacity ?? 0));
    if (end.kind === "return" || line.from.some((name) => names.get(name)?.kind !== "feed")) {
      items += elementsOf(line.from) * ((collect?.capacity ?? 0) + (branch?.capacity ?? 0));
    }
    if (end.kind === "return") items += end.belt.capacity;
  }
  if (elements > MAX_CUSTOM_ELEMENTS) {
    const args = { found: String(elements), limit: String(MAX_CUSTOM_ELEMENTS), what: "dividers, merges and belts" };
    findings.report("too-many", args, ["lines"]);
  }
  if (items > MAX_BELT_ITEMS_IN_ALL) {
    const args = {
      found: String(items),
      limit: String(MAX_BELT_ITEMS_IN_ALL),
      what: "items on all belts and in surge buffers together",
    };
    findings.report("too-many", args, ["lines"]);
  }
}

/** @returns `null` if a belt has a fault */
function readLanes(
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

/** @returns `null` if a belt has a fault */
function readShared(
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
