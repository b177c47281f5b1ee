/**
 * Writes report folders, replaced whole or not at all. The new folder is made beside the target; then the target is moved
 * aside and the new one into its place. Whoever comes next puts back or clears what a killed writer left between the two. Where
 * a folder can't be replaced, since it is a mount point or the one above it is closed, its files are, one by one.
 */
import { createHash, randomBytes } from "node:crypto";
import { hostname } from "node:os";
import { basename, dirname, join, relative, sep } from "node:path";
import { codeOf, DISK, type Disk } from "./disk.ts";
import { checkTarget, isKnown, kindsOf, ownPath, PART, ReportFolderError, UNFINISHED } from "./folder.ts";
import { REPORT_KINDS } from "./report-files.ts";

/** How a report came into its place. */
export type ReportPut = "whole" | "file by file";

/**
 * @param folder replaced if it is empty or holds an earlier report and nothing else; made if missing, rights kept
 * @param files by name, without folders; those of one kind of report
 * @throws ReportFolderError
 */
export async function writeReport(
  folder: string,
  files: ReadonlyMap<string, string | Uint8Array>,
  disk: Disk = DISK,
): Promise<ReportPut> {
  const names = [...files.keys()];
  for (const name of names) {
    if (!isKnown(name)) throw new RangeError(`not a file of a report: ${JSON.stringify(name)}`);
  }
  if (kindsOf(names).length === 0) throw new RangeError(`not files of one report: ${names.join(", ")}`);
  return explained(folder, () =>
    beside(folder, disk, async (target, fresh, make) => {
      if (await isReplaceable(target, make, disk)) {
        for (const [name, content] of files) await disk.write(join(fresh, name), content);
        await disk.settle(fresh);
        if (await swapped(fresh, target, disk)) return "whole";
      }
      await replaceFiles(target, files, disk);
      return "file by file";
    }),
  );
}

/**
 * Makes and removes a folder where `writeReport` would begin, to know before a long run whether it could, and how. Folders that
 * are missing above the target stay missing, since of several checks at once none could tell when to remove them.
 * @throws ReportFolderError if not
 */
export async function checkReportFolder(folder: string, disk: Disk = DISK): Promise<ReportPut> {
  return explained(folder, async () => {
    const target = await ownPath(folder, disk);
    await tidy(target, disk);
    await checkTarget(folder, target, disk);
    if (await isReplaceable(target, () => probe(target, disk), disk)) return "whole";
    await disk.write(join(target, PART), "");
    await disk.remove(join(target, PART));
    return "file by file";
  });
}

/** In the nearest folder that is there, with a look at each name that is to come, which may be too long, as may all together. */
async function probe(target: string, disk: Disk): Promise<void> {
  const near = await nearest(target, disk);
  for (const name of relative(near, target).split(sep)) await disk.look(join(near, name));
  await disk.look(join(freshName(target), PART));
  const probed = freshName(target, near, PROBE);
  await held(probed, async () => {
    try {
      await disk.makeFolder(probed);
    } finally {
      await failing(disk.remove(probed));
    }
  });
}

async function nearest(target: string, disk: Disk): Promise<string> {
  let near = dirname(target);
  while (near !== dirname(near) && (await disk.look(near)) === null) near = dirname(near);
  return near;
}

/** New folders that this process is filling. */
const ACTIVE = new Set<string>();

async function held<T>(fresh: string, work: () => Promise<T>): Promise<T> {
  ACTIVE.add(fresh);
  try {
    return await work();
  } finally {
    ACTIVE.delete(fresh);
  }
}

type Make = () => Promise<void>;

