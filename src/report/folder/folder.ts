/** Whether a folder may take a report: it is missing, empty, or an earlier report and nothing else. */
import { basename, dirname, join, relative, resolve, sep } from "node:path";
import { codeOf, type Disk, type Listed } from "./disk.ts";
import { isFileOf, REPORT_KINDS, type ReportKind } from "./report-files.ts";

export type ReportFolderProblem = "not-a-folder" | "foreign-folder" | "working-folder" | "unwritable";

/** Why a report was not written; the folder is as it was. */
export class ReportFolderError extends Error {
  readonly problem: ReportFolderProblem;
  readonly folder: string;

  constructor(problem: ReportFolderProblem, folder: string, message: string, options?: ErrorOptions) {
    super(message, options);
    this.name = "ReportFolderError";
    this.problem = problem;
    this.folder = folder;
  }
}

/** There while files are replaced one by one, and left by whoever was killed then: such a mixture is ours, too. */
export const UNFINISHED = ".fillfront-unfinished";
/** A file that is being written, to be given its name when it is whole. */
export const PART = ".fillfront-part";

/** What systems leave in folders that somebody has looked into. */
const NOBODYS = new Set([".DS_Store", "Thumbs.db", "desktop.ini"]);

/**
 * @param folder as the user names it
 * @param target its own path
 * @throws ReportFolderError, or what the disk says
 */
export async function checkTarget(folder: string, target: string, disk: Disk): Promise<void> {
  const found = await disk.look(target);
  if (found === null) return;
  if (found.kind === "link") {
    const message = `${folder} is a link to nothing; remove the link or make the folder that it leads to`;
    throw new ReportFolderError("not-a-folder", folder, message);
  }
  if (found.kind !== "folder") {
    throw new ReportFolderError("not-a-folder", folder, `${folder} is not a folder; name another place for the report`);
  }
  if (isWithin(target, workingFolder(folder))) {
    const message = `${folder} holds the working folder and cannot be replaced; name a folder inside it for the report`;
    throw new ReportFolderError("working-folder", folder, message);
  }
  const foreign = await firstForeign(target, disk);
  if (foreign !== null) {
    const message = `${folder} is not an earlier report: ${foreign}; name another folder, or empty this one`;
    throw new ReportFolderError("foreign-folder", folder, message);
  }
}

/**
 * Resolves links, so that the folder itself is replaced and not the link to it. Of a folder that is missing, the nearest one
 * above it that is there tells where it would be.
 */
export async function ownPath(folder: string, disk: Disk): Promise<string> {
  workingFolder(folder);
  const missing: string[] = [];
  for (let there = resolve(folder); ; there = dirname(there)) {
    try {
      return join(await disk.realpath(there), ...missing);
    } catch (error) {
      if (codeOf(error) !== "ENOENT") throw error;
      // The top, or a link to nothing.
      if (dirname(there) === there || (await disk.look(there)) !== null) return join(there, ...missing);
    }
    missing.unshift(basename(there));
  }
}

function workingFolder(folder: string): string {
  try {
    return process.cwd();
  } catch (error) {
    const message = `cannot write ${folder}: the working folder has been removed; change to another one`;
    throw new ReportFolderError("unwritable", folder, message, { cause: error });
  }
}

function isWithin(outer: string, inner: string): boolean {
  const way = relative(outer, inner);
  return way === "" || (way !== ".." && !way.startsWith(`..${sep}`) && way !== inner);
}

/** What shows that a folder is not an earlier report of ours, or `null`. */
async function firstForeign(target: string, disk: Disk): Promise<string | null> {
  const entries = (await disk.list(target)).filter(({ name, isFile }) => !(isFile && NOBODYS.has(name)));
  if (entries.length === 0) return null;
  const stranger = entries.find((entry) => !isOurs(entry));
  if (stranger !== undefined) return `it holds ${JSON.stringify(stranger.name)}`;
  if (entries.some(({ name }) => name === UNFINISHED)) return null;
  for (const kind of kindsOf(entries.map(({ name }) => name))) {
    // A marker that is missing or unreadable shows nothing.
    const text = await disk.read(join(target, kind.marker)).catch(() => "");
    if (isMarker(text, kind)) return null;
  }
  return `it has no ${REPORT_KINDS.map(({ marker }) => marker).join(", ")} of a report with just these files`;
}

function isOurs({ name, isFile }: Listed): boolean {
  return isFile && (isKnown(name) || name === UNFINISHED || name === PART);
}

/** The kinds of report to which all these files can belong. */
export function kindsOf(names: readonly string[]): ReportKind[] {
  return REPORT_KINDS.filter((kind) => names.every((name) => isFileOf(kind, name)));
}

export function isKnown(name: string): boolean {
  return REPORT_KINDS.some((kind) => isFileOf(kind, name));
}

function isMarker(text: string, { keys }: ReportKind): boolean {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null && keys.every((key) => key in value);
  } catch {
    return false;
  }
}
