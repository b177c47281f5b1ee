/** fillfront sweep and gather: points as single runs give them, parts, workers, and what is stopped. */
import { spawn } from "node:child_process";
import { createHash } from "node:crypto";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { Result, Sweep } from "../../src/index.ts";
import { contentsOf, emptyFolder, fillfront, MAIN, scenarioFile } from "./command.ts";
import { shell } from "./shell.ts";

const SHORT = scenarioFile("short-chain");
const ONE = ["--vary", "feeds.blender.rate=120/min..240/min:60/min"];
const TWO = [...ONE, "--vary", "machines.cartoner.infeed=20,40"];

async function sweepIn(folder: string): Promise<Sweep> {
  return JSON.parse(await readFile(join(folder, "sweep.json"), "utf8"));
}

test("every point is what a run of the edited file gives", async () => {
  const cwd = await emptyFolder();
  const { status, stdout, stderr } = await fillfront(["sweep", SHORT, ...TWO, "--json", "--out", "sweep"], { cwd });
  const folder = "sweep";
  expect({ status, stderr }).toEqual({ status: 0, stderr: `Report in ${folder}\n` });
  const sweep: Sweep = JSON.parse(stdout);
  expect(await readFile(join(cwd, folder, "sweep.json"), "utf8")).toBe(stdout);
  expect((await readdir(join(cwd, folder))).sort()).toEqual(
    ["loss.png", "output.png", "report.md", "settling.png", "sweep.csv", "sweep.json"].sort(),
  );
  const text = await readFile(SHORT, "utf8");
  expect(sweep).toMatchObject({
    title: "Eight cartoners on one chained belt (invented)",
    scenario: "short-chain",
    scenario_sha256: createHash("sha256").update(text).digest("hex"),
    horizon_min: 240,
    of_points: 6,
    shard: null,
  });
  expect(sweep.points.map(({ values }) => values.join())).toEqual(
    ["120/min", "180/min", "240/min"].flatMap((rate) => [`${rate},20`, `${rate},40`]),
  );

  for (const { values } of sweep.points) {
    const edited = text.replace("rate: 192/min", `rate: ${values[0]}`).replace("infeed: 90", `infeed: ${values[1]}`);
    await writeFile(join(cwd, `${values[1]}-${values[0]?.slice(0, 3)}.yaml`), edited);
  }
  const names = sweep.points.map(({ values }) => `${values[1]}-${values[0]?.slice(0, 3)}.yaml`);
  const runs = await fillfront(["run", ...names, "--json", "--no-charts"], { cwd });
  const results: Result[] = JSON.parse(runs.stdout);
  expect(sweep.points).toEqual(
    results.map(({ settling, output, hold_up: holdUp }, i) => ({
      point: i + 1,
      values: sweep.points[i]?.values,
      proved: settling.proved,
      basis: settling.basis,
      settling_min: settling.time_min,
      stops_at_min: null,
      within_tolerance_min: settling.within_tolerance_min,
      ramp_up_loss: output.ramp_up_loss,
      full_per_min: output.full_per_min,
      settled_per_min: output.settled_per_min,
      made: output.made,
      hold_up_peak: holdUp.peak,
      hold_up_settled: holdUp.settled,
    })),
  );
});

test("the same bytes whatever the number of workers", async () => {
  const folders = await Promise.all(
    ["1", "2", "5"].map(async (jobs) => {
      const cwd = await emptyFolder();
      const { status, stdout } = await fillfront(["sweep", SHORT, ...TWO, "--jobs", jobs, "--out", "out"], { cwd });
      expect(status).toBe(0);
      return { stdout, files: await contentsOf(cwd) };
    }),
  );
  expect(Object.keys(folders[0]?.files ?? {})).toHaveLength(6);
  expect(folders[1]).toEqual(folders[0]);
  expect(folders[2]).toEqual(folders[0]);
});

