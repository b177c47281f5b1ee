/** fillfront run: simulate, write the report, print what was found. */
import { basename } from "node:path";
import {
  analyse,
  formatFinding,
  type Result,
  reportFiles,
  simulate,
  solveFlow,
  summary,
  withNeededRooms,
} from "../index.ts";
import { type Input, readInput } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { putReport, reportFolders } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface RunOptions extends Overrides {
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly check?: boolean;
}

export async function run(files: readonly string[], options: RunOptions, terminal: Terminal): Promise<void> {
  const overrides = overridesOf(options);
  const folders = await reportFolders(files, options.out);
  // All are read before any is run, so that a mistake in one leaves nothing half done.
  const jobs: { input: Input; folder: string }[] = [];
  for (const [index, folder] of folders.entries()) {
    jobs.push({ input: await readInput(files[index] ?? "", overrides), folder });
  }

  const results: Result[] = [];
  for (const { input, folder } of jobs) {
    const result = await runOne(input, folder, options, terminal);
    if (!options.json) await terminal.print(`${results.length > 0 ? "\n" : ""}${summary(result, terminal.style)}`);
    terminal.tell(`Report in ${folder}`);
    results.push(result);
  }
  if (options.json) await terminal.printJson(results.length === 1 ? results[0] : results);
}

async function runOne(
  { file, scenario, prepared, warnings }: Input,
  folder: string,
  { charts, check = false }: RunOptions,
  terminal: Terminal,
): Promise<Result> {
  const { program, horizonTicks, network } = prepared;
  const onProgress = (share: number): void => terminal.progress(`${file}: simulating, ${Math.floor(share * 100)} %`);
  const done = simulate(program, { horizonTicks, seed: scenario.seed, check, onProgress });
  terminal.progress(`${file}: writing the report`);
  // Without the folder: a report is the same wherever its scenario lies.
  const told = warnings.map((finding) => formatFinding(finding, basename(file)));
  const { result: found, series } = analyse(done, scenario, solveFlow(network), told);
  const result = withNeededRooms(found, scenario);
  await putReport(folder, await reportFiles(result, series, { charts }));
  return result;
}
