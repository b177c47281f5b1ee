/** compare and layouts where something is left to chance: whole commands. */
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { Comparison, LayoutStudy } from "../../src/index.ts";
import { contentsOf, emptyFolder, fillfront, scenarioFile } from "./command.ts";
import { layoutsFaultsOf } from "./result-schema.ts";

const UNRELIABLE = scenarioFile("unreliable-chain");
const TACTICS = ["--tactic", "stocked", "half-stocked", "metered-105"];
const SHORT = ["--horizon", "1 h"];
const MEANS = "means: { hands: { items: 9999, rate: 60/min, while: before }, branches: variable }\n";

test("compare: a winner by its interval, in table, JSON, report and one picture; the same bytes for one worker and two", async () => {
  const outcomes = await Promise.all(
    ["1", "2"].map(async (jobs) => {
      const cwd = await emptyFolder();
      await writeFile(join(cwd, "line.yaml"), `${await readFile(UNRELIABLE, "utf8")}${MEANS}`);
      const args = [
        "compare",
        "line.yaml",
        ...TACTICS,
        ...SHORT,
        "--replications",
        "4",
        "--jobs",
        jobs,
        "--out",
        "out",
      ];
      const { status, stdout, stderr } = await fillfront(args, { cwd });
      expect({ status, stderr }).toEqual({ status: 0, stderr: "Report in out\n" });
      return { cwd, stdout, files: await contentsOf(cwd) };
    }),
  );
  const [one, two] = outcomes;
  expect({ ...two, cwd: null }).toEqual({ ...one, cwd: null });
  const folder = join(one?.cwd ?? "", "out");
  expect((await readdir(folder)).toSorted()).toEqual(
    [
      "choice.png",
      "comparison.csv",
      "comparison.json",
      "differences.csv",
      "differences.png",
      "missing.png",
      "output.png",
      "report.html",
      "report.md",
    ].toSorted(),
  );
  const comparison: Comparison = JSON.parse(await readFile(join(folder, "comparison.json"), "utf8"));
  const loss = comparison.replications?.deciding;
  expect(comparison.replications).toMatchObject({ n: 4, seed: "marram-road", baseline: "none", level: 0.975, look: 1 });
  expect(comparison.winner).toBe(loss?.told_apart ? loss.leader : null);
  expect(one?.stdout).toMatch(
    comparison.winner === null ? /^Do +No winner: /m : new RegExp(`^Do +${comparison.winner} wins: `, "m"),
  );
  for (const { from_leader: paired } of loss?.variants ?? []) {
    if (paired === null) continue;
    const [low, high] = paired.interval;
    expect(paired.told).toBe(low > 0 ? "more" : high < 0 ? "less" : null);
  }
  const report = await readFile(join(folder, "report.md"), "utf8");
  expect(report).toContain("## Differences on the same luck");
  expect(report).toContain("4 replications of each");
  const rows = (await readFile(join(folder, "differences.csv"), "utf8")).trimEnd().split("\r\n");
  expect(rows).toHaveLength(1 + 3 * 4);
});

test("without --replications ten of each are played, and that is said", async () => {
  const args = ["compare", UNRELIABLE, "--tactic", "metered-105", "--horizon", "20 min", "--no-charts", "--json"];
  const { status, stdout, stderr } = await fillfront(args);
  expect(status).toBe(0);
  expect(stderr).toContain("10 replications of each are played");
  const comparison: Comparison = JSON.parse(stdout);
  expect(comparison.replications?.n).toBe(10);
});

test("two tactics that are the same differ by nothing, and neither wins", async () => {
  const cwd = await emptyFolder();
  const twice = "tactics:\n  one: { prefill: full }\n  other: { prefill: full }\n";
  await writeFile(join(cwd, "line.yaml"), `${await readFile(UNRELIABLE, "utf8")}${MEANS}${twice}`);
  const args = ["compare", "line.yaml", "--horizon", "30 min", "--replications", "3", "--no-charts"];
  const { status, stdout } = await fillfront(args, { cwd });
  expect(status).toBe(0);
  expect(stdout.replace(/\s+/g, " ")).toMatch(
    /No winner: one likely loses least .* but is not told apart from other with 3 replications .* Sure only that one loses less than doing nothing .* To do no number of replications tells, for they do not differ in any/,
  );
});

test("layouts: means and differences of all that can be built, by the contract; none is primed by one run's luck", async () => {
  const cwd = await emptyFolder();
  const args = ["layouts", UNRELIABLE, ...SHORT, "--replications", "3", "--no-charts", "--json", "--out", "out"];
  const { status, stdout } = await fillfront(args, { cwd });
  expect(status).toBe(0);
  const study: LayoutStudy = JSON.parse(stdout);
  expect(layoutsFaultsOf(study)).toEqual([]);
  const built = study.layouts.filter(({ feasible }) => feasible).map(({ id }) => id);
  for (const { variants } of study.replications?.figures ?? []) expect(variants.map(({ id }) => id)).toEqual(built);
  const loss = study.replications?.figures.find(({ figure }) => figure === "ramp_up_loss");
  expect(study.recommended).toBe(loss?.told_apart ? loss.leader : null);
  for (const { id, primed, ramp_up_loss: lost } of study.layouts) {
    expect(primed).toBeNull();
    expect(lost).toBe(loss?.variants.find((variant) => variant.id === id)?.value?.mean ?? null);
  }
  const report = await readFile(join(cwd, "out", "report.md"), "utf8");
  expect(report).toContain("## Differences on the same luck");
  expect(report).not.toContain("No priming is better");
});

test.each([
  [["compare", UNRELIABLE, "--replications", "1"], "differences take 2 or more"],
  [["layouts", UNRELIABLE, "--replications", "many"], "a whole number from 2 to 1000"],
  [["compare", scenarioFile("short-chain"), "--replications", "10"], "nothing is left to chance"],
  [["layouts", scenarioFile("four-equal"), "--replications", "10"], "nothing is left to chance"],
  [["compare", UNRELIABLE, "--replications", "4", "--jobs", "0"], "--jobs"],
])("%j is refused with a remedy, and nothing is written", async (args, remedy) => {
  const cwd = await emptyFolder();
  const { status, stdout, stderr } = await fillfront(args, { cwd });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain(remedy);
  expect(await readdir(cwd)).toEqual([]);
});
