/** fillfront best: its answer, its document, its report, whatever the number of threads. */
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { emptyFolder, fillfront, scenarioFile } from "./command.ts";
import { bestFaultsOf } from "./result-schema.ts";

const QUICK = ["--most", "40", "--no-by-item"];
const FILE = scenarioFile("granted-chain");

test("the same bytes whatever the number of threads, as its schema has them, and better than what is known", async () => {
  const [one, two] = await Promise.all(
    ["1", "2"].map((jobs) => fillfront(["best", FILE, ...QUICK, "--json", "--jobs", jobs])),
  );
  expect(one?.stderr).toBe("");
  expect(two?.stdout).toBe(one?.stdout);
  const study = JSON.parse(one?.stdout ?? "");
  expect(bestFaultsOf(study)).toEqual([]);
  const best = study.starts.find(({ id }: { id: string }) => id === study.recommended);
  expect(best.ramp_up_loss).toBeLessThan(study.best_known.ramp_up_loss);
});

test("the report has the starts as a file, the card with its cautions, and where stock helps", async () => {
  const out = join(await emptyFolder(), "best");
  const { status, stdout } = await fillfront(["best", FILE, ...QUICK, "--no-charts", "--out", out]);
  expect(status).toBe(0);
  expect(stdout).toContain("lock out");
  expect(readdirSync(out).sort()).toEqual(["best.json", "placements.csv", "report.md", "starts.csv", "starts.yaml"]);
  const report = readFileSync(join(out, "report.md"), "utf8");
  for (const part of ["## Card for the operator", "## Where stock helps", "29 CFR 1910.147"])
    expect(report).toContain(part);
  const checked = await fillfront(["check", join(out, "starts.yaml")]);
  expect(checked.status, checked.stderr).toBe(0);
});

test.each([
  [["--within", "soon"], "duration"],
  [["--loss-below", "few"], "number of items"],
  [["--priority", "luck"], "loss, time, handling, hold-up"],
  [["--most", "3"], "from 20"],
  [["--replications", "5"], "nothing is left to chance"],
])("%s is refused", async (asked, why) => {
  const { status, stderr } = await fillfront(["best", FILE, ...asked, "--json"]);
  expect(status).toBe(2);
  expect(stderr).toContain(why);
});
