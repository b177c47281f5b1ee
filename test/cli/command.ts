/** Runs the built command line as a user does: another process, its own working folder. */
import { spawn } from "node:child_process";
import { mkdtemp, readdir, readFile, realpath, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { onTestFinished } from "vitest";

export const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
export const SCENARIOS = fileURLToPath(new URL("../../scenarios/", import.meta.url));

export function scenarioFile(name: string): string {
  return join(SCENARIOS, `${name}.yaml`);
}

export interface Outcome {
  readonly status: number | null;
  readonly signal: NodeJS.Signals | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface Surroundings {
  readonly stdin?: string | Uint8Array;
  /** The working folder; a new empty one if not given. */
  readonly cwd?: string;
  readonly env?: Readonly<Record<string, string>>;
}

export async function fillfront(args: readonly string[], surroundings: Surroundings = {}): Promise<Outcome> {
  const { stdin = "", cwd = await emptyFolder(), env = {} } = surroundings;
  const child = spawn(process.execPath, [MAIN, ...args], { cwd, env: { ...process.env, ...env } });
  // A command that refuses its arguments doesn't wait for its input.
  child.stdin.on("error", () => undefined);
  child.stdin.end(stdin);
  const stdout: Buffer[] = [];
  const stderr: Buffer[] = [];
  child.stdout.on("data", (chunk: Buffer) => stdout.push(chunk));
  child.stderr.on("data", (chunk: Buffer) => stderr.push(chunk));
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (status, signal) =>
      resolve({ status, signal, stdout: Buffer.concat(stdout).toString(), stderr: Buffer.concat(stderr).toString() }),
    );
  });
}

/** Gone when the test is over. */
export async function emptyFolder(): Promise<string> {
  const folder = await realpath(await mkdtemp(join(tmpdir(), "fillfront-test-")));
  onTestFinished(() => rm(folder, { recursive: true, force: true }));
  return folder;
}

/** Everything in a folder, files in hexadecimal by path, so that two folders can be compared. */
export async function contentsOf(folder: string): Promise<Record<string, string>> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  const files = entries.filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));
  const contents = await Promise.all(
    files.map(async (file) => [file.slice(folder.length + 1), (await readFile(file)).toString("hex")] as const),
  );
  return Object.fromEntries(contents.sort(([a], [b]) => (a < b ? -1 : 1)));
}
