/** Where its heap is full Node ends a program without a word of what helps; so it is looked at whenever there is progress to tell. */
import { getHeapStatistics, setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";

const MEGABYTE = 2 ** 20;
/** What may be taken until it is looked at again: by thousands of machines' figures and pictures, as measured; of a large heap more. */
const AHEAD = 64 * MEGABYTE;
const SHARE_AHEAD = 0.1;
/** Of what V8 calls the limit, three semi-spaces take only what is young. */
const YOUNG = 48 * MEGABYTE;

/** @throws Error with what to do */
export function refuseFullHeap(): void {
  const own = ownBytes();
  const most = own - Math.max(AHEAD, SHARE_AHEAD * own);
  if (used() < most) return;
  collectGarbage();
  if (used() < most) return;
  throw new Error(`Node's heap of ${Math.round(own / MEGABYTE)} MB is full; ${remedy(own)}`);
}

function used(): number {
  return getHeapStatistics().used_heap_size;
}

function collectGarbage(): void {
  setFlagsFromString("--expose-gc");
  const collect: unknown = runInNewContext("gc");
  if (typeof collect === "function") collect();
}

/** Of a failure that was a worker's want of heap. */
export function heapRemedyFor(error: unknown): string {
  const isHeap = error instanceof Error && "code" in error && error.code === "ERR_WORKER_OUT_OF_MEMORY";
  return isHeap ? `; ${remedy(ownBytes())}` : "";
}

/** What the user has stated, or Node itself. */
function ownBytes(): number {
  const { heap_size_limit: limit } = getHeapStatistics();
  return Math.max(limit - YOUNG, limit / 2);
}

function remedy(bytes: number): string {
  const more = Math.round((4 * bytes) / MEGABYTE);
  return `give it a larger one by NODE_OPTIONS=--max-old-space-size=${more}, or ask for less at once: a shorter --horizon, fewer machines, points or replications`;
}
