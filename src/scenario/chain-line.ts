/** A chain: what it collects, whom it passes, its belts, and what its far end does. */
import { readBelt } from "./belts.ts";
import { type Node, nodeAt } from "./document.ts";
import type { Path } from "./file-finding.ts";
import { inFileOrder, isStated, ownValue, type Reading } from "./reading.ts";
import { CHAIN_ENDS, type References } from "./references.ts";
import type { BeltOrNone, BeltSpec, ChainEnd, ChainLine } from "./scenario.ts";
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
  checkCollecting(line, sources, line.end === "return", path, reading);
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
export function readNames(
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
  if (end === "return") {
    const own = line.return === undefined ? belt : readBelt(line.return, [...path, "return"], reading, "");
    if (own === null) findings.report("return-missing", {}, at);
    return own ? { kind: "return", belt: own } : null;
  }
  const outlet = end === "stop" ? end : references.chainEnd(end, at);
  if (outlet === null) return null;
  if (isStated(root, path, "return")) {
    findings.report("needs-key", { found: "return", needed: "end: return" }, [...path, "return"], "key");
  }
  if (end === "stop") return { kind: end };
  if (consumers.has(outlet)) findings.report("end-listed", { found: outlet }, at);
  return { kind: "outlet", outlet };
}

/** Of a layout that returns something by itself; `null` where there is a fault. */
export function readReturn(
  line: Pick<RawChain, "return">,
  belt: BeltOrNone | undefined,
  path: Path,
  reading: Reading,
): BeltSpec | null {
  const own = line.return === undefined ? belt : readBelt(line.return, [...path, "return"], reading, "");
  if (own === null) reading.findings.report("return-missing", {}, [...path, "layout"]);
  return own ?? null;
}

/** What is stated of the collecting belt means nothing where nothing is collected on one. */
export function checkCollecting(
  line: Pick<RawChain, "collect" | "merges">,
  sources: ReadonlySet<string>,
  isReturning: boolean,
  path: Path,
  { findings, names }: Reading,
): void {
  // With a source unknown, or the end, this would only echo it.
  if (findings.damaged([...path, "from"]) || findings.damaged([...path, "end"])) return;
  const feeds = [...sources].filter((id) => names.get(id)?.kind === "feed").length;
  const has = collectingOf(feeds, sources.size - feeds, isReturning);
  const report = (key: string): void => findings.report("nothing-joins", { found: key }, [...path, key], "key");
  if (line.collect !== undefined && !has.belt) report("collect");
  if (line.merges !== undefined && !has.merges) report("merges");
}

/**
 * Machines join others or feeds in merges on a collecting belt; feeds alone join without a belt. A return belt joins
 * what comes from there, which a single feed hands over without a belt.
 */
export function collectingOf(
  feeds: number,
  machines: number,
  isReturning: boolean,
): { belt: boolean; merges: boolean } {
  const merges = machines > 0 && feeds + machines > 1;
  return { merges, belt: merges || (isReturning && (machines > 0 || feeds > 1)) };
}

/** Each machine that is collected makes something that somebody on the line takes. */
export function checkCollected(
  line: Pick<RawChain, "from" | "to">,
  end: ChainEnd | null,
  raw: RawScenario,
  path: Path,
  reading: Reading,
): void {
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

/** What a machine, a group or an outlet takes, or the first two make; `null` if the file does not say it well. */
function kindsOf(
  name: string,
  what: "takes" | "makes",
  raw: RawScenario,
  { names, findings, root }: Reading,
): readonly string[] | null {
  const known = names.get(name);
  const [section, id] = known?.path ?? [];
  if (known === undefined || typeof id !== "string") return null;
  if (section === "outlets") {
    const item = ownValue(raw.outlets, id)?.item;
    if (item === undefined || findings.damaged(known.path)) return null;
    return what === "takes" ? [item] : [];
  }
  if (section !== "machines") return [];
  const machine = ownValue(raw.machines, id);
  return machine === undefined || findings.damaged([...known.path, what])
    ? null
    : inFileOrder(root, [...known.path, what], machine[what]).map(([item]) => item);
}
