/** Scenario files as the commands take them: read, prepared, or refused with everything that is wrong. */
import { readFile, stat } from "node:fs/promises";
import { basename, extname } from "node:path";
import { buffer } from "node:stream/consumers";
import {
  type Finding,
  formatFinding,
  MAX_FILE_BYTES,
  type Prepared,
  prepare,
  readScenario,
  type Scenario,
} from "../index.ts";
import { RefusedError } from "./exit.ts";

export interface Input {
  /** As given. */
  readonly file: string;
  /** The file's name without folder and ending. */
  readonly name: string;
  readonly scenario: Scenario;
  readonly prepared: Extract<Prepared, { ok: true }>;
  readonly warnings: readonly Finding[];
}

/**
 * @param change made to the scenario as read, such as another horizon
 * @throws RefusedError
 */
export async function readInput(
  file: string,
  change: (scenario: Scenario) => Scenario = (same) => same,
): Promise<Input> {
  const shown = file === "-" ? "standard input" : file;
  const name = file === "-" ? "stdin" : basename(file, extname(file));
  const outcome = readScenario(await textOf(file, shown), { name });
  if (!outcome.ok) throw refused(outcome.findings, shown);
  const scenario = change(outcome.scenario);
  const prepared = prepare(scenario, outcome.locate);
  if (!prepared.ok) throw refused(prepared.findings, shown);
  return { file: shown, name, scenario, prepared, warnings: [...outcome.warnings, ...prepared.warnings] };
}

function refused(findings: readonly Finding[], file: string): RefusedError {
  return new RefusedError(findings.map((finding) => formatFinding(finding, file)).join("\n"));
}

async function textOf(file: string, shown: string): Promise<string> {
  try {
    const bytes = file === "-" ? await buffer(process.stdin) : await bytesOf(file);
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch (error) {
    if (error instanceof RefusedError) throw error;
    throw new RefusedError(`${shown}: ${reasonOf(error)}`);
  }
}

async function bytesOf(file: string): Promise<Uint8Array> {
  const { size } = await stat(file);
  if (size > MAX_FILE_BYTES) throw new RefusedError(`${file}: the file has ${size} bytes; at most ${MAX_FILE_BYTES}`);
  return readFile(file);
}

function reasonOf(error: unknown): string {
  if (error instanceof TypeError) return "not text in UTF-8; save it so and try again";
  const code = error instanceof Error && "code" in error ? error.code : undefined;
  switch (code) {
    case "ENOENT":
      return "no such file";
    case "EISDIR":
      return "a folder, not a file";
    case "EACCES":
      return "may not be read; check its permissions";
    default:
      return error instanceof Error ? error.message : String(error);
  }
}
