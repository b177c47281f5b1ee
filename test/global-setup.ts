import { spawnSync } from "node:child_process";

/** Brings dist/ up to date (incremental, two seconds when nothing changed); a type error of the library fails the run. */
export function setup(): void {
  const { status, stdout, stderr } = spawnSync("npm run build", { shell: true, encoding: "utf8" });
  if (status !== 0) throw new Error(`npm run build failed\n${stdout}${stderr}`);
}
