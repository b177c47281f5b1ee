/**
 * A thread that watches the main one's heap, whatever that is at: asked through the inspector, it answers between two steps of
 * its work. Where the heap is full the work is broken off there, and the main thread is told.
 */
import { Session } from "node:inspector";
import { parentPort, workerData } from "node:worker_threads";
import { FULL } from "./heap.ts";

const EVERY_MS = 10;
const fullAt: number = workerData;
/** Bytes of what is not young, as the main thread counts them. */
const LASTING = `process.getBuiltinModule("node:v8").getHeapSpaceStatistics().reduce((bytes, space) =>
  bytes + (space.space_name.startsWith("new_") ? 0 : space.space_used_size), 0)`;

const session = new Session();
session.connectToMainThread();
let next = setTimeout(look);

/** All that is used first: it takes little. */
function look(): void {
  session.post("Runtime.getHeapUsage", (_, usage) => {
    if (usage === undefined || !("usedSize" in usage) || Number(usage.usedSize) < fullAt) return rest();
    session.post("Runtime.evaluate", { expression: LASTING }, (_failure, lasting) => {
      if (Number(lasting?.result.value ?? 0) < fullAt) return rest();
      session.post("Runtime.terminateExecution", () => leave(FULL));
    });
  });
}

function rest(): void {
  next = setTimeout(look, EVERY_MS);
}

/** The main thread doesn't end before it is let go. */
function leave(code: number): void {
  clearTimeout(next);
  session.disconnect();
  process.exit(code);
}

parentPort?.once("message", () => leave(0));
