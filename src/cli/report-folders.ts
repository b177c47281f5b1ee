/** Which folder each file's report goes to, made sure of before anything is simulated. */
import { join } from "node:path";
import { checkReportFolder, ReportFolderError, writeReport } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { plainName, shownName } from "./input.ts";
import { uninterrupted } from "./interrupt.ts";

/**
 * @param suffix of the folder's own name, where none is stated
 * @param out as stated: the report's folder, of several files the one that theirs are put in
 * @returns a folder for each file
 * @throws RefusedError
 */
export async function reportFolders(files: readonly string[], out: string | undefined, suffix = ""): Promise<string[]> {
  if (out === "") throw new RefusedError('--out "": expected a folder');
  const folders = files.map((file) => {
    if (out === undefined) return join("reports", `${plainName(file)}${suffix}`);
    return files.length > 1 ? join(out, plainName(file)) : out;
  });
  refuseSame(files, folders);
  for (const folder of folders) await refusing(() => checkReportFolder(folder));
  return folders;
}

/** @throws RefusedError if the folder may not be replaced, ReportFolderError if it cannot be written */
export async function putReport(folder: string, files: ReadonlyMap<string, string | Uint8Array>): Promise<void> {
  await refusing(() => uninterrupted(() => writeReport(folder, files)));
}

async function refusing(work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (error instanceof ReportFolderError && error.problem !== "unwritable") throw new RefusedError(error.message);
    throw error;
  }
}

function refuseSame(files: readonly string[], folders: readonly string[]): void {
  const taken = new Map<string, string>();
  for (const [index, folder] of folders.entries()) {
    const file = shownName(files[index] ?? "");
    const other = taken.get(folder);
    if (other !== undefined) {
      throw new RefusedError(
        `${other} and ${file} would both be reported in ${folder}; run them one by one, each with its own --out`,
      );
    }
    taken.set(folder, file);
  }
}
