/** From the text of a scenario file to a `Scenario`, or to everything that is wrong with it. */
import { type LengthUnit, lengthUnitOf } from "../quantity/units.ts";
import { childOf, type DocumentOutcome, type Node, readDocument, type TextDocument } from "./document.ts";
import { completedDraft, type Open } from "./draft.ts";
import { readFeeds, readNeeds } from "./feeds.ts";
import { collectFindings, type FileFinding, type FileFindings, type Locate } from "./file-finding.ts";
import { MAX_SEED_LENGTH, MAX_TITLE_LENGTH } from "./file-limits.ts";
import { readFloor } from "./floor.ts";
import { readLimits } from "./hold-limits.ts";
import { openHorizon, statedHorizon } from "./horizon.ts";
import { checkItems } from "./items.ts";
import { readLines } from "./lines.ts";
import { readMachines } from "./machines.ts";
import { readMeans } from "./means.ts";
import { collectNames } from "./names.ts";
import { nodeOf, type Plain, withKey } from "./nodes.ts";
import { isPrintable, printable } from "./printable.ts";
import { readRandom } from "./random.ts";
import { readCosts } from "./read-costs.ts";
import { inFileOrder, type Reading, requireEntries, textAt } from "./reading.ts";
import { createReferences } from "./references.ts";
import type { Scenario } from "./scenario.ts";
import { type Setting, withSettings } from "./settings.ts";
import type { RawScenario } from "./shapes.ts";
import { checkStructure } from "./structure.ts";
import { type Tables, tableNamed, withTables } from "./tables.ts";
import { readTactics } from "./tactics.ts";

const DEFAULT_SEED = "1";

export type ReadOutcome =
  | {
      readonly ok: true;
      readonly scenario: Scenario;
      readonly warnings: readonly FileFinding[];
      /** For findings that are made later, of the network. */
      readonly locate: Locate;
    }
  | { readonly ok: false; readonly findings: readonly FileFinding[] };

export interface ReadOptions {
  /** The title of a scenario that states none, such as the file's name. */
  readonly name?: string;
  /** Tables that the file names in place of machines, by name. */
  readonly tables?: Tables;
}

/** @param text YAML 1.2 or JSON */
export function readScenario(text: string, options: ReadOptions = {}): ReadOutcome {
  return scenarioReader(text, options)([]);
}

/** Parses a file once, to be read with one set of values after another set in it. */
export function scenarioReader(text: string, options: ReadOptions = {}): (settings: readonly Setting[]) => ReadOutcome {
  const outcome = documentOf(text, options);
  return (settings) => (outcome.ok ? readSet(outcome.document, settings, options) : outcome);
}

function documentOf(text: string, { tables = NO_TABLES }: ReadOptions): DocumentOutcome {
  const outcome = readDocument(text);
  return outcome.ok ? withTables(outcome.document, tables, text.length) : outcome;
}

const NO_TABLES: Tables = new Map();

/** The table that a file takes its machines from, for whoever reads files; `null` where it takes none, or cannot be read. */
export function tableOf(text: string): string | null {
  // Most files name none, and are not to be read twice.
  if (!/\bfrom\b[^\n]*\.(?:csv|xlsx)\b/i.test(text)) return null;
  const outcome = readDocument(text);
  return outcome.ok ? tableNamed(outcome.document.root) : null;
}

export type DraftOutcome =
  | (Extract<ReadOutcome, { ok: true }> & { readonly open: Open })
  | Extract<ReadOutcome, { ok: false }>;

/**
 * A file that may leave open what is to be worked out (draft.ts); its scenario has stand-ins there.
 * @param options.wanted rates by kind, as a file would state them, in place of those that it does
 * @param options.belt as a file would state it, for lines that the file leaves open
 */
export function readDraft(
  text: string,
  options: ReadOptions & { readonly wanted?: ReadonlyMap<string, string>; readonly belt?: Plain } = {},
): DraftOutcome {
  const outcome = documentOf(text, options);
  if (!outcome.ok) return outcome;
  const { document } = outcome;
  const { root: given } = document;
  const wanted = nodeOf(Object.fromEntries(options.wanted ?? []), given.offset);
  const asked = given.kind === "map" && options.wanted !== undefined ? withKey(given, "wanted", wanted) : given;
  const { root, open } = completedDraft(asked, options.belt);
  const read = readSet({ ...document, root }, [], options);
  return read.ok ? { ...read, open } : read;
}

