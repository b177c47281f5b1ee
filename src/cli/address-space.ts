/**
 * Under a limit of addresses (ulimit -v). Node sets some 10 GB of them aside for each memory of the simulator, so that no index
 * need be checked; started with checks it takes as much as is needed, growing.
 */
import { readFileSync } from "node:fs";

const CHECKED = "--disable-wasm-trap-handler";
/** For the main thread and each worker, with the memory kept for the next run. */
const GUARDED_BYTES = 24e9;
const THREADS = 17;

/** @returns the status of the same command in a Node that takes less, or `null` where there is no need */
export async function inFewerAddresses(): Promise<number | null> {
  const isChecked = [...process.execArgv, process.env.NODE_OPTIONS ?? ""].some((text) => text.includes(CHECKED));
  if (isChecked || limitBytes() > GUARDED_BYTES * THREADS) return null;
  if (!process.allowedNodeEnvironmentFlags.has(CHECKED)) return null;
  // Not imported, which takes longer than most commands have; nor may the bundle import as it goes.
  const { spawn } = process.getBuiltinModule("node:child_process");
  const args = [...process.execArgv, CHECKED, ...process.argv.slice(1)];
  const child = spawn(process.execPath, args, { stdio: "inherit" });
  // A terminal tells both; what is sent to this one alone is for the other.
  const passOn = (signal: NodeJS.Signals): boolean => child.kill(signal);
  const SIGNALS: readonly NodeJS.Signals[] = ["SIGTERM", "SIGHUP"];
  const ignore = (): void => undefined;
  process.on("SIGINT", ignore);
  for (const signal of SIGNALS) process.on(signal, passOn);
  const [status, signal] = await new Promise<[number | null, NodeJS.Signals | null]>((resolve, reject) => {
    child.on("error", reject);
    child.on("exit", (code, by) => resolve([code, by]));
  });
  process.off("SIGINT", ignore);
  for (const one of SIGNALS) process.off(one, passOn);
  if (signal !== null) process.kill(process.pid, signal);
  return status;
}

/** Addresses of the main thread, and of each worker, with checks: about 0.7 GB measured, and some for what they do. */
const MAIN_BYTES = 1.5e9;
const WORKER_BYTES = 0.8e9;

/** Workers beyond these would end the program for want of addresses. */
export function mostWorkers(): number {
  return Math.max(1, Math.floor((limitBytes() - MAIN_BYTES) / WORKER_BYTES));
}

/** Only Linux keeps to one. */
function limitBytes(): number {
  if (process.platform !== "linux") return Infinity;
  try {
    const [, soft] = /^Max address space +(\d+)/m.exec(readFileSync("/proc/self/limits", "latin1")) ?? [];
    return soft === undefined ? Infinity : Number(soft);
  } catch {
    return Infinity;
  }
}
