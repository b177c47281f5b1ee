import { mkdir, mkdtemp, readdir, readFile, rm, symlink, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, expect, test } from "vitest";
import { comparisonFiles } from "../../src/report/files/comparison-files.ts";
import { growthFiles } from "../../src/report/files/growth-files.ts";
import { layoutsFiles } from "../../src/report/files/layouts-files.ts";
import { reportFiles } from "../../src/report/files/run-files.ts";
import { sweepFiles } from "../../src/report/files/sweep-files.ts";
import { ReportFolderError, type ReportFolderProblem } from "../../src/report/folder/folder.ts";
import { writeReport } from "../../src/report/folder/put-folder.ts";
import { layoutsSample } from "./layouts-sample.ts";
import { sample } from "./sample.ts";
import { comparisonSample, growthSample } from "./study-sample.ts";
import { ONE, sweepSample } from "./sweep-sample.ts";

let root = "";
beforeEach(async () => {
  root = await mkdtemp(join(tmpdir(), "fillfront-report-"));
});
afterEach(async () => {
  await rm(root, { recursive: true, force: true });
});

const { result, series } = sample({ machines: 3, samples: 20 });
const files = await reportFiles(result, series, { charts: false });

/** All that lies under the root, with contents. */
async function everything(): Promise<Record<string, string>> {
  const found: Record<string, string> = {};
  for (const entry of await readdir(root, { recursive: true, withFileTypes: true })) {
    const path = join(entry.parentPath, entry.name);
    found[path.slice(root.length + 1)] = entry.isFile() ? await readFile(path, "utf8") : "/";
  }
  return found;
}

async function problem(writing: Promise<unknown>): Promise<ReportFolderProblem | "none"> {
  try {
    await writing;
    return "none";
  } catch (error) {
    if (error instanceof ReportFolderError) return error.problem;
    throw error;
  }
}

test("a new folder, its parents made, holds the files and nothing else", async () => {
  await writeReport(join(root, "reports", "line"), files);
  expect(Object.keys(await everything()).sort()).toEqual([
    "reports",
    "reports/line",
    "reports/line/machines.csv",
    "reports/line/report.md",
    "reports/line/result.json",
    "reports/line/series.csv",
  ]);
});

test("result.json reads back as the result", () => {
  const text = String(files.get("result.json"));
  expect(JSON.parse(text)).toEqual({ format: "fillfront-run", format_version: 1, ...result });
  expect(text.endsWith("}\n")).toBe(true);
});

test("an earlier report is replaced whole: no file of it is left", async () => {
  const target = join(root, "line");
  await writeReport(target, new Map([...files, ["output.png", new Uint8Array([1])]]));
  await writeReport(target, new Map([...files, ["report.md", "second"]]));
  const found = await everything();
  expect(found["line/report.md"]).toBe("second");
  expect(Object.keys(found)).toHaveLength(5);
});

const study = comparisonSample();
const kinds = [
  files,
  await comparisonFiles(study.comparison, study.curves, { charts: false }),
  await growthFiles(growthSample(), { charts: false }),
  await layoutsFiles(layoutsSample(), { charts: false }),
  await sweepFiles(sweepSample(ONE), { charts: false }),
];

test("reports of every kind are ours, and may take one another's place", async () => {
  const target = join(root, "line");
  for (const first of kinds) {
    for (const second of kinds) {
      await writeReport(target, first);
      await writeReport(target, second);
      expect((await readdir(target)).sort()).toEqual([...second.keys()].sort());
    }
  }
});

test.each([
  ["comparison.json", "{}"],
  ["comparison.json", '{"tactics": []}'],
  ["growth.json", '{"tactics": [], "winner": "x"}'],
  ["growth.json", "[1, 2]"],
  ["layouts.json", '{"layouts": []}'],
  ["sweep.json", '{"points": []}'],
  ["chain.yaml", "title: mine"],
])("a %s that holds %s is not ours", async (name, content) => {
  const target = join(root, "line");
  await mkdir(target);
  await writeFile(join(target, name), content);
  expect(await problem(writeReport(target, files))).toBe("foreign-folder");
});

test("files of two kinds are not one report, to be replaced or to be written", async () => {
  const target = join(root, "line");
  await writeReport(target, files);
  await writeFile(join(target, "growth.csv"), "mine");
  expect(await problem(writeReport(target, files))).toBe("foreign-folder");
  await expect(writeReport(join(root, "other"), new Map(kinds.flatMap((kind) => [...kind])))).rejects.toThrow(
    RangeError,
  );
});

const LAYOUTS_JSON = '{"layouts": [], "recommended": null}';

