/** Scenario files as the commands take them: read, prepared, or refused with everything that is wrong. */
import { basename, extname } from "node:path";
import {
  type Finding,
  formatFinding,
  MAX_FILE_BYTES,
  messagesTogether,
  type Prepared,
  prepare,
  readScenario,
  type Scenario,
  type Tables,
  tableOf,
  withHorizon,
  writeScenario,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { readBytes, reasonOf, STANDARD_INPUT, shownName } from "./file-bytes.ts";
import type { Terminal } from "./terminal.ts";

export { shownName } from "./file-bytes.ts";

export interface Input {
  /** As messages name it. */
  readonly file: string;
  /** What the file holds, and its name without folder and ending. */
  readonly text: string;
  readonly name: string;
  readonly tables: Tables;
  /** As the file states it, without options and with its horizon left open where it is. */
  readonly asFiled: Scenario;
  readonly scenario: Scenario;
  readonly prepared: Extract<Prepared, { ok: true }>;
  readonly warnings: readonly Finding[];
}

/**
 * @param change made to the scenario as read, such as another horizon
 * @param options.runs a horizon that is left open is settled by running the line
 * @throws RefusedError
 */
export async function readInput(
  file: string,
  change: (scenario: Scenario) => Scenario = (same) => same,
  { runs = true }: { readonly runs?: boolean } = {},
): Promise<Input> {
  return inputOf({ file: shownName(file), ...(await sourceOf(file)) }, change, { runs });
}

/** @throws RefusedError */
export function inputOf(
  { file: shown, text, name, tables }: Pick<Input, "file"> & Source,
  change: (scenario: Scenario) => Scenario,
  { runs }: { readonly runs: boolean },
): Input {
  const outcome = readScenario(text, { name, tables });
  if (!outcome.ok) throw refused(outcome.findings, shown);
  const stated = change(outcome.scenario);
  const first = prepare(stated, outcome.locate);
  if (!first.ok) throw refused(first.findings, shown);
  const scenario = runs ? withHorizon(stated) : stated;
  const prepared = scenario === stated ? first : prepare(scenario, outcome.locate);
  if (!prepared.ok) throw refused(prepared.findings, shown);
  return {
    file: shown,
    text,
    name,
    tables,
    asFiled: outcome.scenario,
    scenario,
    prepared,
    warnings: [...outcome.warnings, ...prepared.warnings],
  };
}

/** A scenario file's text and what it takes to read it. */
export interface Source {
  readonly text: string;
  readonly name: string;
  readonly tables: Tables;
}

/** @throws RefusedError */
export async function sourceOf(file: string): Promise<Source> {
  const text = await textOf(file);
  const names = tableOf(text) !== null;
  // Loaded only where a table is named.
  const tables: Tables = names ? await (await import("./tables.ts")).tablesFor(file, text) : new Map();
  return { text, name: plainName(file), tables };
}

/** One that comes again and again is told once, with its places. */
export function tellWarnings(warnings: readonly Finding[], file: string, { tell }: Pick<Terminal, "tell">): void {
  for (const message of messagesTogether(warnings.map((warning) => formatFinding(warning, file)))) tell(message);
}

/** Studies of single runs say so, since what they find may be luck. */
export function chanceNotes({ file, scenario, prepared }: Pick<Input, "file" | "scenario" | "prepared">): string[] {
  if (prepared.program.random === null) return [];
  return [
    `${file}: chance plays a part here, and each variant is run once, all with the draws of seed ${JSON.stringify(scenario.seed)}: nothing is proved, and small differences may be luck`,
  ];
}

/** The file's name without folder and ending: one that can name a folder. */
export function plainName(file: string): string {
  if (file === STANDARD_INPUT) return "stdin";
  const name = basename(file, extname(file));
  return /^\.*$/.test(name) ? "scenario" : name;
}

function refused(findings: readonly Finding[], file: string): RefusedError {
  return new RefusedError(findings.map((finding) => formatFinding(finding, file)).join("\n"), { file, findings });
}

/**
 * @param of.what it is, should it be too long
 * @param of.expected said where it can't be read
 * @throws RefusedError
 */
export async function textOf(
  file: string,
  of: { readonly what?: string; readonly expected?: string; readonly most?: number } = {},
): Promise<string> {
  const { what = "a scenario file", expected, most = MAX_FILE_BYTES } = of;
  const shown = shownName(file);
  try {
    const bytes = await readBytes(file, most);
    if (bytes !== null) return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    throw new RefusedError(`${shown}: ${reasonOf(error)}${expected === undefined ? "" : `; ${expected}`}`);
  }
  throw new RefusedError(`${shown}: ${what} has at most ${most} bytes; this is longer`);
}

/** What is read elsewhere, without the table that the file names: written out then. */
export function wholeText({ text, tables, asFiled }: Pick<Input, "text" | "tables" | "asFiled">): string {
  return tables.size === 0 ? text : writeScenario(asFiled);
}
