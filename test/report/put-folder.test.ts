/**
 * A report's writer on a disk that fails: at the n-th call, or from it on as after a kill, for every n, in the manner of
 * SQLite's tests of lost writes (sqlite.org/testing.html, "I/O Error Testing" and "Crash Testing"). Whatever happened, the
 * former report or the new one is whole, the next run works, and then nothing is left behind.
 */
import { execFileSync, spawn } from "node:child_process";
import { mkdir, mkdtemp, readdir, readFile, rm, stat, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { basename, dirname, join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { DISK, type Disk } from "../../src/report/folder/disk.ts";
import { ReportFolderError } from "../../src/report/folder/folder.ts";
import { checkReportFolder, writeReport } from "../../src/report/folder/put-folder.ts";

let root = "";
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), "fillfront-put-"));
});
afterEach(async () => {
  await rm(root, { recursive: true, force: true });
});

const MARKER = JSON.stringify({ settling: 1, tick_s: 1 });
function report(word: string): Map<string, string> {
  return new Map([
    ["report.md", word],
    ["result.json", MARKER],
    ["series.csv", word],
    ...(word === "former" ? ([["output.png", word]] as const) : []),
  ]);
}
const FORMER = report("former");
const NEW = report("new");
const SWEEP = new Map([
  ["report.md", "sweep"],
  ["sweep.json", JSON.stringify({ quantities: [], points: [] })],
]);

/** Plain objects, since `toContainEqual` takes any two Maps for equal. */
async function held(folder: string): Promise<Record<string, string>> {
  const names = await readdir(folder).catch(() => []);
  const read = async (name: string): Promise<[string, string]> => [name, await readFile(join(folder, name), "utf8")];
  return Object.fromEntries(await Promise.all(names.sort().map(read)));
}

function contents(files: ReadonlyMap<string, string>): Record<string, string> {
  return Object.fromEntries(files);
}

class Fault extends Error {
  readonly code: string;
  constructor(code: string) {
    super(`${code}: injected`);
    this.code = code;
  }
}

/** @param fails whether the call does, by its number from 1, name and paths; a write that does is torn */
function faulty(fails: (call: number, name: string, paths: readonly unknown[]) => string | null): {
  disk: Disk;
  calls: () => number;
} {
  let calls = 0;
  const disk = new Proxy(DISK, {
    get:
      (real, name: keyof Disk) =>
      async (...args: never[]): Promise<unknown> => {
        calls += 1;
        const code = fails(calls, name, args);
        const work: (...of: never[]) => Promise<unknown> = real[name];
        if (code === null) return work(...args);
        if (name === "write" && code !== "KILLED")
          await writeFile(String(args[0]), String(args[1]).slice(0, 2)).catch(() => 0);
        throw new Fault(code);
      },
  });
  return { disk, calls: () => calls };
}

/** The number of calls until one comes to its end without the fault. */
async function everyFault(attempt: (n: number) => Promise<number>): Promise<number> {
  for (let n = 1; ; n++) {
    if ((await attempt(n)) < n) return n - 1;
    if (n > 500) throw new Error("no end");
  }
}

async function ended(writing: Promise<unknown>): Promise<"done" | "failed"> {
  return writing.then(
    () => "done",
    (error: unknown) => {
      expect(error).toBeInstanceOf(ReportFolderError);
      return "failed";
    },
  );
}

describe.each(["none", "former"])("with %s before", (before) => {
  const atFirst = before === "former" ? FORMER : new Map<string, string>();
  async function prepared(n: number): Promise<string> {
    const target = join(root, String(n), "reports", "line");
    if (before === "former") await writeReport(target, FORMER);
    return target;
  }

  test.each(["EIO", "ENOSPC", "EACCES", "EBUSY"])("the n-th call fails once with %s", async (code) => {
    const tried = await everyFault(async (n) => {
      const target = await prepared(n);
      const { disk, calls } = faulty((call) => (call === n ? code : null));
      const outcome = await ended(writeReport(target, NEW, disk));
      expect(await held(target), `call ${n}`).toEqual(contents(outcome === "done" ? NEW : atFirst));
      await writeReport(target, SWEEP);
      expect(await held(target)).toEqual(contents(SWEEP));
      expect(await readdir(dirname(target)), `call ${n}`).toEqual(["line"]);
      return calls();
    });
    expect(tried).toBeGreaterThan(12);
  });

  test("killed at the n-th call", async () => {
    const tried = await everyFault(async (n) => {
      const target = await prepared(n);
      const { disk, calls } = faulty((call) => (call >= n ? "KILLED" : null));
      await ended(writeReport(target, NEW, disk));
      // A check is what the next run begins with.
      await checkReportFolder(target);
      const whole = await held(target);
      expect([atFirst, NEW].map(contents)).toContainEqual(whole);
      expect(await readdir(dirname(target)).catch(() => [])).toEqual(Object.keys(whole).length > 0 ? ["line"] : []);
      await writeReport(target, SWEEP);
      expect(await held(target)).toEqual(contents(SWEEP));
      expect(await readdir(dirname(target))).toEqual(["line"]);
      return calls();
    });
    expect(tried).toBeGreaterThan(10);
  });
});

/** As a mount point is: the folder can be filled but not moved. */
function mounted(name: string, paths: readonly unknown[]): string | null {
  return name === "rename" && [paths[0], paths[1]].some((path) => basename(String(path)) === "line") ? "EBUSY" : null;
}

