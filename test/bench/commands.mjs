/** Whole commands: processor time of all their threads, and by the clock; each the least of some turns. */
import { execFileSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const PRELOADED = fileURLToPath(new URL("./cpu-at-exit.cjs", import.meta.url));
const SCENARIOS = fileURLToPath(new URL("../../scenarios/", import.meta.url));
const FOLDER = join(tmpdir(), `fillfront-bench-commands-${process.pid}`);
const CPU = `${FOLDER}.cpu`;

/** @param {string} name */
export const scenario = (name) => `${SCENARIOS}${name}.yaml`;

/** @param {readonly string[]} args of node @returns seconds */
export function once(args) {
  const start = process.hrtime.bigint();
  execFileSync(process.execPath, ["-r", PRELOADED, ...args], {
    stdio: "ignore",
    env: { ...process.env, FILLFRONT_CPU: CPU },
  });
  const clock = Number(process.hrtime.bigint() - start) / 1e9;
  return { clock, worked: Number(readFileSync(CPU, "utf8")) };
}

/** @param {readonly (readonly string[])[]} commands taken in turns @param {number} turns @returns the least of each */
export function least(commands, turns) {
  const best = commands.map(() => ({ clock: Infinity, worked: Infinity }));
  for (let turn = 0; turn < turns; turn++) {
    for (const [i, args] of commands.entries()) {
      const taken = once(args);
      const known = best[i] ?? taken;
      best[i] = { clock: Math.min(known.clock, taken.clock), worked: Math.min(known.worked, taken.worked) };
    }
  }
  rmSync(FOLDER, { recursive: true, force: true });
  rmSync(CPU, { force: true });
  return best;
}

/** @param {readonly string[]} args of fillfront that write a report */
export const reporting = (args) => [MAIN, ...args, "--out", FOLDER];
/** @param {readonly string[]} args of fillfront that write none */
export const command = (args) => [MAIN, ...args];
