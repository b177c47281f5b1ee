/** fillfront run: simulate, write the report, print what was found. */
import { join } from "node:path";
import {
  analyse,
  formatFinding,
  parseQuantity,
  type Rational,
  ReportFolderError,
  type Result,
  reportFiles,
  type Scenario,
  simulate,
  solveFlow,
  summary,
  writeReport,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { type Input, readInput } from "./input.ts";
import type { Terminal } from "./terminal.ts";

export interface RunOptions {
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly seed?: string;
  readonly horizon?: string;
  readonly check?: boolean;
}

export async function run(files: readonly string[], options: RunOptions, terminal: Terminal): Promise<void> {
  const change = changeOf(options);
  const inputs: Input[] = [];
  // All are read before any is run, so that a mistake in one leaves nothing half done.
  for (const file of files) inputs.push(await readInput(file, change));
  refuseSameFolder(inputs, options);

  const results: Result[] = [];
  for (const input of inputs) {
    const folder = folderFor(input, options, inputs.length > 1);
    const result = await runOne(input, folder, options, terminal);
    results.push(result);
    if (!options.json) terminal.print(`${results.length > 1 ? "\n" : ""}${summary(result, terminal.style)}`);
    terminal.tell(`Report in ${folder}`);
  }
  if (options.json) terminal.print(`${JSON.stringify(results.length === 1 ? results[0] : results, null, 2)}\n`);
}

async function runOne(input: Input, folder: string, options: RunOptions, terminal: Terminal): Promise<Result> {
  const { program, horizonTicks, network } = input.prepared;
  const done = simulate(program, { horizonTicks, check: options.check ?? false, onProgress: terminal.progress });
  terminal.progress(null);
  const warnings = input.warnings.map((finding) => formatFinding(finding, input.file));
  const { result, series } = analyse(done, input.scenario, solveFlow(network), warnings);
  const contents = await reportFiles(result, series, { charts: options.charts });
  try {
    await writeReport(folder, contents);
  } catch (error) {
    if (error instanceof ReportFolderError && error.problem !== "unwritable") throw new RefusedError(error.message);
    throw error;
  }
  return result;
}

function changeOf({ horizon, seed }: RunOptions): (scenario: Scenario) => Scenario {
  const horizonMin = horizon === undefined ? undefined : horizonFrom(horizon);
  return (scenario) => ({
    ...scenario,
    ...(horizonMin === undefined ? {} : { horizonMin }),
    ...(seed === undefined ? {} : { seed }),
  });
}

function horizonFrom(text: string): Rational {
  const parsed = parseQuantity("duration", text);
  if (!parsed.ok || parsed.value.compare(0) <= 0) {
    throw new RefusedError(`--horizon ${JSON.stringify(text)}: expected a duration such as "4 h" or "90 min"`);
  }
  return parsed.value;
}

function folderFor({ name }: Input, { out }: RunOptions, isOneOfSeveral: boolean): string {
  if (out === undefined) return join("reports", name);
  return isOneOfSeveral ? join(out, name) : out;
}

function refuseSameFolder(inputs: readonly Input[], options: RunOptions): void {
  const taken = new Map<string, string>();
  for (const input of inputs) {
    const folder = folderFor(input, options, inputs.length > 1);
    const other = taken.get(folder);
    if (other !== undefined) {
      throw new RefusedError(
        `${other} and ${input.file} would both be reported in ${folder}; run them one by one with --out`,
      );
    }
    taken.set(folder, input.file);
  }
}