test.each(["chain.yaml", "tree.svg", "loop.png", "tree-of-2-chains.yaml", "chain-of-trees-of-12.svg"])(
  "%s belongs to a study of layouts, and to no other report",
  async (name) => {
    const target = join(root, "line");
    await mkdir(target);
    await writeFile(join(target, "layouts.json"), LAYOUTS_JSON);
    await writeFile(join(target, name), "");
    expect(await problem(writeReport(target, files))).toBe("none");
    await writeFile(join(target, name), "mine");
    expect(await problem(writeReport(target, files))).toBe("foreign-folder");
  },
);

test.each([
  "mine.yaml",
  "chain.yml",
  "chain.yaml.bak",
  "my-chain.yaml",
  "Chain.yaml",
  "chain.yaml\n",
  "tree-of-0-chains.yaml",
  "tree-of-02-chains.yaml",
  "tree-of-chains.yaml",
  "tree-of-99999-chains.yaml",
  "tree-of-2-chains-of-2.yaml",
  "chain-of-trees.png",
  "lanes.svg",
])("%j is no file of a study of layouts: it is not replaced and not written", async (name) => {
  const target = join(root, "line");
  await mkdir(target);
  await writeFile(join(target, "layouts.json"), LAYOUTS_JSON);
  await writeFile(join(target, name), "mine");
  const before = await everything();
  expect(await problem(writeReport(target, files))).toBe("foreign-folder");
  expect(await everything()).toEqual(before);
  const own = new Map([
    ["layouts.json", LAYOUTS_JSON],
    [name, ""],
  ]);
  await expect(writeReport(join(root, "other"), own)).rejects.toThrow(RangeError);
});

test("an empty folder may be filled", async () => {
  await mkdir(join(root, "line"));
  expect(await problem(writeReport(join(root, "line"), files))).toBe("none");
});

test.each<[string, (target: string) => Promise<unknown>, ReportFolderProblem]>([
  ["a file", (target) => writeFile(target, "mine"), "not-a-folder"],
  [
    "a folder of somebody's",
    (target) => mkdir(target).then(() => writeFile(join(target, "thesis.txt"), "mine")),
    "foreign-folder",
  ],
  [
    "a report.md that isn't ours",
    (target) => mkdir(target).then(() => writeFile(join(target, "report.md"), "mine")),
    "foreign-folder",
  ],
  [
    "a result.json that isn't ours",
    (target) => mkdir(target).then(() => writeFile(join(target, "result.json"), "{}")),
    "foreign-folder",
  ],
  [
    "a report with something added",
    (target) => writeReport(target, files).then(() => writeFile(join(target, "notes.txt"), "mine")),
    "foreign-folder",
  ],
  [
    "a report with a folder added",
    (target) => writeReport(target, files).then(() => mkdir(join(target, "mine"))),
    "foreign-folder",
  ],
])("%s is refused and left as it was", async (_, make, expected) => {
  const target = join(root, "line");
  await make(target);
  const before = await everything();
  expect(await problem(writeReport(target, files))).toBe(expected);
  expect(await everything()).toEqual(before);
});

test("the folder one stands in is refused", async () => {
  expect(await problem(writeReport(".", files))).toBe("working-folder");
});

test("when a file can't be written the earlier report stays and no temporary is left", async () => {
  const target = join(root, "line");
  await writeReport(target, files);
  const before = await everything();
  const broken: ReadonlyMap<string, string | Uint8Array> = new Map([...files, ["output.png", refusing()]]);
  expect(await problem(writeReport(target, broken))).toBe("unwritable");
  expect(await everything()).toEqual(before);
});

/** Content that fails halfway, as a full disk would. */
function refusing(): Uint8Array {
  return new Proxy(new Uint8Array(8), {
    get() {
      throw new Error("no space left");
    },
  });
}

test("a link to a folder keeps being a link", async () => {
  await mkdir(join(root, "real"));
  await symlink(join(root, "real"), join(root, "link"));
  await writeReport(join(root, "link"), files);
  expect(
    (await readdir(root, { withFileTypes: true })).map((entry) => [entry.name, entry.isSymbolicLink()]).sort(),
  ).toEqual([
    ["link", true],
    ["real", false],
  ]);
  expect(await readdir(join(root, "real"))).toContain("result.json");
});

test("names that no report has can't be written, so nothing leaves the folder", async () => {
  await expect(writeReport(join(root, "line"), new Map([["../evil", "x"]]))).rejects.toThrow(RangeError);
  expect(await readdir(root)).toEqual([]);
});
