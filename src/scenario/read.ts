/** From the text of a scenario file to a `Scenario`, or to everything that is wrong with it. */
import { type Node, readDocument, type TextDocument } from "./document.ts";
import { readFeeds, readNeeds } from "./feeds.ts";
import { collectFindings, type Finding, type Findings, type Locate } from "./finding.ts";
import { readFloor } from "./floor.ts";
import { readLimits } from "./hold-limits.ts";
import { openHorizon, statedHorizon } from "./horizon.ts";
import { checkItems } from "./items.ts";
import { MAX_SEED_LENGTH, MAX_TITLE_LENGTH } from "./limits.ts";
import { readLines } from "./lines.ts";
import { readMachines } from "./machines.ts";
import { collectNames } from "./names.ts";
import { isPrintable, printable } from "./printable.ts";
import { readRandom } from "./random.ts";
import { readMeans } from "./read-means.ts";
import { inFileOrder, type Reading, requireEntries, textAt } from "./reading.ts";
import type { Scenario } from "./scenario.ts";
import { type Setting, withSettings } from "./settings.ts";
import type { RawScenario } from "./shapes.ts";
import { checkStructure } from "./structure.ts";
import { readTactics } from "./tactics.ts";

const DEFAULT_SEED = "1";

export type ReadOutcome =
  | {
      readonly ok: true;
      readonly scenario: Scenario;
      readonly warnings: readonly Finding[];
      /** For findings that are made later, of the network. */
      readonly locate: Locate;
    }
  | { readonly ok: false; readonly findings: readonly Finding[] };

export interface ReadOptions {
  /** The title of a scenario that states none, such as the file's name. */
  readonly name?: string;
}

/** @param text YAML 1.2 or JSON */
export function readScenario(text: string, options: ReadOptions = {}): ReadOutcome {
  return scenarioReader(text, options)([]);
}

/** Parses a file once, to be read with one set of values after another set in it. */
export function scenarioReader(text: string, options: ReadOptions = {}): (settings: readonly Setting[]) => ReadOutcome {
  const outcome = readDocument(text);
  return (settings) => (outcome.ok ? readSet(outcome.document, settings, options) : outcome);
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
    random: readRandom(raw, reading),
    means: readMeans(raw, reading),
    tactics: readTactics(raw, machines, lines, reading),
  };
  checkItems(raw, reading);
  return scenario;
}

/** Of a file's name, which may hold what a title may not. */
function titleOf(name: string): string {
  const characters = [...printable(name).replace(/\s+/gu, " ").trim()];
  return characters.slice(0, MAX_TITLE_LENGTH).join("") || "Untitled scenario";
}

/** One line of plain text; line breaks and runs of spaces become one space. */
function readText(root: Node, key: "title" | "seed", limit: number, findings: Findings): string | undefined {
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
