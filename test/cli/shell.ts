/** Runs a command line as a reader of the documentation would type it, with `fillfront` on the path. */
import { spawn } from "node:child_process";
import { chmod, mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { delimiter, join } from "node:path";
import { onTestFinished } from "vitest";
import { MAIN, type Outcome } from "./command.ts";

export async function shell(commandLine: string, cwd: string): Promise<Outcome> {
  const bin = await mkdtemp(join(tmpdir(), "fillfront-bin-"));
  onTestFinished(() => rm(bin, { recursive: true, force: true }));
  await writeFile(join(bin, "fillfront"), `#!/bin/sh\nexec "${process.execPath}" "${MAIN}" "$@"\n`);
  await writeFile(join(bin, "npx"), '#!/bin/sh\nexec "$@"\n');
  for (const name of ["fillfront", "npx"]) await chmod(join(bin, name), 0o755);
  const path = `${bin}${delimiter}${process.env.PATH ?? ""}`;
  const child = spawn("/bin/sh", ["-c", commandLine], { cwd, env: { ...process.env, PATH: path } });
  child.stdin.end();
  let stdout = "";
  let stderr = "";
  child.stdout.on("data", (chunk) => {
    stdout += chunk;
  });
  child.stderr.on("data", (chunk) => {
    stderr += chunk;
  });
  return new Promise((resolve, reject) => {
    child.on("error", reject);
    child.on("close", (status, signal) => resolve({ status, signal, stdout, stderr }));
  });
}
