/** fillfront fit as a user runs it: what it prints and writes, and what it refuses with nothing written. */
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { Fit } from "../../src/index.ts";
import { contentsOf, emptyFolder, fillfront, SCENARIOS, scenarioFile } from "./command.ts";

const TRIAL = scenarioFile("pouch-trial");
const COUNTS = join(SCENARIOS, "pouch-trial-counts.csv");
const INFEED = ["--unknown", "machines.cartoner.infeed=20..90"];
const KNOWN = `feeds:\n  blender: { item: pouch, rate: 157/min }\n`;
const FOLDER = join("reports", "trial-fit");

/** The example with the feed and the slow machine as its counts have them, so that only the room is unknown. */
async function nearlyRight(): Promise<string> {
  const cwd = await emptyFolder();
  const text = (await readFile(TRIAL, "utf8"))
    .replace(/feeds:\n.*\n/, KNOWN)
    .replace("[100 %, 100 %, 100 %", "[100 %, 100 %, 88 %");
  expect(text).toContain("157/min");
  expect(text).toContain("88 %");
  await writeFile(join(cwd, "trial.yaml"), text);
  return cwd;
}

test("a report with pictures, the fitted file and the same JSON on standard output", async () => {
  const cwd = await nearlyRight();
  const { status, stdout, stderr } = await fillfront(
    ["fit", "trial.yaml", "--observed", COUNTS, ...INFEED, "--json", "--out", FOLDER],
    {
      cwd,
    },
  );
  expect({ status, stderr }).toEqual({ status: 0, stderr: `Report in ${FOLDER}\n` });
  const fit: Fit = JSON.parse(stdout);
  expect(await readFile(join(cwd, FOLDER, "fit.json"), "utf8")).toBe(stdout);
  expect((await readdir(join(cwd, FOLDER))).sort()).toEqual(
    [
      "fit.csv",
      "fit.json",
      "fitted.yaml",
      "levels.png",
      "made.png",
      "profile-1.png",
      "report.md",
      "residuals.png",
    ].sort(),
  );
  // The counts were made with room for 41, and errors of an item or so.
  expect(fit).toMatchObject({
    title: "Trial start of five cartoners (invented)",
    fits: true,
    degrees_of_freedom: 71,
    unknowns: [{ path: "machines.cartoner.infeed", text: "41", own: 55, told: "pinned", range_95: [41, 41] }],
  });
  const csv = await readFile(join(cwd, FOLDER, "fit.csv"), "utf8");
  expect(csv.split("\r\n")).toHaveLength(72 + 2);
  const again = await fillfront(["run", join(FOLDER, "fitted.yaml"), "--no-charts"], { cwd });
  expect(again.status).toBe(0);
});

test("findings and a table, and a report that replaces an earlier one", async () => {
  const cwd = await nearlyRight();
  const args = ["fit", "trial.yaml", "--observed", COUNTS, ...INFEED, "--no-charts"];
  const first = await fillfront(args, { cwd });
  const before = await contentsOf(cwd);
  const second = await fillfront(args, { cwd });
  expect(first.stdout).toMatch(
    /^Found +machines\.cartoner\.infeed is 41: the whole numbers next to it fit worse\n +\(95 %\)$/m,
  );
  expect(first.stdout).toMatch(/^Fits +yes/m);
  expect(second).toEqual(first);
  expect(await contentsOf(cwd)).toEqual(before);
});

test("counts from standard input, and errors of one's own", async () => {
  const cwd = await nearlyRight();
  const stdin = await readFile(COUNTS);
  const args = ["fit", "trial.yaml", "--observed", "-", ...INFEED, "--error", "2", "--error", "made=5", "--json"];
  const { stdout } = await fillfront([...args, "--no-charts"], { cwd, stdin });
  const fit: Fit = JSON.parse(stdout);
  expect(fit.series.map(({ name, error }) => [name, error])).toEqual([
    ["cartoner-3.made", 2],
    ["cartoner-3.infeed", 2],
    ["cartoner-5.infeed", 2],
    ["made", 5],
  ]);
});

const OBSERVED = ["--observed", COUNTS];

test.each<[string, string[], string]>([
  ["no counts", INFEED, "state the counts: --observed counts.csv, with a header such as time_min,cartoner-3.made"],
  ["nothing unknown", OBSERVED, "state what is unknown, and between which bounds: fillfront fit"],
  ["no bounds", [...OBSERVED, "--unknown", "machines.cartoner.infeed"], "expected a path and its bounds"],
  ["one bound", [...OBSERVED, "--unknown", "machines.cartoner.infeed=20"], "expected the bounds between which to look"],
  ["no unit", [...OBSERVED, "--unknown", "feeds.blender.rate=1.5..2.5"], "both bounds are quantities with their unit"],
  ["unlike bounds", [...OBSERVED, "--unknown", "feeds.blender.rate=100/min..20 s"], "both bounds are of one kind"],
  ["falling bounds", [...OBSERVED, "--unknown", "machines.cartoner.infeed=90..20"], "the second bound must be above"],
  ["the same twice", [...OBSERVED, ...INFEED, ...INFEED], "machines.cartoner.infeed is stated twice"],
  ["a bad error", [...OBSERVED, ...INFEED, "--error", "0"], "expected the error of a count in items"],
  ["a strange error", [...OBSERVED, ...INFEED, "--error", "mad=2"], "has no such column; it has cartoner-3.made"],
  ["an unknown path", [...OBSERVED, "--unknown", "machines.cartonr.infeed=20..90"], 'did you mean "cartoner"?'],
  ["a wrong corner", [...OBSERVED, "--unknown", "machines.cartoner.infeed=0..90"], "with machines.cartoner.infeed=0:"],
  ["no such counts", ["--observed", "none.csv", ...INFEED], "none.csv: no such file"],
  ["the scenario as counts", ["--observed", TRIAL, ...INFEED], "expected the times, as time_min"],
])("%s: refused, nothing written", async (_what, args, message) => {
  const cwd = await emptyFolder();
  const { status, stdout, stderr } = await fillfront(["fit", TRIAL, ...args], { cwd });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain(message);
  expect(await readdir(cwd)).toEqual([]);
});
