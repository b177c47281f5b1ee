/** Variants played on the same luck, on worker threads. */
import { playVariants, replicationsOfShard, type Shard, type VariantRun } from "../index.ts";
import type { LuckGiven, LuckTask } from "./luck-worker.ts";
import { pooled } from "./pool.ts";
import { jobsFrom } from "./sweep-request.ts";
import { progressBar, type Terminal } from "./terminal.ts";

export interface LuckPlayed {
  /** By variant, then by replication of all or of the part; as many of each as were complete when it was stopped, perhaps none. */
  readonly runs: readonly (readonly VariantRun[])[];
  /** That stopped it, for the program to end by. */
  readonly signal: NodeJS.Signals | null;
}

export async function playOnLuck(
  given: LuckGiven,
  asked: { readonly variants: number; readonly replications: number; readonly shard: Shard | null },
  { file, jobs: stated }: { readonly file: string; readonly jobs: string | undefined },
  terminal: Terminal,
): Promise<LuckPlayed> {
  const { variants, replications, shard } = asked;
  const numbers = replicationsOfShard(replications, shard ?? { part: 1, of: 1 });
  const of = variants * numbers.length;
  const jobs = jobsFrom(stated, of);
  const onDone = (done: number): void => terminal.progress(`${file}: ${progressBar(done, of)} runs`);
  let runs: LuckPlayed["runs"] = [];
  onDone(0);
  const signal = await pooled({ worker: "./luck-worker.js", given, jobs }, async (play, stop) => {
    const playOne = (variant: number, k: number): Promise<VariantRun> => {
      const task: LuckTask = { variant, replication: numbers[k - 1] ?? 0 };
      return play(task);
    };
    runs = await playVariants({ variants, replications: numbers.length }, playOne, { jobs, stop, onDone });
  });
  const complete = runs[0]?.length ?? 0;
  if (signal !== null)
    terminal.tell(`${file}: stopped when ${complete} of ${numbers.length} replications were complete`);
  return { runs: complete < 2 && shard === null ? [] : runs, signal };
}
