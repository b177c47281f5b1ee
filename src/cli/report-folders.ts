/** Which folder each file's report goes to, made sure of before anything is simulated. */
import { join } from "node:path";
import { checkReportFolder, ReportFolderError, type ReportPut, type Shown, writeReport } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { plainName, shownName } from "./input.ts";
import { uninterrupted } from "./interrupt.ts";
import type { Terminal } from "./terminal.ts";

export interface ReportAsked {
  /** The report's folder, of several files the one that theirs are put in. */
  readonly out?: string;
  /** The answer goes to standard output as JSON; then a report is written only where `out` says. */
  readonly json?: boolean;
}

/** Of one file, as `reportFolders`. */
export async function reportFolder(file: string, asked: ReportAsked, suffix = ""): Promise<string | null> {
  const [folder = null] = await reportFolders([file], asked, suffix);
  return folder;
}

/**
 * @param suffix of the folder's own name, where none is stated
 * @returns a folder for each file, or `null` where no report is to be written
 * @throws RefusedError
 */
export async function reportFolders(
  files: readonly string[],
  { out, json = false }: ReportAsked,
  suffix = "",
): Promise<(string | null)[]> {
  if (out === "") throw new RefusedError('--out "": expected a folder');
  if (json && out === undefined) return files.map(() => null);
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
  /** `null` where none was to be written. */
  readonly folder: string | null;
  readonly how: ReportPut | null;
  readonly failure: unknown;
}

type Files = ReadonlyMap<string, string | Uint8Array>;

/** Makes its files and writes them, where there is a folder to; a failure is kept until the answer is printed. */
export async function putReport(folder: string | null, filesOf: () => Files | Promise<Files>): Promise<Put> {
  if (folder === null) return { folder, how: null, failure: null };
  const files = await filesOf();
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

/** How much of an answer is printed, and where the rest is. */
export function howMuch({ folder, failure }: Put, { details }: Terminal): Shown {
  return { details, place: failure === null ? folder : null };
}

/** Says where the report is. @throws what kept it from being written */
export function tellPut({ folder, how, failure }: Put, terminal: Terminal): void {
  if (failure !== null) throw failure;
  if (folder === null) return;
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
