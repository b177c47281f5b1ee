/** Two at once at one report folder: every place at which one may come between two calls of the other. */
import * as fs from "node:fs";
import { mkdtemp, readdir, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { expect, test } from "vitest";
import { DISK, type Disk } from "../../src/report/folder/disk.ts";
import { checkReportFolder, type ReportPut, writeReport } from "../../src/report/folder/put-folder.ts";

/** Without threads and flushing, which thousands of calls would wait for. */
const PROMPT: Disk = {
  ...DISK,
  realpath: async (path) => fs.realpathSync(path),
  look: async (path) => {
    const seen = fs.lstatSync(path, { throwIfNoEntry: false });
    if (seen === undefined) return null;
    const { mode, dev, mtimeMs } = seen;
    return { kind: seen.isDirectory() ? "folder" : "other", mode: mode & 0o7777, device: dev, changedMs: mtimeMs };
  },
  list: async (folder) =>
    fs.readdirSync(folder, { withFileTypes: true }).map((entry) => ({ name: entry.name, isFile: entry.isFile() })),
  read: async (file) => fs.readFileSync(file, "utf8"),
  makeFolders: async (folder) => fs.mkdirSync(folder, { recursive: true }),
  makeFolder: async (folder) => fs.mkdirSync(folder),
  write: async (file, content) => fs.writeFileSync(file, content),
  settle: async () => undefined,
  rename: async (from, to) => fs.renameSync(from, to),
  changeMode: async (path, mode) => fs.chmodSync(path, mode),
  remove: async (path) => fs.rmSync(path, { recursive: true, force: true }),
  removeEmpty: async (folder) => fs.rmdirSync(folder),
};

/** The n-th call waits until it may go on. */
function waiting(n: number): { disk: Disk; reached: Promise<void>; goOn: () => void } {
  let [reach, goOn]: (() => void)[] = [];
  const reached = new Promise<void>((resolve) => {
    reach = resolve;
  });
  const may = new Promise<void>((resolve) => {
    goOn = resolve;
  });
  let calls = 0;
  const disk = new Proxy(PROMPT, {
    get:
      (real, name: keyof Disk) =>
      async (...args: never[]): Promise<unknown> => {
        const work: (...of: never[]) => Promise<unknown> = real[name];
        if (++calls === n) {
          reach?.();
          await may;
        }
        return work(...args);
      },
  });
  return { disk, reached, goOn: () => goOn?.() };
}

type Act = (folder: string, disk: Disk) => Promise<ReportPut>;

const FILES = new Map([
  ["report.md", "sweep"],
  ["sweep.json", JSON.stringify({ quantities: [], points: [] })],
]);
const write: Act = (folder, disk) => writeReport(folder, FILES, disk);

test.each<[string, Act, Act, string[]]>([
  ["two checks", checkReportFolder, checkReportFolder, []],
  ["a check and a writer", checkReportFolder, write, ["line"]],
  ["a writer and a check", write, checkReportFolder, ["line"]],
  ["two writers", write, write, ["line"]],
])("%s: nothing fails and nothing is left behind", async (_, one, other, left) => {
  const root = await mkdtemp(join(tmpdir(), "fillfront-at-once-"));
  let places = 0;
  // The first stops before its call n; the other one starts and stops before its call m; the first ends, then the other.
  for (let [n, isWithin] = [1, true]; isWithin; n++) {
    for (let [m, isBetween] = [1, true]; isBetween; m++) {
      const target = join(root, `${n}-${m}`, "reports", "line");
      fs.mkdirSync(join(root, `${n}-${m}`));
      const [first, second] = [waiting(n), waiting(m)];
      const firstEnd = one(target, first.disk);
      isWithin = await Promise.race([first.reached.then(() => true), firstEnd.then(() => false)]);
      const secondEnd = other(target, second.disk);
      isBetween = await Promise.race([second.reached.then(() => true), secondEnd.then(() => false)]);
      first.goOn();
      const ends = [await firstEnd];
      second.goOn();
      ends.push(await secondEnd);
      expect({ n, m, ends }).toEqual({ n, m, ends: ["whole", "whole"] });
      expect(await readdir(join(target, "..", "..")), `calls ${n} and ${m}`).toEqual(
        left.length > 0 ? ["reports"] : [],
      );
      if (left.length > 0) expect(await readdir(join(target, "..")), `calls ${n} and ${m}`).toEqual(left);
      places += 1;
    }
  }
  expect(places).toBeGreaterThan(100);
  await rm(root, { recursive: true, force: true });
});
