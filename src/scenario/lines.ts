/** Lines: chains here, custom ones in a file of their own, and what all of them together may hold. */
import { readBelt } from "./belts.ts";
import { readCustom } from "./custom-line.ts";
import { type Node, nodeAt } from "./document.ts";
import type { Path } from "./finding.ts";
import { MAX_BELT_ITEMS_IN_ALL, MAX_CUSTOM_ELEMENTS } from "./limits.ts";
import { inFileOrder, type Reading } from "./reading.ts";
import { createReferences, type References } from "./references.ts";
import type { ChainLine, Line } from "./scenario.ts";
import type { RawChain, RawScenario } from "./shapes.ts";

/** Lines with a fault are left out. */
export function readLines(raw: RawScenario, reading: Reading): Line[] {
  const references = createReferences(reading);
  const lines: Line[] = [];
  for (const [id, line] of inFileOrder(reading.root, ["lines"], raw.lines)) {
    const read =
      line.layout === "chain" ? readChain(id, line, references, reading) : readCustom(id, line, references, reading);
    if (read !== null) lines.push(read);
  }
  references.reportUnusedFeeds(raw);
  checkSize(lines, reading);
  return lines;
}

function readChain(id: string, raw: RawChain, references: References, reading: Reading): ChainLine | null {
  const path = ["lines", id];
  const { root, findings } = reading;
  const feeds = new Set<string>();
  for (const [index, name] of raw.from.entries()) {
    const at = elementPath(root, [...path, "from"], index);
    if (feeds.has(name)) findings.report("listed-twice", { found: name }, at);
    else references.chainSource(name, at);
    feeds.add(name);
  }
  const consumers = new Set<string>();
  for (const [index, name] of raw.to.entries()) {
    const at = elementPath(root, [...path, "to"], index);
    const ids = references.chainConsumers(name, at);
    if (ids.some((one) => consumers.has(one))) findings.report("listed-twice", { found: name }, at);
    for (const one of ids) consumers.add(one);
  }
  const belt = readBelt(raw.belt, [...path, "belt"], reading);
  const branch = raw.branch === undefined ? belt : readBelt(raw.branch, [...path, "branch"], reading);
  if (belt === undefined || branch === undefined) return null;
  return {
    id,
    layout: "chain",
    from: raw.from,
    to: raw.to,
    belt,
    branch,
    dividers: raw.dividers ?? "even",
    end: "stop",
  };
}

/** A list of one may be written without brackets. */
function elementPath(root: Node, path: Path, index: number): Path {
  return nodeAt(root, path)?.kind === "list" ? [...path, index] : path;
}

function checkSize(lines: readonly Line[], { findings, names }: Reading): void {
  let elements = 0;
  let items = 0;
  for (const line of lines) {
    if (line.layout === "custom") {
      elements += line.dividers.length + line.merges.length + line.belts.length;
      for (const { belt } of line.belts) items += belt?.capacity ?? 0;
    } else {
      const consumers = line.to.reduce((count, name) => count + Math.max(1, names.get(name)?.ids.length ?? 0), 0);
      items += consumers * ((line.belt?.capacity ?? 0) + (line.branch?.capacity ?? 0));
    }
  }
  if (elements > MAX_CUSTOM_ELEMENTS) {
    const args = { found: String(elements), limit: String(MAX_CUSTOM_ELEMENTS), what: "dividers, merges and belts" };
    findings.report("too-many", args, ["lines"]);
  }
  if (items > MAX_BELT_ITEMS_IN_ALL) {
    const args = { found: String(items), limit: String(MAX_BELT_ITEMS_IN_ALL), what: "items on all belts together" };
    findings.report("too-many", args, ["lines"]);
  }
}