test("parts run by processes of their own and gathered are the bytes of one run", async () => {
  const cwd = await emptyFolder();
  const sweep = `fillfront sweep "${SHORT}" ${TWO.join(" ")}`;
  // As GNU parallel, the tasks of a Slurm array or the pods of an indexed job would: one process a part, at once.
  const parts = `for part in 1 2 3; do ${sweep} --jobs 1 --shard $part/3 & done; wait`;
  expect(await shell(`${parts}; fillfront gather reports/short-chain-sweep-*-of-3 --out joined`, cwd)).toMatchObject({
    status: 0,
  });
  expect(await shell(`${sweep} --out whole`, cwd)).toMatchObject({ status: 0 });
  expect(await contentsOf(join(cwd, "joined"))).toEqual(await contentsOf(join(cwd, "whole")));
  const second = await sweepIn(join(cwd, "reports", "short-chain-sweep-2-of-3"));
  expect(second).toMatchObject({ shard: "2/3", of_points: 6 });
  expect(second.points.map(({ point }) => point)).toEqual([2, 5]);

  // A file of a part does as well as its folder; where nothing is stated the report goes where the whole would.
  const files = [1, 2, 3].map((part) => join("reports", `short-chain-sweep-${part}-of-3`, "sweep.json"));
  const plain = await fillfront(["gather", ...files, "--no-charts"], { cwd });
  expect(plain).toMatchObject({ status: 0, stderr: `Report in ${join("reports", "short-chain-sweep")}\n` });
  const { stdout: joined } = await fillfront(["gather", ...files, "--json"], { cwd });
  expect(joined).toBe(await readFile(join(cwd, "whole", "sweep.json"), "utf8"));

  await writeFile(join(cwd, "other.yaml"), (await readFile(SHORT, "utf8")).replace("count: 8", "count: 7"));
  const other = ["sweep", "other.yaml", ...TWO, "--shard", "3/3", "--no-charts", "--out", "other"];
  expect(await fillfront(other, { cwd })).toMatchObject({ status: 0 });
  const before = await contentsOf(cwd);
  const refused: readonly (readonly [places: readonly string[], message: RegExp])[] = [
    [files.slice(0, 2), /^points 3, 6 missing: gather also --shard 3\/3\n$/],
    [
      [...files.slice(0, 2), "other"],
      /^other is a part of another sweep than reports.*: it is of a file with other text\n$/,
    ],
    [["nowhere"], /^nowhere: no such file; expected the report folder of a sweep/],
    [["other.yaml"], /^other\.yaml: no part of a sweep/],
  ];
  for (const [places, message] of refused) {
    const { status, stdout, stderr } = await fillfront(["gather", ...places, "--out", "no"], { cwd });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(message);
  }
  expect(await contentsOf(cwd)).toEqual(before);
});

const WRONG: readonly (readonly [args: readonly string[], message: RegExp])[] = [
  [[], /^state what to vary: fillfront sweep scenarios\/short-chain\.yaml --vary feeds/],
  [["--vary", "feeds.blender.rate"], /expected a path and its values/],
  [["--vary", "feeds.blender.rate=60/min..300/min"], /a range of quantities needs a step/],
  [["--vary", "a=1", "--vary", "b=1", "--vary", "c=1"], /one or two quantities/],
  [["--vary", "a=1", "--vary", "a=2"], /a is stated twice/],
  [["--vary", "a=1..200", "--vary", "b=1..51"], /at most 10000 points/],
  [["--vary", "horizon=1 h,2 h", "--horizon", "2 h"], /--horizon and --vary horizon contradict/],
  [[...ONE, "--jobs", "0"], /--jobs "0"/],
  [[...ONE, "--shard", "4/3"], /--shard "4\/3"/],
  [[...ONE, "--horizon", "4"], /--horizon "4": expected auto, or a duration/],
  [
    ["--vary", "feeds.blender.rate=0/min,60/min,70"],
    /yaml with feeds\.blender\.rate=0\/min:\n\S+:6:33: "0\/min": must be more than zero\n.*with feeds\.blender\.rate=70:\n\S+:6:33: "70" has no unit/s,
  ],
  [["--vary", "feeds.blendr.rate=1/min..9/min:1/min"], /and 8 more points:\n\S+:5:1: .*did you mean "blender"\?\n$/],
  [["--vary", "tick=1 s,2 s"], /with tick=1 s:\n.*a tick of 1 s is too long.*with tick=2 s:/s],
];

