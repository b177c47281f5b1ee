import { randomUUID } from "node:crypto";
import { readFile, rename, rm, writeFile } from "node:fs/promises";
import { RefusedError } from "./exit.ts";

/** What files that fillfront wrote itself begin with; others are not replaced. */
const OWN = /^# Written by fillfront /;

/**
 * Writes a scenario file whole or not at all.
 * @throws RefusedError where a file that somebody else wrote is in the way, or where nothing can be written
 */
export async function putText(path: string, text: string): Promise<void> {
  await checkFree(path);
  const made = `${path}.${randomUUID()}.tmp`;
  try {
    await writeFile(made, text, { flag: "wx" });
    await rename(made, path);
  } catch (error) {
    await rm(made, { force: true });
    throw new RefusedError(`${path}: cannot be written: ${error instanceof Error ? error.message : String(error)}`);
  }
}

/** @throws RefusedError */
export async function checkFree(path: string): Promise<void> {
  let before: string;
  try {
    before = await readFile(path, "utf8");
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ENOENT") return;
    throw new RefusedError(`${path}: ${error instanceof Error ? error.message : String(error)}`);
  }
  if (!OWN.test(before))
    throw new RefusedError(`${path} is there already and is left alone; state another name with --out`);
}
