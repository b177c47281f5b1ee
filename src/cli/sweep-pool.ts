/** The worker threads of a sweep. */
import type { PlannedPoint, SweepPoint } from "../index.ts";
import type { Checked, SweepGiven } from "./sweep-worker.ts";
import { threads } from "./threads.ts";

export interface SweepPool {
  /** In the order of the points. */
  readonly check: (points: readonly PlannedPoint[]) => Promise<Checked[]>;
  /**
   * Runs points until all are done, one fails or it is told to stop; what is under way then is given up.
   * @param onDone told how many are
   */
  readonly play: (
    points: readonly PlannedPoint[],
    stop: AbortSignal,
    onDone: (done: number) => void,
  ) => Promise<{ readonly points: SweepPoint[]; readonly failure: Error | null }>;
  readonly close: () => Promise<void>;
}

export async function sweepPool(given: SweepGiven, jobs: number): Promise<SweepPool> {
  const pool = await threads("./sweep-worker.js", given, jobs);
  let closed: Promise<void> | null = null;
  const close = (): Promise<void> => {
    closed ??= pool.destroy();
    return closed;
  };
  const checkOne = (point: PlannedPoint): Promise<Checked> => pool.run(point, { name: "check" });
  const playOne = (point: PlannedPoint): Promise<SweepPoint> => pool.run(point, { name: "play" });

  return {
    check: (points) => Promise.all(points.map(checkOne)),
    async play(points, stop, onDone) {
      const done: SweepPoint[] = [];
      let failure: Error | null = null;
      // All that is waiting and under way is rejected then.
      stop.addEventListener("abort", close, { once: true });
      await Promise.all(
        points.map(async (point) => {
          try {
            done.push(await playOne(point));
            onDone(done.length);
          } catch (error) {
            if (stop.aborted) return;
            failure ??= error instanceof Error ? error : new Error(String(error));
            await close();
          }
        }),
      );
      return { points: done.sort((a, b) => a.point - b.point), failure };
    },
    close,
  };
}
