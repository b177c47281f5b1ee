/** fillfront shortage. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { fillfront, scenarioFile } from "./command.ts";

const folder = mkdtempSync(join(tmpdir(), "fillfront-shortage-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

test("shortage lowers the feed step by step and writes its report", async () => {
  const out = join(folder, "steps");
  const args = ["shortage", scenarioFile("short-chain"), "--levels", "100..50:25", "--json", "--out", out];
  const { status, stdout, stderr } = await fillfront(args);
  expect({ status, stderr }).toEqual({ status: 0, stderr: `Report in ${out}\n` });
  const study = JSON.parse(stdout);
  expect(study.levels.map(({ level }: { level: string }) => level)).toEqual(["1", "3/4", "1/2"]);
  for (const { variants } of study.levels) {
    for (const key of ["settled_per_min", "jain", "fluctuation", "machines", "starving", "settling_min"]) {
      for (const variant of variants) expect(variant).toHaveProperty(key);
    }
  }
  expect(readdirSync(out).toSorted()).toEqual([
    "evenness.png",
    "report.html",
    "report.md",
    "shortage.csv",
    "shortage.json",
    "shortage.png",
  ]);
  expect(readFileSync(join(out, "shortage.json"), "utf8")).toBe(stdout);
});

test("without options every tenth of the feed, in a folder named after the file", async () => {
  const cwd = mkdtempSync(join(folder, "plain-"));
  const { status, stdout, stderr } = await fillfront(["shortage", scenarioFile("short-chain"), "--no-charts"], { cwd });
  expect(status).toBe(0);
  expect(stderr).toBe("Report in reports/short-chain-shortage\n");
  expect(stdout).toMatch(/only\s+who\s+works\s+differs/);
  expect(stdout.match(/^ *(?:100|[1-9]0\.0) +[\d.]+ /gm)).toHaveLength(10);
});

test("with --dip the feed is lowered for a while", async () => {
  const out = join(folder, "dip");
  const dip = ["--dip", "50 %", "--from", "1 h", "--for", "15 min"];
  const args = ["shortage", scenarioFile("short-chain"), ...dip, "--feed", "blender", "--json", "--out", out];
  const { status, stdout } = await fillfront(args);
  expect(status).toBe(0);
  const study = JSON.parse(stdout);
  expect(study.dip).toEqual({ level: "1/2", from_min: 60, for_min: 15 });
  expect(study.withheld).toBe(1440);
  expect(readdirSync(out).toSorted()).toEqual(["dip.csv", "dip.json", "dip.png", "report.md"]);
  expect(readFileSync(join(out, "dip.json"), "utf8")).toBe(stdout);
});

test.each([
  [["--levels", "10..100"], "falling percentages"],
  [["--levels", "120,50"], "falling percentages"],
  [["--levels", "50,50"], "falling percentages"],
  [["--levels", "0"], "above 0"],
  [["--levels", "100..1:0.5"], "at most 100"],
  [["--feed", "bender"], "there are blender"],
  [["--dip", "50 %"], "--from"],
  [["--from", "1 h"], "--dip"],
  [["--dip", "50", "--from", "1 h", "--for", "5 min"], "percentage"],
  [["--dip", "100 %", "--from", "1 h", "--for", "5 min"], "below 100 %"],
  [["--dip", "50 %", "--from", "1", "--for", "5 min"], "duration"],
  [["--dip", "50 %", "--from", "1 h", "--for", "0 min"], "above 0"],
  [["--dip", "50 %", "--from", "3 h", "--for", "1 h"], "--horizon"],
  [["--dip", "50 %", "--levels", "50"], "cannot be used with"],
])("%j is refused with a remedy, and nothing is written", async (options, remedy) => {
  const { status, stdout, stderr } = await fillfront(["shortage", scenarioFile("short-chain"), ...options]);
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain(remedy);
});
