/** A chain: what it collects, whom it passes, its belts, and what its far end does. */
import { readBelt } from "./belts.ts";
import { type Node, nodeAt } from "./document.ts";
import type { Path } from "./finding.ts";
import { isStated, ownValue, type Reading } from "./reading.ts";
import { CHAIN_ENDS, type References } from "./references.ts";
import type { BeltOrNone, ChainEnd, ChainLine } from "./scenario.ts";
import type { RawChain, RawScenario } from "./shapes.ts";

/** @returns `null` if a belt or the end has a fault */
export function readChain(
  id: string,
  line: RawChain,
  raw: RawScenario,
  references: References,
  reading: Reading,
): ChainLine | null {
  const path = ["lines", id];
  const sources = readNames(line.from, [...path, "from"], references.chainSource, reading);
  const consumers = readNames(line.to, [...path, "to"], references.chainConsumers, reading);
  const belt = readBelt(line.belt, [...path, "belt"], reading);
  const branch = line.branch === undefined ? belt : readBelt(line.branch, [...path, "branch"], reading);
  const collect = line.collect === undefined ? belt : readBelt(line.collect, [...path, "collect"], reading);
  const end = readEnd(line, belt, consumers, path, references, reading);
  checkCollecting(line, sources, path, reading);
  checkCollected(line, end, raw, path, reading);
  if (belt === undefined || branch === undefined || collect === undefined || end === null) return null;
  return {
    id,
    layout: "chain",
    from: line.from,
    to: line.to,
    belt,
    branch,
    collect,
    dividers: line.dividers ?? "even",
    merges: line.merges ?? "even",
    end,
  };
}

/** @returns the elements' own ids; a name's elements may be listed once */
function readNames(
  listed: readonly string[],
  path: Path,
  idsOf: (name: string, path: Path) => readonly string[],
  { root, findings, names }: Reading,
): Set<string> {
  const ids = new Set<string>();
  for (const [index, name] of listed.entries()) {
    const at = elementPath(root, path, index);
    if (names.get(name)?.ids.some((one) => ids.has(one))) findings.report("listed-twice", { found: name }, at);
    else for (const one of idsOf(name, at)) ids.add(one);
  }
  return ids;
}

/** A list of one may be written without brackets. */
function elementPath(root: Node, path: Path, index: number): Path {
  return nodeAt(root, path)?.kind === "list" ? [...path, index] : path;
}

function readEnd(
  line: RawChain,
  belt: BeltOrNone | undefined,
  consumers: ReadonlySet<string>,
  path: Path,
  references: References,
  reading: Reading,
): ChainEnd | null {
  const { findings, names, root } = reading;
  const at = [...path, "end"];
  if (findings.damaged(at) || findings.damaged([...path, "return"])) return null;
  const { end = "stop" } = line;
  if (line.end !== undefined && CHAIN_ENDS.includes(end) && names.get(end)?.kind === "outlet") {
    findings.report("end-ambiguous", { found: end }, at);
    return null;
  }
  if (end !== "return" && isStated(root, path, "return")) {
    findings.report("needs-key", { found: "return", needed: "end: return" }, [...path, "return"], "key");
  }
  if (end === "stop") return { kind: "stop" };
  if (end === "return") {
    const own = line.return === undefined ? belt : readBelt(line.return, [...path, "return"], reading);
    if (own === null) findings.report("return-missing", {}, at);
    return own ? { kind: "return", belt: own } : null;
  }
  const outlet = references.chainEnd(end, at);
  if (outlet === null) return null;
  if (consumers.has(outlet)) findings.report("end-listed", { found: outlet }, at);
  return { kind: "outlet", outlet };
}

/** What is stated of the collecting belt means nothing where nothing is collected on one. */
function checkCollecting(line: RawChain, sources: ReadonlySet<string>, path: Path, { findings, names }: Reading): void {
  // With a source unknown, or the end, this would only echo it.
  if (findings.damaged([...path, "from"]) || findings.damaged([...path, "end"])) return;
  const collects = sources.size > 1 && [...sources].some((id) => names.get(id)?.kind === "machine");
  // A return belt joins what comes from the sources: from one feed without a belt.
  const entersByBelt = line.end === "return" && (sources.size > 1 || isMachine([...sources][0]));
  const report = (key: string): void => findings.report("nothing-joins", { found: key }, [...path, key], "key");
  if (line.collect !== undefined && !collects && !entersByBelt) report("collect");
  if (line.merges !== undefined && !collects) report("merges");

  function isMachine(id: string | undefined): boolean {
    return id !== undefined && names.get(id)?.kind === "machine";
  }
}

/** Each machine that is collected makes something that somebody on the line takes. */
function checkCollected(line: RawChain, end: ChainEnd | null, raw: RawScenario, path: Path, reading: Reading): void {
  const { findings, root } = reading;
  const ends = end?.kind === "outlet" ? [end.outlet] : [];
  const taken = new Set<string>();
  for (const name of [...line.to, ...ends]) {
    const kinds = kindsOf(name, "takes", raw, reading);
    if (kinds === null) return;
    for (const kind of kinds) taken.add(kind);
  }
  if (end === null || findings.damaged([...path, "to"])) return;
  for (const [index, name] of line.from.entries()) {
    const makes = kindsOf(name, "makes", raw, reading);
    if (makes === null || makes.length === 0 || makes.some((kind) => taken.has(kind))) continue;
    const args = { found: name, makes: makes.join(", "), takes: [...taken].join(", ") };
    findings.report("nothing-collected", args, elementPath(root, [...path, "from"], index));
  }
}

/** What a machine, group or outlet takes or makes, a feed nothing; `null` if the file does not say it well. */
function kindsOf(
  name: string,
  what: "takes" | "makes",
  raw: RawScenario,
  { names, findings }: Reading,
): readonly string[] | null {
  const known = names.get(name);
  const [section, id] = known?.path ?? [];
  if (known === undefined || typeof id !== "string") return null;
  if (section === "outlets") {
    const item = ownValue(raw.outlets, id)?.item;
    return item === undefined || findings.damaged(known.path) ? null : [item];
  }
  if (section !== "machines") return [];
  const machine = ownValue(raw.machines, id);
  return machine === undefined || findings.damaged([...known.path, what]) ? null : Object.keys(machine[what]);
}
