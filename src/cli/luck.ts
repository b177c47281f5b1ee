/** Variants played on the same luck, on worker threads. */
import { playVariants, type VariantRun } from "../index.ts";
import { stoppable } from "./interrupt.ts";
import type { LuckGiven, LuckTask } from "./luck-worker.ts";
import { jobsFrom } from "./sweep-request.ts";
import { progressBar, type Terminal } from "./terminal.ts";
import { threads } from "./threads.ts";

export interface LuckPlayed {
  /** By variant, then by replication; as many of each as were complete when it was stopped, perhaps none. */
  readonly runs: readonly (readonly VariantRun[])[];
  /** That stopped it, for the program to end by. */
  readonly signal: NodeJS.Signals | null;
}

export async function playOnLuck(
  given: LuckGiven,
  asked: { readonly variants: number; readonly replications: number },
  { file, jobs: stated }: { readonly file: string; readonly jobs: string | undefined },
  terminal: Terminal,
): Promise<LuckPlayed> {
  const of = asked.variants * asked.replications;
  const jobs = jobsFrom(stated, of);
  const pool = await threads("./luck-worker.js", given, jobs);
  const play = (variant: number, replication: number): Promise<VariantRun> => {
    const task: LuckTask = { variant, replication };
    return pool.run(task, { name: "play" });
  };
  const onDone = (done: number): void => terminal.progress(`${file}: ${progressBar(done, of)} runs`);
  let runs: LuckPlayed["runs"] = [];
  onDone(0);
  const signal = await stoppable(async (stop) => {
    // All that is waiting and under way is rejected then.
    const close = (): Promise<void> => pool.destroy();
    stop.addEventListener("abort", close, { once: true });
    try {
      runs = await playVariants(asked, play, { jobs, stop, onDone });
    } finally {
      if (!stop.aborted) await close();
    }
  });
  const complete = runs[0]?.length ?? 0;
  if (signal !== null)
    terminal.tell(`${file}: stopped when ${complete} of ${asked.replications} replications were complete`);
  return { runs: complete < 2 ? [] : runs, signal };
}
