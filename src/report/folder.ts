/** Report folders, replaced whole or not at all. */
import { chmod, mkdir, mkdtemp, readdir, readFile, realpath, rename, rm, stat, writeFile } from "node:fs/promises";
import { basename, dirname, join, relative, resolve, sep } from "node:path";
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

/**
 * Writes the files to a new folder beside the target and puts it in the target's place.
 * @param folder replaced if it is empty or holds an earlier report and nothing else; made if missing
 * @param files by name, without folders; those of one kind of report
 * @throws ReportFolderError
 */
export async function writeReport(folder: string, files: ReadonlyMap<string, string | Uint8Array>): Promise<void> {
  const names = [...files.keys()];
  for (const name of names) {
    if (!isKnown(name)) throw new RangeError(`not a file of a report: ${JSON.stringify(name)}`);
  }
  if (kindsOf(names).length === 0) throw new RangeError(`not files of one report: ${names.join(", ")}`);
  const target = await checkedTarget(folder);
  let fresh: string | undefined;
  try {
    await mkdir(dirname(target), { recursive: true });
    fresh = await mkdtemp(join(dirname(target), `.${basename(target)}-new-`));
    // mkdtemp makes folders that only their owner may read.
    await chmod(fresh, 0o777 & ~process.umask());
    for (const [name, content] of files) await writeFile(join(fresh, name), content);
    await putInPlace(fresh, target);
  } catch (error) {
    if (fresh !== undefined) await rm(fresh, { recursive: true, force: true });
    if (error instanceof ReportFolderError) throw error;
    const reason = error instanceof Error ? error.message : String(error);
    throw new ReportFolderError("unwritable", folder, `cannot write the report folder ${folder}: ${reason}`, {
      cause: error,
    });
  }
}

/**
 * Whether `writeReport` would replace the folder, to know before a long run.
 * @throws ReportFolderError if not
 */
export async function checkReportFolder(folder: string): Promise<void> {
  await checkedTarget(folder);
}

/** Resolves links, so that the folder itself is replaced and not the link to it. */
async function checkedTarget(folder: string): Promise<string> {
  const target = await realpath(folder).catch(() => resolve(folder));
  const found = await stat(target).catch(() => null);
  if (found === null) return target;
  if (!found.isDirectory()) {
    throw new ReportFolderError("not-a-folder", folder, `${folder} is not a folder; name another place for the report`);
  }
  if (isWithin(target, process.cwd())) {
    const message = `${folder} holds the working folder and cannot be replaced; name a folder inside it for the report`;
    throw new ReportFolderError("working-folder", folder, message);
  }
  const foreign = await firstForeign(target);
  if (foreign !== null) {
    const message = `${folder} is not an earlier report: ${foreign}; name another folder, or empty this one`;
    throw new ReportFolderError("foreign-folder", folder, message);
  }
  return target;
}

function isWithin(outer: string, inner: string): boolean {
  const way = relative(outer, inner);
  return way === "" || (way !== ".." && !way.startsWith(`..${sep}`) && way !== inner);
}

/** What shows that a folder is not an earlier report of ours, or `null`. */
async function firstForeign(target: string): Promise<string | null> {
  const entries = await readdir(target, { withFileTypes: true });
  if (entries.length === 0) return null;
  const stranger = entries.find((entry) => !entry.isFile() || !isKnown(entry.name));
  if (stranger !== undefined) return `it holds ${JSON.stringify(stranger.name)}`;
  for (const kind of kindsOf(entries.map(({ name }) => name))) {
    const text = await readFile(join(target, kind.marker), "utf8").catch(() => "");
    if (isMarker(text, kind)) return null;
  }
  return `it has no ${REPORT_KINDS.map(({ marker }) => marker).join(", ")} of a report with just these files`;
}

/** The kinds of report to which all these files can belong. */
function kindsOf(names: readonly string[]): ReportKind[] {
  return REPORT_KINDS.filter((kind) => names.every((name) => isFileOf(kind, name)));
}

function isKnown(name: string): boolean {
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

/** The old folder is moved aside, the new one moved in; if that fails, the old one is moved back. */
async function putInPlace(fresh: string, target: string): Promise<void> {
  const old = `${fresh}-old`;
  const had = await rename(target, old).then(
    () => true,
    (error: NodeJS.ErrnoException) => {
      if (error.code === "ENOENT") return false;
      throw error;
    },
  );
  try {
    await rename(fresh, target);
  } catch (error) {
    if (had) await rename(old, target);
    throw error;
  }
  // The report is in place by now; an old folder that can't be removed is litter, not a failure.
  if (had) await rm(old, { recursive: true, force: true }).catch(() => undefined);
}
