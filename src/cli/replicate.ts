/** Replications of one scenario on worker threads: their report, or of a part of them what gather joins. */
import {
  type Collected,
  NONE_COLLECTED,
  playReplications,
  playVariants,
  type Replication,
  type ReplicationsAsked,
  replicationsOfShard,
  runsPart,
  type Shard,
  summariseReplications,
} from "../index.ts";
import type { Input } from "./input.ts";
import type { Overrides } from "./overrides.ts";
import { putPart } from "./part.ts";
import { pooled } from "./pool.ts";
import type { ReplicationsGiven } from "./replication-worker.ts";
import { type Reported, reported } from "./replications-report.ts";
import type { Put } from "./report-folders.ts";
import { jobsFrom } from "./sweep-request.ts";
import { progressBar, type Terminal } from "./terminal.ts";

export interface ReplicateOptions {
  readonly charts: boolean;
  readonly jobs?: string;
  readonly overrides: Overrides;
}

export interface Replicated {
  /** `null` where it was stopped before two were complete; then nothing is written. */
  readonly done: Reported | null;
  /** That stopped it, for the program to end by. */
  readonly signal: NodeJS.Signals | null;
}

const WORKER = "./replication-worker.js";

export async function replicate(
  input: Input,
  asked: ReplicationsAsked,
  folder: string | null,
  options: ReplicateOptions,
  terminal: Terminal,
): Promise<Replicated> {
  const { file } = input;
  const { collected, signal } = await played(input, asked, options, terminal);
  if (signal !== null) terminal.tell(`${file}: stopped when ${collected.kept.length} replications were complete`);
  if (collected.kept.length < 2) return { done: null, signal };
  if (folder !== null) terminal.progress(`${file}: writing the report`);
  return { done: await reported(input, summariseReplications(collected, asked), folder, options), signal };
}

async function played(
  { file, text, name, tables }: Input,
  asked: ReplicationsAsked,
  { jobs: stated, overrides }: ReplicateOptions,
  terminal: Terminal,
): Promise<{ readonly collected: Collected; readonly signal: NodeJS.Signals | null }> {
  const jobs = jobsFrom(stated, asked.most);
  const given: ReplicationsGiven = { text, name, tables, overrides };
  let collected = NONE_COLLECTED;
  const onDone = (now: Collected): void => {
    collected = now;
    terminal.progress(progressOf(file, now.kept.length, asked));
  };
  onDone(collected);
  const signal = await pooled({ worker: WORKER, given, jobs }, async (play, stop) => {
    collected = await playReplications(asked, play<Replication>, { jobs, stop, onDone });
  });
  return { collected, signal };
}

/** The replications of a shard alone; what was complete when it was stopped is written, too. */
export async function replicatePart(
  input: Input,
  { most }: ReplicationsAsked,
  shard: Shard,
  folder: string | null,
  { jobs: stated, overrides }: ReplicateOptions,
  terminal: Terminal,
): Promise<{ readonly put: Put; readonly signal: NodeJS.Signals | null }> {
  const { file, text, name, tables } = input;
  const numbers = replicationsOfShard(most, shard);
  const jobs = jobsFrom(stated, numbers.length);
  const given: ReplicationsGiven = { text, name, tables, overrides };
  const onDone = (done: number): void =>
    terminal.progress(`${file}: ${progressBar(done, numbers.length)} replications`);
  let runs: readonly Replication[] = [];
  onDone(0);
  const signal = await pooled({ worker: WORKER, given, jobs }, async (play, stop) => {
    const asked = { variants: 1, replications: numbers.length };
    [runs = []] = await playVariants(asked, (_, k) => play<Replication>(numbers[k - 1]), { jobs, stop, onDone });
  });
  const part = { input, overrides, replications: most, shard, study: { of: "run" } as const };
  return { put: await putPart(folder, part, runsPart(runs), runs.length, terminal), signal };
}

function progressOf(file: string, done: number, { most, until }: ReplicationsAsked): string {
  return until === null
    ? `${file}: ${progressBar(done, most)} replications`
    : `${file}: ${done} replications, until the interval is narrow enough`;
}
