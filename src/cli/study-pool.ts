/**
 * The runs of a study shared with worker threads. This thread plays, too, so that nobody waits while others start; a signal
 * ends the program at once, as it does where one thread plays all, since nothing is half written yet.
 */
import { setImmediate } from "node:timers/promises";
import type { StudyGiven, StudyShare } from "./study-worker.ts";
import { threads } from "./threads.ts";

interface Own<Result> {
  readonly of: number;
  readonly play: (place: number) => Result;
  /** How many have been begun. */
  readonly tell: (begun: number) => void;
}

/**
 * @param jobs threads, this one among them
 * @returns by place
 */
export async function sharedRuns<Result>(
  { of, play, tell }: Own<Result>,
  given: StudyGiven,
  jobs: number,
): Promise<Result[]> {
  const found = new Map<number, Result>();
  const next = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
  const share: StudyShare = { of, next };
  const pool = await threads("./study-worker.js", given, jobs - 1);
  try {
    const others = Array.from(
      { length: jobs - 1 },
      (): Promise<readonly (readonly [number, Result])[]> => pool.run(share, { name: "play" }),
    );
    // What fails there is told when it is awaited.
    for (const other of others) other.catch(() => undefined);
    for (let place = Atomics.add(next, 0, 1); place < of; place = Atomics.add(next, 0, 1)) {
      tell(place);
      try {
        found.set(place, play(place));
      } catch {
        // Tried again below, so that of several the first is told, as without threads.
      }
      // The others' messages come in between.
      await setImmediate();
    }
    for (const [place, result] of (await Promise.all(others)).flat()) found.set(place, result);
  } finally {
    await pool.destroy();
  }
  return Array.from({ length: of }, (_, place) => found.get(place) ?? play(place));
}