test("bad paths and values are refused with status 2 before anything runs, and nothing is written", async () => {
  const cwd = await emptyFolder();
  const outcomes = await Promise.all(WRONG.map(([args]) => fillfront(["sweep", SHORT, ...args], { cwd })));
  for (const [index, [args, message]] of WRONG.entries()) {
    const { status, stdout, stderr } = outcomes[index] ?? {};
    expect({ status, stdout }, args.join(" ")).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(message);
  }
  expect(await readdir(cwd)).toEqual([]);
});

test("a warning of all points is told once, one of some with their values", async () => {
  const text = (await readFile(SHORT, "utf8")).replace(
    "machines:\n",
    "machines:\n  spare: { cycle: 1 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 5 }\n",
  );
  const args = ["sweep", "-", "--vary", "machines.spare.cycle=1 s,2 s", "--horizon", "1 min", "--no-charts"];
  const { status, stderr } = await fillfront(args, { stdin: text });
  expect(status).toBe(0);
  expect(stderr.match(/^standard input:.*warning: .*spare.*$/gm)).toHaveLength(1);
  const steps = "profile: [{ from: 0 s, rate: 240/min }, { from: 2 min, rate: 120/min }]";
  const stdin = (await readFile(SHORT, "utf8")).replace("rate: 192/min", steps);
  const some = await fillfront(["sweep", "-", "--vary", "horizon=1 min..3 min:1 min", "--no-charts"], { stdin });
  expect(some.stderr.match(/warning: .*$/gm)).toEqual([
    expect.stringContaining("(with horizon=1 min)"),
    expect.stringContaining("(with horizon=2 min)"),
  ]);
});

test("Ctrl-C leaves a report of the points that are complete, and says so", async () => {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("creeping-chain"), "utf8");
  // At ticks as short as that, and a rate with which nothing recurs, the last point takes ten seconds or more.
  const slow = text.replace("horizon: 2 h", "tick: 1 ms").replace("100.1 % of need", "136.371713/min");
  await writeFile(join(cwd, "line.yaml"), slow);
  const args = ["sweep", "line.yaml", "--vary", "horizon=1 min,2 min,3 min,10 d", "--no-charts", "--out", "report"];
  // Slow machines need longer before the first points are complete; until then nothing is to be left.
  let waitMs = 3000;
  for (; waitMs < 40_000; waitMs *= 2) {
    const child = spawn(process.execPath, [MAIN, ...args], { cwd });
    let heard = "";
    child.stderr.on("data", (chunk) => {
      heard += chunk;
    });
    const ended = new Promise((resolve) => child.on("close", (_, signal) => resolve(signal)));
    setTimeout(() => child.kill("SIGINT"), waitMs);
    expect(await ended).toBe("SIGINT");
    const names = await readdir(cwd);
    if (!names.includes("report")) {
      expect(names).toEqual(["line.yaml"]);
      continue;
    }
    expect(names.sort()).toEqual(["line.yaml", "report"]);
    const stopped = await sweepIn(join(cwd, "report"));
    const complete = stopped.points.map(({ point }) => point);
    expect(complete.length).toBeGreaterThan(0);
    expect(complete).not.toContain(4);
    expect(heard).toContain(`line.yaml: stopped when ${complete.length} of 4 points were complete`);
    expect(await readFile(join(cwd, "report", "report.md"), "utf8")).toContain("The sweep was stopped");
    // What is complete is right, and the report one that a later sweep may replace.
    const again = ["sweep", "line.yaml", "--vary", "horizon=1 min,2 min,3 min", "--no-charts", "--out", "report"];
    expect(await fillfront(again, { cwd })).toMatchObject({ status: 0 });
    expect((await sweepIn(join(cwd, "report"))).points.filter(({ point }) => complete.includes(point))).toEqual(
      stopped.points,
    );
    return;
  }
  expect.fail(`no point was complete within ${waitMs} ms`);
}, 120_000);
