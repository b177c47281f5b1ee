/** Which folder each file's report goes to, made sure of before anything is simulated. */
import { join } from "node:path";
import { checkReportFolder, ReportFolderError, type ReportPut, writeReport } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { plainName, shownName } from "./input.ts";
import { uninterrupted } from "./interrupt.ts";
import type { Terminal } from "./terminal.ts";

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

/** A report that was written or, with what was worth printing still to be printed, was not. */
export interface Put {
  readonly folder: string;
  readonly how: ReportPut | null;
  readonly failure: unknown;
}

/** Writes it; a failure is kept until the answer is printed. */
export async function putReport(folder: string, files: ReadonlyMap<string, string | Uint8Array>): Promise<Put> {
  let how: ReportPut | null = null;
  try {
    await uninterrupted(async () => {
      how = await writeReport(folder, files);
    });
    return { folder, how, failure: null };
  } catch (failure) {
    return { folder, how: null, failure };
  }
}

/** Says where the report is. @throws what kept it from being written */
export function tellPut({ folder, how, failure }: Put, terminal: Terminal): void {
  if (failure !== null) throw failure;
  const inPlace = how === "file by file" ? ", replaced file by file, since the folder itself cannot be" : "";
  terminal.tell(`Report in ${folder}${inPlace}`);
}

async function refusing(work: () => Promise<unknown>): Promise<void> {
  try {
    await work();
  } catch (error) {
    if (error instanceof ReportFolderError) throw new RefusedError(error.message);
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