/** @param work with the target, the new folder's name and what makes it, and the folders above; gone again if nothing came into them */
async function beside(
  folder: string,
  disk: Disk,
  work: (target: string, fresh: string, make: Make) => Promise<ReportPut>,
): Promise<ReportPut> {
  const target = await ownPath(folder, disk);
  const fresh = freshName(target);
  let made: string | undefined;
  const make = async (): Promise<void> => {
    const near = await nearest(target, disk);
    // Some of them may be made before it fails.
    if (near !== dirname(target)) made = join(near, relative(near, target).split(sep)[0] ?? "");
    await disk.makeFolders(dirname(target));
    await disk.makeFolder(fresh);
  };
  return held(fresh, async () => {
    try {
      await tidy(target, disk);
      await checkTarget(folder, target, disk);
      return await work(target, fresh, make);
    } finally {
      await failing(disk.remove(fresh));
      if (made !== undefined) await removeEmpty(dirname(target), made, disk);
    }
  });
}

async function removeEmpty(folder: string, upTo: string, disk: Disk): Promise<void> {
  for (let at = folder; at.length >= upTo.length; at = dirname(at)) await failing(disk.removeEmpty(at));
}

function failing(work: Promise<void>): Promise<boolean> {
  return work.then(
    () => false,
    () => true,
  );
}

const CLOSED = ["EACCES", "EPERM", "EROFS"];

/** Makes the new folder, unless what is there has to be filled as it is. */
async function isReplaceable(target: string, make: Make, disk: Disk): Promise<boolean> {
  const found = await disk.look(target);
  if (found !== null && found.device !== (await disk.look(dirname(target)))?.device) return false;
  for (let turn = 1; ; turn++) {
    try {
      await make();
      return true;
    } catch (error) {
      if (found !== null && CLOSED.includes(codeOf(error))) return false;
      // Another writer has removed the folders above, which it had made.
      if (codeOf(error) !== "ENOENT" || turn === MOST_TURNS) throw error;
    }
  }
}

/** Other writers may come in between as often as this. */
const MOST_TURNS = 20;
const TAKEN = ["ENOTEMPTY", "EEXIST"];

/** @returns whether the new folder is in the target's place; if not, the target can't be moved */
async function swapped(fresh: string, target: string, disk: Disk): Promise<boolean> {
  for (let turn = 1; ; turn++) {
    const old = `${fresh}-old-${turn}`;
    const found = await disk.look(target);
    if (found !== null) {
      await disk.changeMode(fresh, found.mode);
      try {
        await disk.rename(target, old);
      } catch (error) {
        const code = codeOf(error);
        if (code === "EBUSY" || code === "EXDEV" || CLOSED.includes(code)) return false;
        if (code !== "ENOENT") throw error;
      }
    }
    try {
      await disk.rename(fresh, target);
    } catch (error) {
      if (found !== null) await putBack(old, target, disk);
      if (TAKEN.includes(codeOf(error)) && turn < MOST_TURNS) continue;
      throw error;
    }
    // The report is in place by now: what fails from here on is no failure.
    await failing(disk.settle(dirname(target)));
    await clear(old, disk);
    return true;
  }
}

async function putBack(old: string, target: string, disk: Disk): Promise<void> {
  try {
    await disk.rename(old, target);
  } catch (error) {
    // Another writer's report is there; what it came to replace is this.
    if (TAKEN.includes(codeOf(error))) await clear(old, disk);
    else if (codeOf(error) !== "ENOENT") throw error;
  }
}

/** A folder that can't be removed is litter, not a failure. */
async function clear(folder: string, disk: Disk): Promise<void> {
  if (!(await failing(disk.remove(folder)))) return;
  // One that may not be changed is kept so when it is replaced, but not when it goes.
  await failing(disk.changeMode(folder, 0o700));
  await failing(disk.remove(folder));
}

