/** Worker threads of one kind, ended with the work or by a signal. */
import { stoppable } from "./interrupt.ts";
import { threads } from "./threads.ts";

export type Playing = <Result>(task: unknown) => Promise<Result>;

/**
 * @param worker file of the bundle, whose `play` takes a task
 * @param given to each worker
 * @returns the signal that stopped it, for the program to end by
 */
export async function pooled(
  { worker, given, jobs }: { readonly worker: string; readonly given: unknown; readonly jobs: number },
  work: (play: Playing, stop: AbortSignal) => Promise<void>,
): Promise<NodeJS.Signals | null> {
  const pool = await threads(worker, given, jobs);
  const play: Playing = (task) => pool.run(task, { name: "play" });
  return stoppable(async (stop) => {
    // All that is waiting and under way is rejected then.
    const close = (): Promise<void> => pool.destroy();
    stop.addEventListener("abort", close, { once: true });
    try {
      await work(play, stop);
    } finally {
      if (!stop.aborted) await close();
    }
  });
}
