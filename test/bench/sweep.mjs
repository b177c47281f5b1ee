/** A sweep on one worker thread and on two, whole commands: their times, and that their results are the same bytes. */
import { execFileSync } from "node:child_process";
import { readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const LONG = fileURLToPath(new URL("../../scenarios/long-chain.yaml", import.meta.url));
const VARY = "machines.sealer.infeed=60..260:2";
const TURNS = 3;

/** @param {number} jobs @param {string} folder @returns seconds */
function sweep(jobs, folder) {
  const start = process.hrtime.bigint();
  const args = ["sweep", LONG, "--vary", VARY, "--jobs", String(jobs), "--no-charts", "--out", folder];
  execFileSync(process.execPath, [MAIN, ...args], { stdio: "ignore" });
  return Number(process.hrtime.bigint() - start) / 1e9;
}

/** @param {(text: string) => void} print */
export function sweeps(print) {
  const folders = [1, 2].map((jobs) => join(tmpdir(), `fillfront-bench-sweep-${process.pid}-${jobs}`));
  const best = [Infinity, Infinity];
  for (let turn = 0; turn < TURNS; turn++) {
    for (const [i, folder] of folders.entries()) best[i] = Math.min(best[i] ?? Infinity, sweep(i + 1, folder));
  }
  const [one, two] = folders.map((folder) => readFileSync(join(folder, "sweep.json"), "utf8"));
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  const [alone = 0, both = 0] = best;
  const same = one === two ? "the same bytes" : "BUT OTHER BYTES";
  print(
    `\nA sweep of 101 points: ${alone.toFixed(1)} s on one worker, ${both.toFixed(1)} s on two: ${(alone / both).toFixed(2)} × (${same})`,
  );
}
