/**
 * After the build: keeps beside each file of the command line what V8 has compiled of it (start.ts), by running what is run
 * most, so that it holds what they use and little else.
 */
import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const MAIN = fileURLToPath(new URL("../../dist/cli/main.js", import.meta.url));
const EXAMPLE = fileURLToPath(new URL("../../scenarios/short-chain.yaml", import.meta.url));

const folder = mkdtempSync(join(tmpdir(), "fillfront-build-"));
try {
  for (const args of [
    ["check", EXAMPLE],
    ["run", EXAMPLE, "--out", join(folder, "run")],
  ]) {
    execFileSync(process.execPath, [MAIN, ...args], {
      env: { ...process.env, FILLFRONT_KEEP_CODE: "1" },
      stdio: ["ignore", "ignore", "pipe"],
    });
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