describe("a folder that can't be moved", () => {
  test("is filled file by file, and says so", async () => {
    const target = join(root, "line");
    await writeReport(target, FORMER);
    const { disk } = faulty((_, name, paths) => mounted(name, paths));
    expect(await writeReport(target, NEW, disk)).toBe("file by file");
    expect(await held(target)).toEqual(contents(NEW));
    expect(await readdir(root)).toEqual(["line"]);
  });

  test("killed at the n-th call, each file is whole, and the next run works", async () => {
    await everyFault(async (n) => {
      const target = join(root, String(n), "line");
      await writeReport(target, FORMER);
      const { disk, calls } = faulty((call, name, paths) => (call >= n ? "KILLED" : mounted(name, paths)));
      await ended(writeReport(target, SWEEP, disk));
      for (const [name, content] of Object.entries(await held(target))) {
        if (!name.startsWith(".")) expect([FORMER.get(name), SWEEP.get(name)]).toContain(content);
      }
      const next = faulty((_, name, paths) => mounted(name, paths));
      expect(await writeReport(target, NEW, next.disk)).toBe("file by file");
      expect(await held(target)).toEqual(contents(NEW));
      expect(await readdir(dirname(target))).toEqual(["line"]);
      return calls();
    });
  });

  test("so is one below a folder that is closed; a missing one is refused", async () => {
    const { disk } = faulty((_, name) => (name === "makeFolder" ? "EACCES" : null));
    const target = join(root, "line");
    await expect(checkReportFolder(target, disk)).rejects.toMatchObject({ problem: "unwritable" });
    await writeReport(target, FORMER);
    expect(await checkReportFolder(target, disk)).toBe("file by file");
    expect(await held(target)).toEqual(contents(FORMER));
    expect(await writeReport(target, NEW, disk)).toBe("file by file");
    expect(await held(target)).toEqual(contents(NEW));
  });
});

test("a check leaves nothing behind, not even the folders above", async () => {
  expect(await checkReportFolder(join(root, "a", "b", "line"))).toBe("whole");
  expect(await readdir(root)).toEqual([]);
});

test("what a killed check leaves is cleared by the next one, also once the folder above is there", async () => {
  for (const made of [[], ["reports"]]) {
    await everyFault(async (n) => {
      const at = join(root, `${n}-${made.length}`);
      await mkdir(at, { recursive: true });
      const { disk, calls } = faulty((call) => (call >= n ? "KILLED" : null));
      await ended(checkReportFolder(join(at, "reports", "line"), disk));
      for (const name of made) await mkdir(join(at, name));
      await checkReportFolder(join(at, "reports", "line"));
      expect(await readdir(at)).toEqual(made);
      return calls();
    });
  }
});

test.each([
  ["a file in the way", async () => writeFile(join(root, "way"), ""), "way/line"],
  ["a name too long", async () => undefined, "x".repeat(256)],
  ["a name too long above", async () => undefined, `a/${"x".repeat(256)}/line`],
  ["names too long together", async () => undefined, `a/${`${"x".repeat(200)}/`.repeat(20)}line`],
  ["a link to nothing above", async () => symlink(join(root, "gone"), join(root, "link")), "link/line"],
  ["a link to nothing", async () => symlink(join(root, "gone"), join(root, "link")), "link"],
])("%s is found by the check, and is left as it is", async (_, make, name) => {
  await make();
  const before = await readdir(root);
  await expect(checkReportFolder(join(root, name))).rejects.toMatchObject({
    message: expect.not.stringMatching(/(?:^|[\s(])E[A-Z]{4,}/),
  });
  await expect(writeReport(join(root, name), NEW)).rejects.toBeInstanceOf(ReportFolderError);
  expect(await readdir(root)).toEqual(before);
});

test("a long name that just fits takes a report, and so do rights that were changed", async () => {
  const target = join(root, "y".repeat(255));
  await writeReport(target, FORMER);
  await DISK.changeMode(target, 0o2750);
  await writeReport(target, NEW);
  expect(await held(target)).toEqual(contents(NEW));
  expect((await stat(target)).mode & 0o7777).toBe(0o2750);
});

test.each([".DS_Store", "Thumbs.db", "desktop.ini"])("a %s is nobody's", async (name) => {
  const target = join(root, "line");
  await writeReport(target, FORMER);
  await writeFile(join(target, name), "looked into");
  await writeReport(target, NEW);
  expect(await held(target)).toEqual(contents(NEW));
});

test("the folder of a writer that is running is left alone, one of a killed process is cleared", async () => {
  const target = join(root, "line");
  let left = "";
  const { disk } = faulty((_, name, paths) => {
    if (name === "write") left = basename(dirname(String(paths[0])));
    return name === "write" || name === "remove" ? "KILLED" : null;
  });
  await ended(writeReport(target, NEW, disk));
  const running = spawn("sleep", ["60"]);
  const gone = Number(execFileSync("sh", ["-c", "echo $$"]));
  const named = (pid: number | undefined): string => left.replace(`-${process.pid}-`, `-${pid}-`);
  try {
    await mkdir(join(root, named(running.pid)));
    await mkdir(join(root, named(gone)));
    await writeReport(target, NEW);
    expect((await readdir(root)).sort()).toEqual([named(running.pid), "line"].sort());
  } finally {
    running.kill();
  }
});

test("many writers into one folder: each succeeds, the last one's is whole, nothing is left", async () => {
  const target = join(root, "reports", "line");
  const words = Array.from({ length: 12 }, (_, i) => `writer ${i}`);
  for (let turn = 0; turn < 4; turn++) {
    await Promise.all(words.map((word) => writeReport(target, report(word))));
    const found = await held(target);
    expect(words.map((word) => contents(report(word)))).toContainEqual(found);
    expect(await readdir(dirname(target))).toEqual(["line"]);
  }
});