/** The file by which a report is known comes last; until then the folder is marked as a mixture. */
async function replaceFiles(
  target: string,
  files: ReadonlyMap<string, string | Uint8Array>,
  disk: Disk,
): Promise<void> {
  const markers = new Set(REPORT_KINDS.map(({ marker }) => marker));
  const names = [...files.keys()].sort((a, b) => Number(markers.has(a)) - Number(markers.has(b)));
  const before = await disk.list(target);
  const [part, unfinished] = [join(target, PART), join(target, UNFINISHED)];
  await disk.write(unfinished, "");
  for (const name of names) {
    await disk.write(part, files.get(name) ?? "");
    await disk.rename(part, join(target, name));
  }
  for (const { name } of before) if (isKnown(name) && !files.has(name)) await disk.remove(join(target, name));
  await disk.settle(target);
  await disk.remove(part);
  await disk.remove(unfinished);
}

/** What is left of those that were killed: the former report goes back if nothing is in its place, all else goes. */
async function tidy(target: string, disk: Disk): Promise<void> {
  const above = dirname(target);
  for (const path of await abandoned(above, prefixOf(basename(target)), disk)) {
    if (/-old-\d+$/.test(path) && (await disk.look(target)) === null) await disk.rename(path, target);
    else await clear(path, disk);
  }
  // Where a probe may have been made before the folder above was.
  for (const folder of new Set([above, dirname(above), await nearest(target, disk)])) {
    for (const path of await abandoned(folder, prefixOf(PROBE), disk)) await clear(path, disk);
  }
}

async function abandoned(folder: string, prefix: string, disk: Disk): Promise<string[]> {
  const found: string[] = [];
  for (const { name } of await disk.list(folder).catch(() => [])) {
    if (name.startsWith(prefix) && (await isAbandoned(join(folder, name), prefix, disk)))
      found.push(join(folder, name));
  }
  return found;
}

/** How long another computer's writer is left alone: of its processes nothing can be known here. */
const LONG_MS = 3_600_000;

async function isAbandoned(path: string, prefix: string, disk: Disk): Promise<boolean> {
  const rest = basename(path).slice(prefix.length);
  const [, host, pid] = /^([0-9a-f]{8})-(\d+)-[0-9a-f]{8}(?:-old-\d+)?$/.exec(rest) ?? [];
  if (host === undefined) return false;
  if (host === digest(hostname())) return !isRunning(Number(pid), path);
  const seen = await disk.look(path);
  const now = (await disk.look(dirname(path)))?.changedMs ?? 0;
  return seen !== null && now - seen.changedMs > LONG_MS;
}

/** A number of our own that is none of our folders is that of an earlier process. */
function isRunning(pid: number, path: string): boolean {
  if (pid === process.pid) return [...ACTIVE].some((fresh) => path.startsWith(fresh));
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return codeOf(error) !== "ESRCH";
  }
}

/** Of no target: none has this name. */
const PROBE = "";

/** Of a fixed length, whatever the target's name: marks of the target and the computer, the process, and this once. */
function freshName(target: string, folder = dirname(target), name = basename(target)): string {
  const once = randomBytes(4).toString("hex");
  return join(folder, `${prefixOf(name)}${digest(hostname())}-${process.pid}-${once}`);
}

function prefixOf(name: string): string {
  return `.fillfront-${digest(name)}-`;
}

function digest(text: string): string {
  return createHash("sha256").update(text).digest("hex").slice(0, 8);
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: "you may not write there",
  EPERM: "you may not write there",
  EROFS: "nothing can be written there",
  ENOENT: "no folder can be made there, or another program has removed it",
  EIO: "the disk fails",
  ENAMETOOLONG: "the name is too long",
  EEXIST: "there is a file in the way",
  ENOTDIR: "there is a file in the way",
  ELOOP: "its links lead in a circle",
  ENOSPC: "there is no room left",
  EDQUOT: "there is no room left for you",
};

async function explained<T>(folder: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof ReportFolderError) throw error;
    const reason = REASONS[codeOf(error)] ?? (error instanceof Error ? error.message : String(error));
    const message = `cannot write the report folder ${folder}: ${reason}; name another place with --out`;
    throw new ReportFolderError("unwritable", folder, message, { cause: error });
  }
}
