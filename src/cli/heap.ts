/** Where its heap is full Node ends a program without a word of what helps; so it is watched while there is work. */
import { getHeapStatistics } from "node:v8";
import type { Worker } from "node:worker_threads";

/** Garbage alone never fills it as far: before, Node would have collected it. */
const ALMOST = 0.9;
const MEGABYTE = 2 ** 20;
/** Of what V8 calls the limit, three semi-spaces take only what is young. */
const YOUNG = 48 * MEGABYTE;

/** What the watch ends with where the heap is full. */
export const FULL = 9;

let watch: Worker | null = null;

/**
 * From the first call on; a Node without an inspector has no watch.
 * @param onFull told what to do; what was under way never goes on
 */
export function watchHeap(onFull: (error: Error) => void): void {
  if (watch !== null || !process.features.inspector) return;
  // Not imported: most commands end without.
  const { Worker } = process.getBuiltinModule("node:worker_threads");
  const own = ownBytes();
  watch = new Worker(new URL("heap-watch.js", import.meta.url), { workerData: ALMOST * own });
  // A run is no worse for want of one.
  watch.on("error", () => undefined);
  watch.on("exit", (code) => {
    watch = null;
    if (code === FULL) onFull(new Error(`Node's heap of ${Math.round(own / MEGABYTE)} MB is full; ${remedy(own)}`));
  });
}

/** Before the program ends. */
export async function endWatch(): Promise<void> {
  const ending = watch;
  if (ending === null) return;
  await new Promise((resolve) => {
    ending.once("exit", resolve);
    ending.postMessage("end");
  });
}

/** Of a failure that was a worker's want of heap. */
export function heapRemedyFor(error: unknown): string {
  const isHeap = error instanceof Error && "code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY";
  return isHeap ? `; ${remedy(ownBytes())}` : "";
}

/** What the user has stated, or Node itself. */
function ownBytes(): number {
  const { heap_size_limit: limit } = getHeapStatistics();
  return Math.max(limit - YOUNG, limit / 3);
}

function remedy(bytes: number): string {
  const more = Math.round((4 * bytes) / MEGABYTE);
  return `give it a larger one by NODE_OPTIONS=--max-old-space-size=${more}, or ask for less at once: a shorter --horizon, fewer machines, points or replications`;
}
