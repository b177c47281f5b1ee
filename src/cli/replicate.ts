/** Replications of one scenario on worker threads, and their report. */
import { basename } from "node:path";
import Tinypool from "tinypool";
import {
  analyse,
  type Collected,
  formatFinding,
  NONE_COLLECTED,
  playReplications,
  type Replication,
  type ReplicationsAsked,
  type ReplicationsSummary,
  type Result,
  reportFiles,
  simulate,
  solveFlow,
  summariseReplications,
  withNeededRooms,
  withReplications,
} from "../index.ts";
import type { Input } from "./input.ts";
import { stoppable } from "./interrupt.ts";
import type { Overrides } from "./overrides.ts";
import type { ReplicationsGiven } from "./replication-worker.ts";
import { type Put, putReport } from "./report-folders.ts";
import { jobsFrom } from "./sweep-request.ts";
import { progressBar, type Terminal } from "./terminal.ts";

export interface ReplicateOptions {
  readonly charts: boolean;
  readonly jobs?: string;
  readonly overrides: Overrides;
}

export interface Reported {
  readonly result: Result;
  readonly put: Put;
}

export interface Replicated {
  /** `null` where it was stopped before two were complete; then nothing is written. */
  readonly done: Reported | null;
  /** That stopped it, for the program to end by. */
  readonly signal: NodeJS.Signals | null;
}

export async function replicate(
  input: Input,
  asked: ReplicationsAsked,
  folder: string,
  options: ReplicateOptions,
  terminal: Terminal,
): Promise<Replicated> {
  const { file } = input;
  const { collected, signal } = await played(input, asked, options, terminal);
  if (signal !== null) terminal.tell(`${file}: stopped when ${collected.kept.length} replications were complete`);
  if (collected.kept.length < 2) return { done: null, signal };
  terminal.progress(`${file}: working out the figures of all`);
  const summed = summariseReplications(collected, asked);
  terminal.progress(`${file}: running the median once more`);
  return { done: await reported(input, summed, folder, options, terminal), signal };
}

async function played(
  { file, text, name }: Input,
  asked: ReplicationsAsked,
  { jobs: stated, overrides }: ReplicateOptions,
  terminal: Terminal,
): Promise<{ readonly collected: Collected; readonly signal: NodeJS.Signals | null }> {
  const jobs = jobsFrom(stated, asked.most);
  const given: ReplicationsGiven = { text, name, overrides };
  const pool = new Tinypool({
    filename: new URL("./replication-worker.js", import.meta.url),
    workerData: given,
    minThreads: jobs,
    maxThreads: jobs,
  });
  const play = (replication: number): Promise<Replication> => pool.run(replication, { name: "play" });
  let collected = NONE_COLLECTED;
  const onDone = (now: Collected): void => {
    collected = now;
    terminal.progress(progressOf(file, now.kept.length, asked));
  };
  onDone(collected);
  const signal = await stoppable(async (stop) => {
    // All that is waiting and under way is rejected then.
    const close = (): Promise<void> => pool.destroy();
    stop.addEventListener("abort", close, { once: true });
    try {
      collected = await playReplications(asked, play, { jobs, stop, onDone });
    } finally {
      if (!stop.aborted) await close();
    }
  });
  return { collected, signal };
}

/** All but the replications is of the one that made the median number of products. */
async function reported(
  { scenario, prepared, warnings, file }: Input,
  summed: ReplicationsSummary,
  folder: string,
  { charts }: ReplicateOptions,
  terminal: Terminal,
): Promise<Reported> {
  const { program, horizonTicks, network } = prepared;
  const { replications } = summed;
  const run = simulate(program, { horizonTicks, seed: replications.median.seed });
  const told = warnings.map((finding) => formatFinding(finding, basename(file)));
  const { result: median, series } = analyse(run, scenario, solveFlow(network), told);
  const result = withReplications(
    withNeededRooms(median, { ...scenario, seed: replications.median.seed }),
    replications,
  );
  terminal.progress(`${file}: writing the report`);
  return { result, put: await putReport(folder, await reportFiles(result, series, { charts }, summed)) };
}

function progressOf(file: string, done: number, { most, until }: ReplicationsAsked): string {
  return until === null
    ? `${file}: ${progressBar(done, most)} replications`
    : `${file}: ${done} replications, until the interval is narrow enough`;
}