function readSet(document: TextDocument, settings: readonly Setting[], options: ReadOptions): ReadOutcome {
  const { locate } = document;
  const findings = collectFindings(locate, document.findings);
  const root = withSettings(document.root, settings, findings);
  const raw = checkStructure(root, findings);
  if (raw === null) return { ok: false, findings: findings.list() };

  const reading = { root, locate, findings, names: collectNames(root, locate, findings) };
  const scenario = buildScenario(raw, options.name ?? "", reading);
  if (findings.hasErrors()) return { ok: false, findings: findings.list() };
  return { ok: true, scenario, warnings: findings.list(), locate };
}

function buildScenario(raw: RawScenario, name: string, reading: Reading): Scenario {
  const { root, findings } = reading;
  for (const section of ["feeds", "machines", "lines"]) requireEntries(reading, [section], section);
  const tick = raw.tick ?? "auto";
  const floor = readFloor(raw);
  const machines = readMachines(raw, floor, reading);
  const lines = readLines(raw, reading);
  const feeds = readNeeds({ feeds: readFeeds(raw, reading), machines, lines }, reading);
  const scenario: Scenario = {
    title: readText(root, "title", MAX_TITLE_LENGTH, findings) ?? titleOf(name),
    ...(raw.horizon === undefined || raw.horizon === "auto" ? openHorizon(feeds) : statedHorizon(raw.horizon)),
    tickS: tick === "auto" ? tick : tick.mul(60n),
    seed: readText(root, "seed", MAX_SEED_LENGTH, findings) ?? DEFAULT_SEED,
    feeds,
    machines,
    lines,
    outlets: inFileOrder(root, ["outlets"], raw.outlets).map(([id, outlet]) => ({ id, item: outlet.item })),
    limits: readLimits(raw, reading),
    floor,
    lengthUnit: statedLengthUnit(root),
    random: readRandom(raw, reading),
    wanted: inFileOrder(root, ["wanted"], raw.wanted).map(([item, perMin]) => ({ item, perMin })),
    means: readMeans(raw.means, reading, createReferences(reading).machine),
    costs: readCosts(raw, reading),
    tactics: readTactics(raw, machines, lines, reading),
  };
  checkItems(raw, reading);
  return scenario;
}

/** The one that most quantities have; metres where there are as many of either. */
function statedLengthUnit(root: Node): LengthUnit {
  let feet = 0;
  const count = (node: Node): void => {
    if (node.kind === "scalar") {
      const unit = typeof node.value === "string" ? lengthUnitOf(node.text) : null;
      if (unit !== null) feet += unit === "ft" ? 1 : -1;
    } else if (node.kind === "list") node.items.forEach(count);
    else for (const entry of node.entries.values()) count(entry.node);
  };
  for (const section of ["lines", "machines", "floor"]) {
    const node = childOf(root, section);
    if (node !== undefined) count(node);
  }
  return feet > 0 ? "ft" : "m";
}

/** Of a file's name, which may hold what a title may not. */
function titleOf(name: string): string {
  const characters = [...printable(name).replace(/\s+/gu, " ").trim()];
  return characters.slice(0, MAX_TITLE_LENGTH).join("") || "Untitled scenario";
}

/** One line of plain text; line breaks and runs of spaces become one space. */
function readText(root: Node, key: "title" | "seed", limit: number, findings: FileFindings): string | undefined {
  const written = textAt(root, [key]);
  if (written === undefined) return undefined;
  const text = written.replace(/\s+/gu, " ").trim();
  if (text === "") findings.report("empty", { expected: "text" }, [key]);
  // Besides control characters, those that turn the direction of writing round.
  else if (!isPrintable(text)) {
    findings.report("bad-text", { found: text }, [key]);
  } else if ([...text].length > limit) {
    findings.report("text-too-long", { found: String([...text].length), limit: String(limit) }, [key]);
  }
  return text;
}
