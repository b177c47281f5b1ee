/** fillfront layouts. */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { fillfront, type Outcome, scenarioFile } from "./command.ts";
import { layoutsFaultsOf } from "./result-schema.ts";

const folder = mkdtempSync(join(tmpdir(), "fillfront-layouts-"));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

interface Layout {
  readonly id: string;
  readonly feasible: boolean;
  readonly reason: string | null;
  readonly settling_min: number | null;
  readonly settled_per_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly file: string | null;
}

interface Study {
  readonly layouts: readonly Layout[];
  readonly recommended: string | null;
}

function studyOf({ status, stdout, stderr }: Outcome): Study {
  expect(status, stderr).toBe(0);
  const study: Study = JSON.parse(stdout);
  expect(layoutsFaultsOf(study)).toEqual([]);
  return study;
}

/** @param rates of every machine in the long run, whatever the layout */
async function runsAsTold({ layouts }: Study, cwd: string, rates: Readonly<Record<string, string>>): Promise<void> {
  const told = layouts.flatMap(({ file, ...layout }) => (file === null ? [] : [{ ...layout, file }]));
  expect(told.length).toBeGreaterThan(2);
  const ran = await fillfront(["run", ...told.map(({ file }) => file), "--no-charts", "--json"], { cwd });
  expect(ran.status, ran.stderr).toBe(0);
  for (const [index, result] of JSON.parse(ran.stdout).entries()) {
    expect(result.settling.time_min).toBe(told[index]?.settling_min);
    expect(result.output.ramp_up_loss).toBe(told[index]?.ramp_up_loss);
    const own = result.machines.map((machine: { id: string; settled_per_min: string }) => [
      machine.id,
      machine.settled_per_min,
    ]);
    expect(Object.fromEntries(own)).toEqual(rates);
  }
}

describe("four equal machines", () => {
  let outcome: Outcome;
  let study: Study;
  beforeAll(async () => {
    outcome = await fillfront(
      ["layouts", scenarioFile("four-equal"), "--json", "--out", "reports/four-equal-layouts"],
      { cwd: folder },
    );
    study = studyOf(outcome);
  });

  test("the contract, its report in a folder named after the file, and nothing else on standard output", () => {
    expect(outcome.stderr).toBe("Report in reports/four-equal-layouts\n");
    expect(study.layouts.map(({ id }) => id)).toEqual(expect.arrayContaining(["chain", "tree", "loop"]));
    expect(study.layouts.map(({ id }) => id)).toContain(study.recommended);
    const tree = study.layouts.find(({ id }) => id === "tree");
    expect(tree).toMatchObject({ feasible: true, settled_per_min: 150, file: "reports/four-equal-layouts/tree.yaml" });
  });

  test("report, table, pictures, and of each that can be built the scenario and its drawing", () => {
    const report = join(folder, "reports", "four-equal-layouts");
    const built = study.layouts.filter(({ feasible }) => feasible).flatMap(({ id }) => id);
    const own = built.flatMap((id) => [`${id}.yaml`, `${id}.svg`, `${id}.png`]);
    expect(readdirSync(report).toSorted()).toEqual(
      ["choice.png", "layouts.csv", "layouts.json", "output.png", "report.html", "report.md", ...own].toSorted(),
    );
    const text = readFileSync(join(report, "report.md"), "utf8");
    for (const [, target = ""] of text.matchAll(/\]\(([^)\s]+)\)/g)) expect(readdirSync(report)).toContain(target);
    const { layouts, ...rest } = JSON.parse(readFileSync(join(report, "layouts.json"), "utf8"));
    const beside = layouts.map((layout: Layout) => ({
      ...layout,
      file: layout.file === null ? null : join("reports", "four-equal-layouts", layout.file),
    }));
    expect({ ...rest, layouts: beside }).toEqual(JSON.parse(outcome.stdout));
  });

  test("each file runs as it is, to the figures told of it", async () => {
    await runsAsTold(study, folder, { "filler-1": "75/2", "filler-2": "75/2", "filler-3": "75/2", "filler-4": "75/2" });
  });

  test("each file says where it comes from", () => {
    for (const { file } of study.layouts) {
      if (file === null) continue;
      expect(readFileSync(join(folder, file), "utf8")).toMatch(
        /^# Made by fillfront layouts from: Four equal cup fillers \(invented\)\n# The line main as /,
      );
    }
  });

  test("again in the same place: the same study, the earlier report replaced", async () => {
    const again = await fillfront(
      ["layouts", scenarioFile("four-equal"), "--json", "--no-charts", "--out", "reports/four-equal-layouts"],
      { cwd: folder },
    );
    expect(again.stdout).toBe(outcome.stdout);
    const left = readdirSync(join(folder, "reports", "four-equal-layouts"));
    expect(left.filter((name) => /\.(?:png|svg)$/.test(name))).toEqual([]);
    expect(left).toContain("tree.yaml");
  });
});

test("five unequal machines: each file runs with every machine at its exact need", async () => {
  const cwd = mkdtempSync(join(folder, "unequal-"));
  const options = ["--json", "--no-charts", "--out", "out"];
  const study = studyOf(await fillfront(["layouts", scenarioFile("five-unequal"), ...options], { cwd }));
  await runsAsTold(study, cwd, {
    "saucer-press": "8/3",
    "bowl-press": "4",
    "plate-press": "16/3",
    "tile-press": "20/3",
    "mug-press": "16/3",
  });
});

test("unequal needs, two ways only, another priority and folder; tables instead of JSON", async () => {
  const out = join(folder, "out");
  const options = ["--line", "main", "--ways", "2", "--priority", "small", "--no-charts", "--details", "--out", out];
  const { status, stdout, stderr } = await fillfront(["layouts", scenarioFile("five-unequal"), ...options]);
  expect(status, stderr).toBe(0);
  expect(stderr).toBe(`Report in ${out}\n`);
  expect(stdout).toMatch(/dividers\s+of\s+two\s+ways/);
  expect(stdout).toMatch(/^- Recommended for little floor \(priority small\): /m);
  expect(stdout).toMatch(/^- tree cannot be built: /m);
  expect(Math.max(...stdout.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);
  expect(readdirSync(out)).not.toContain("tree.yaml");
});

test.each([
  ["four-equal", ["--ways", "13"], "2 to 12"],
  ["four-equal", ["--ways", ""], "2 to 12"],
  ["four-equal", ["--priority", "best"], "expected fast, small, cheap, even, grow"],
  ["four-equal", ["--line", "mian"], "there are main"],
  ["four-equal", ["--horizon", "long"], "--horizon"],
  ["tin-assembly", [], "--line"],
  ["custom-network", [], "custom"],
  ["jamming-mix", [], "several kinds"],
  ["take-off-mix", [], "main"],
])("%s with %j is refused with a remedy, and nothing is written", async (name, options, remedy) => {
  const cwd = mkdtempSync(join(folder, "refused-"));
  const { status, stdout, stderr } = await fillfront(["layouts", scenarioFile(name), ...options], { cwd });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain(remedy);
  expect(readdirSync(cwd)).toEqual([]);
});
