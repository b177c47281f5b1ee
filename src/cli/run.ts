/** fillfront run: simulate, write the report, print what was found. */
import { basename } from "node:path";
import {
  analyse,
  formatFinding,
  formatted,
  type ReplicationsAsked,
  type Result,
  reportFiles,
  type Shard,
  simulate,
  solveFlow,
  summary,
  withFurtherRuns,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { type Input, readInput } from "./input.ts";
import { type Overrides, overridesOf, statedOverrides } from "./overrides.ts";
import { pageSource } from "./page-source.ts";
import { partFrom, partSuffix, refuseEmpty } from "./part.ts";
import type { Replicated, ReplicateOptions } from "./replicate.ts";
import { asksForReplications, type ReplicationOptions, replicationsFrom } from "./replication-request.ts";
import type { Reported } from "./replications-report.ts";
import { howMuch, putReport, reportFolders, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface RunOptions extends Overrides, ReplicationOptions {
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly check?: boolean;
  readonly shard?: string;
}

export async function run(files: readonly string[], options: RunOptions, terminal: Terminal): Promise<void> {
  const overrides = overridesOf(options);
  if (options.jobs !== undefined && !asksForReplications(options)) {
    throw new RefusedError("--jobs is for replications; a single run takes one core");
  }
  const shard = partFrom(options);
  if (shard !== null && (options.until !== undefined || options.replications === undefined)) {
    throw new RefusedError("--shard is a part of a number of replications: state --replications, and no --until");
  }
  const folders = await reportFolders(files, options, partSuffix(shard));
  // All are read before any is run, so that a mistake in one leaves nothing half done.
  const jobs: Job[] = [];
  for (const [index, folder] of folders.entries()) {
    const input = await readInput(files[index] ?? "", overrides);
    const asked = asksForReplications(options) ? replicationsFrom(options, input) : null;
    if (asked !== null) refuseEmpty(shard, asked.most);
    jobs.push({ input, folder, asked });
  }

  const results: Result[] = [];
  const failures: unknown[] = [];
  let signal: NodeJS.Signals | null = null;
  for (const { input, folder, asked } of jobs) {
    let done: Reported | null = null;
    if (asked === null) done = await runOne(input, folder, options, terminal);
    else if (shard !== null) {
      const part = await runPart(input, asked, shard, folder, options, terminal);
      signal = part.signal;
      tellPut(part.put, terminal);
    } else ({ done, signal } = await runMany(input, asked, folder, options, terminal));
    if (done !== null) {
      const { result, put } = done;
      if (!options.json)
        await terminal.print(
          `${results.length > 0 ? "\n" : ""}${summary(result, terminal.style, howMuch(put, terminal))}`,
        );
      if (put.failure === null) tellPut(put, terminal);
      else failures.push(put.failure);
      results.push(result);
    }
    if (signal !== null) break;
  }
  const printed = results.map((result) => formatted("run", result));
  if (options.json && results.length > 0) await terminal.printJson(files.length === 1 ? printed[0] : printed);
  // Of several that could not be written the first says why.
  if (failures.length > 0) throw failures[0];
  if (signal !== null) process.kill(process.pid, signal);
}

interface Job {
  readonly input: Input;
  readonly folder: string | null;
  /** `null` for a single run. */
  readonly asked: ReplicationsAsked | null;
}

async function runMany(
  input: Input,
  asked: ReplicationsAsked,
  folder: string | null,
  options: RunOptions,
  terminal: Terminal,
): Promise<Replicated> {
  // Loaded only now, since it needs threads.
  const { replicate } = await import("./replicate.ts");
  return replicate(input, asked, folder, replicateOptions(options), terminal);
}

async function runPart(
  input: Input,
  asked: ReplicationsAsked,
  shard: Shard,
  folder: string | null,
  options: RunOptions,
  terminal: Terminal,
) {
  const { replicatePart } = await import("./replicate.ts");
  return replicatePart(input, asked, shard, folder, replicateOptions(options), terminal);
}

function replicateOptions({ charts, jobs, ...overrides }: RunOptions): ReplicateOptions {
  return { charts, overrides: statedOverrides(overrides), ...(jobs === undefined ? {} : { jobs }) };
}

async function runOne(
  input: Input,
  folder: string | null,
  { charts, check = false, ...overrides }: RunOptions,
  terminal: Terminal,
): Promise<Reported> {
  const { file, scenario, prepared, warnings } = input;
  const { program, horizonTicks, network } = prepared;
  const onProgress = (share: number): void => terminal.progress(`${file}: simulating, ${Math.floor(share * 100)} %`);
  const done = simulate(program, { horizonTicks, seed: scenario.seed, check, onProgress });
  terminal.progress(`${file}: working out flows and figures`);
  // Without the folder: a report is the same wherever its scenario lies.
  const given = warnings.map((finding) => formatFinding(finding, basename(file)));
  const { result: found, series } = analyse(done, scenario, solveFlow(network), given);
  terminal.progress(`${file}: running it with other figures`);
  const result = withFurtherRuns(found, scenario, done);
  if (folder !== null) terminal.progress(`${file}: writing the report`);
  return {
    result,
    put: await putReport(folder, () => reportFiles(result, series, { charts, source: pageSource(input, overrides) })),
  };
}
