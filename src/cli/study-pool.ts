/** The runs of a study on worker threads. */
import type { Input } from "./input.ts";
import { pooled } from "./pool.ts";
import type { StudyGiven } from "./study-worker.ts";
import { progressBar, type Terminal } from "./terminal.ts";

/**
 * @param of by place, each what the worker's `play` gives
 * @returns `all` is `null` where a signal, for the program to end by, stopped them
 */
export async function playedInThreads<Result>(
  { file, text, name, tables }: Input,
  given: Omit<StudyGiven, "text" | "name" | "tables">,
  { of, jobs, what }: { readonly of: number; readonly jobs: number; readonly what: string },
  { progress }: Pick<Terminal, "progress">,
): Promise<{ readonly all: readonly Result[] | null; readonly signal: NodeJS.Signals | null }> {
  let all: readonly Result[] | null = null;
  let done = 0;
  const tell = (): void => progress(`${file}: ${progressBar(done, of)} ${what}`);
  tell();
  const worker = { worker: "./study-worker.js", given: { text, name, tables, ...given }, jobs };
  const signal = await pooled(worker, async (play, stop) => {
    const one = async (place: number): Promise<Result> => {
      const result = await play<Result>(place);
      done++;
      tell();
      return result;
    };
    try {
      all = await Promise.all(Array.from({ length: of }, (_, place) => one(place)));
    } catch (error) {
      if (!stop.aborted) throw error;
    }
  });
  return { all: signal === null ? all : null, signal };
}
