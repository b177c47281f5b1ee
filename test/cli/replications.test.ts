/** fillfront run --replications: the contract, the same bytes from any number of workers, stopping, and what is refused. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, readdir, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import type { Result } from "../../src/index.ts";
import { contentsOf, emptyFolder, fillfront, MAIN, scenarioFile } from "./command.ts";
import { faultsOf } from "./result-schema.ts";

const PLANT = `
title: Three fillers that stop
horizon: 3 h
seed: quay
feeds: { silo: { item: can, rate: 72/min } }
machines:
  filler: { count: 3, cycle: 2.5 s, takes: { can: 1 }, makes: { filled: 1 }, infeed: 20 }
lines:
  main: { layout: chain, from: silo, to: filler, belt: { rate: 100/min, capacity: 6 } }
random:
  machines:
    filler: { breakdowns: { between: { exponential: 8 min }, repair: { exponential: 1 min } } }
`;

async function folderWithPlant(text = PLANT, folder: Promise<string> = emptyFolder()): Promise<string> {
  const cwd = await folder;
  await writeFile(join(cwd, "plant.yaml"), text);
  return cwd;
}

function resultOf(stdout: string): Result {
  return JSON.parse(stdout);
}

const TWENTY = ["run", "plant.yaml", "--replications", "20"];

describe("twenty replications", async () => {
  // Run once for all of these.
  const cwd = await folderWithPlant(PLANT, mkdtemp(join(tmpdir(), "fillfront-test-")));
  afterAll(() => rm(cwd, { recursive: true, force: true }));
  const { status, stdout, stderr } = await fillfront([...TWENTY, "--json", "--out", join("reports", "plant")], { cwd });
  const folder = join(cwd, "reports", "plant");
  const result = resultOf(stdout);
  const rows = (await readFile(join(folder, "replications.csv"), "utf8")).trimEnd().split("\r\n");
  const cells = rows.slice(1).map((row) => row.split(","));
  const column = (name: string): number[] => {
    const at = rows[0]?.split(",").indexOf(name) ?? -1;
    return cells.map((row) => Number(row[at]));
  };

  test("print the contract and write a whole report", async () => {
    expect({ status, stderr }).toEqual({ status: 0, stderr: `Report in ${join("reports", "plant")}\n` });
    expect(faultsOf(result)).toEqual([]);
    expect(await readFile(join(folder, "result.json"), "utf8")).toBe(stdout);
    expect((await readdir(folder)).sort()).toEqual(
      [
        ...[
          "buffers.png",
          "hold-up.png",
          "output.png",
          "states.png",
          "report.html",
          "report.md",
          "result.json",
          "machines.csv",
        ],
        ...["replications.csv", "replications-series.csv", "series.csv"],
      ].sort(),
    );
  });

  test("have the keys that other programs read, each with mean, interval and percentiles", () => {
    const { replications } = result;
    const figure = {
      mean: expect.any(Number),
      ci95: [expect.any(Number), expect.any(Number)],
      p5: expect.any(Number),
      p95: expect.any(Number),
    };
    expect(replications).toMatchObject({
      n: 20,
      seed: "quay",
      settled_output_per_min: figure,
      to_95_min: expect.any(Number),
      stops: [{ what: "breakdowns", of: "filler", enough: true, replications_needed: null }],
      ramp_up_loss: figure,
      hold_up_settled: figure,
      machines: ["filler-1", "filler-2", "filler-3"].map((id) => ({ id, uptime: figure })),
    });
  });

  test("the interval is Hall's of the figures in replications.csv: t(19) = 2.0930, leaning as they do", () => {
    for (const [name, key] of [
      ["settled_items_per_min", "settled_output_per_min"],
      ["hold_up_settled_items", "hold_up_settled"],
      ["ramp_up_loss_items", "ramp_up_loss"],
    ] as const) {
      const figures = column(name);
      const mean = figures.reduce((sum, one) => sum + one, 0) / 20;
      const sd = Math.sqrt(figures.reduce((sum, one) => sum + (one - mean) ** 2, 0) / 19);
      const said = result.replications?.[key];
      expect(said?.mean).toBeCloseTo(mean, 4);
      const skewness = figures.reduce((sum, one) => sum + ((one - mean) / sd) ** 3, 0) / 20;
      // At both ends the transformed figure is Student's.
      const transformed = (end: number): number => {
        const u = (mean - end) / sd;
        return u + (skewness * u ** 2) / 3 + (skewness ** 2 * u ** 3) / 27 + skewness / 120;
      };
      expect(transformed(said?.ci95?.[0] ?? 0) * Math.sqrt(20)).toBeCloseTo(2.0930241, 3);
      expect(transformed(said?.ci95?.[1] ?? 0) * Math.sqrt(20)).toBeCloseTo(-2.0930241, 3);
      expect(sd).toBeGreaterThan(0);
    }
  });

  test("all else is of the median run, which its seed repeats by itself", async () => {
    const { replications, seed, chance, ...others } = result;
    const { median } = replications ?? { median: { replication: 0, seed: "" } };
    const made = column("made_items").toSorted((a, b) => a - b);
    expect(others.output.made).toBe(made[9]);
    expect(column("made_items")[median.replication - 1]).toBe(made[9]);
    const again = await fillfront(
      ["run", "plant.yaml", "--seed", median.seed, "--json", "--no-charts", "--out", "one"],
      { cwd },
    );
    const { seed: itsSeed, chance: itsChance, ...same } = resultOf(again.stdout);
    expect(same).toEqual(others);
    expect([itsSeed, itsChance, seed]).toEqual([median.seed, chance, "quay"]);
  });

  test("the first is the run made without replications", async () => {
    const { stdout: single } = await fillfront(["run", "plant.yaml", "--json", "--no-charts", "--out", "one"], { cwd });
    const one = resultOf(single);
    expect(faultsOf(one)).toEqual([]);
    expect(one).toMatchObject({ seed: "quay", settling: { proved: false, basis: "measured" } });
    expect(one.replications).toBeUndefined();
    expect(one.output.made).toBe(column("made_items")[0]);
  });

  test("the report names both procedures and says what is of one run only", async () => {
    const report = await readFile(join(folder, "report.md"), "utf8");
    expect(report).toContain("| MSER-5 on the mean curve |");
    expect(report).toMatch(/\| Welch's procedure \| [\d.]+ \(moving average over .*\) \|/);
    expect(report).toContain("| breakdowns of filler |");
    expect(report).toContain("the median run, replication");
    expect(report).toContain("| settled output | items/min |");
    expect(report).not.toContain("repeats for good");
  });
});

test("the same bytes whatever the number of workers; another seed gives others", async () => {
  const run = async (...more: string[]) => {
    const cwd = await folderWithPlant();
    const { status, stdout } = await fillfront([...TWENTY, ...more, "--json", "--out", "out"], { cwd });
    expect(status).toBe(0);
    return { stdout, files: await contentsOf(cwd) };
  };
  const [one, two, five, other] = await Promise.all([
    run("--jobs", "1"),
    run("--jobs", "2"),
    run("--jobs", "5"),
    run("--seed", "other"),
  ]);
  expect(two).toEqual(one);
  expect(five).toEqual(one);
  expect(resultOf(other?.stdout ?? "{}").replications?.made.mean).not.toBe(
    resultOf(one?.stdout ?? "{}").replications?.made.mean,
  );
});

describe("--until", () => {
  test("ends with the first look at which the interval is narrow enough, and says so", async () => {
    const cwd = await folderWithPlant();
    const until = ["run", "plant.yaml", "--until", "settled_output_per_min=1 %", "--no-charts"];
    const { status, stdout } = await fillfront([...until, "--json"], { cwd });
    expect(status).toBe(0);
    const { replications } = resultOf(stdout);
    expect(replications?.until).toMatchObject({ figure: "settled_output_per_min", share: 0.01, reached: true });
    const { mean = 0, ci95 } = replications?.settled_output_per_min ?? {};
    expect(((ci95?.[1] ?? 0) - mean) / mean).toBeLessThanOrEqual(0.01 / 1.01);
    expect(replications?.n).toBeGreaterThanOrEqual(10);
    expect(replications?.n).toBeLessThan(100);
    const jobs = await fillfront([...until, "--json", "--jobs", "7"], { cwd });
    expect(jobs.stdout).toBe(stdout);
  });

  test("as many as --replications allows, and about how many would do", async () => {
    const cwd = await folderWithPlant();
    const args = ["--until", "uptime.filler-2=0.1%", "--replications", "12", "--no-charts"];
    const { status, stdout } = await fillfront(["run", "plant.yaml", ...args], { cwd });
    expect(status).toBe(0);
    expect(stdout.replace(/\s+/g, " ")).toMatch(
      /12 replications are not enough for an interval of ±0.1 % of uptime.filler-2 \(±[\d.]+ %\); about [\d ]+ would do/,
    );
  });
});

test.each([
  [["--replications", "1"], "one run is what fillfront run makes by itself"],
  [["--replications", "0"], "expected a whole number from 2 to 10000"],
  [["--replications", "ten"], "expected a whole number from 2 to 10000"],
  [["--replications", "2.5"], "expected a whole number from 2 to 10000"],
  [["--replications", "10001"], "expected a whole number from 2 to 10000"],
  [["--replications", "9", "--until", "made=1%"], "at the earliest"],
  [["--until", "made"], "figures are settled_output_per_min, ramp_up_loss"],
  [["--until", "speed=1%"], "figures are settled_output_per_min, ramp_up_loss"],
  [["--until", "uptime.filler-9=1%"], "uptime.filler-1"],
  [["--until", "made=1"], "expected a half-width"],
  [["--until", "made=0 %"], "expected a half-width"],
  [["--until", "made=100 %"], "expected a half-width"],
  [["--jobs", "2"], "--jobs is for replications"],
  [["--replications", "20", "--jobs", "0"], "--jobs"],
])("refused: %j", async (args, why) => {
  const cwd = await folderWithPlant();
  const { status, stdout, stderr } = await fillfront(["run", "plant.yaml", ...args], { cwd });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain(why);
  expect(await readdir(cwd)).toEqual(["plant.yaml"]);
});

test("a file that leaves nothing to chance is refused before any other is run", async () => {
  const cwd = await folderWithPlant();
  const args = ["run", "plant.yaml", scenarioFile("short-chain"), "--replications", "5"];
  const { status, stdout, stderr } = await fillfront(args, { cwd });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toContain("nothing is left to chance");
  expect(await readdir(cwd)).toEqual(["plant.yaml"]);
});

test("Ctrl-C leaves a report of the replications that are complete", async () => {
  const cwd = await folderWithPlant(PLANT.replace("horizon: 3 h", "horizon: 30 h"));
  const watched = ["--import", "data:text/javascript,process.stderr.isTTY=true"];
  const args = [MAIN, "run", "plant.yaml", "--replications", "10000", "--json", "--no-charts", "--jobs", "1"];
  const child = spawn(process.execPath, [...watched, ...args], { cwd, env: { ...process.env, TERM: "xterm" } });
  let [stdout, stderr] = ["", ""];
  child.stdout.on("data", (chunk: Buffer) => {
    stdout += String(chunk);
  });
  child.stderr.on("data", (chunk: Buffer) => {
    stderr += String(chunk);
    // A second one would not wait for the report.
    if (child.signalCode === null && !child.killed && / (?![01] )\d+ of 10000/.test(stderr)) child.kill("SIGINT");
  });
  const [, signal] = await once(child, "close");
  expect(signal).toBe("SIGINT");
  const complete = Number(/stopped when (\d+) replications were complete/.exec(stderr)?.[1]);
  expect(complete).toBeGreaterThanOrEqual(2);
  expect(resultOf(stdout).replications).toMatchObject({ n: complete, asked: 10_000 });
});

test.each([
  ["shortage", ["--levels", "100,50", "--no-charts"]],
  ["grow", ["--machines", "2..3", "--no-charts"]],
  ["sweep", ["--vary", "machines.filler.infeed=10,20", "--no-charts"]],
])("%s runs all on the same luck, and says that it is luck", async (command, args) => {
  const cwd = await folderWithPlant();
  const { status, stderr } = await fillfront([command, "plant.yaml", ...args], { cwd });
  expect(status, stderr).toBe(0);
  expect(stderr.match(/chance plays a part here/g)).toHaveLength(1);
});

test("prime finds doses on the line of the means, and says so first", async () => {
  const cwd = await folderWithPlant();
  const { status, stdout, stderr } = await fillfront(["prime", "plant.yaml", "--loss-below", "10"], { cwd });
  expect(status, stderr).toBe(0);
  expect(stderr).toContain("doses are found as if nothing were left to it");
  expect(stdout).toMatch(/^Sure +nothing yet/m);
  expect(stdout).toMatch(/^To do +.*compare/m);
});

test.each(["check", "estimate"])("%s says that its flows are those of the means", async (command) => {
  const cwd = await folderWithPlant();
  const { status, stderr } = await fillfront([command, "plant.yaml"], { cwd });
  expect(status, stderr).toBe(0);
  expect(stderr).toContain("stated means");
});

describe("a line that jams by luck in every run", async () => {
  const text = `
title: Two kinds that come at random
horizon: 4 h
feeds: { source: { items: { red: 1, blue: 1 }, rate: 40/min } }
machines:
  cutter: { cycle: 3 s, takes: { red: 1 }, makes: { strip: 1 }, infeed: 10 }
  folder: { cycle: 3.2 s, takes: { blue: 1 }, makes: { sheet: 1 }, infeed: 10 }
lines:
  main: { layout: chain, from: source, to: [cutter, folder], belt: { rate: 66/min, capacity: 6 } }
random:
  feeds: { source: { interval: { exponential: 100 % } } }
  machines: { cutter: { cycle: { exponential: 100 % } }, folder: { cycle: { exponential: 100 % } } }
`;
  const cwd = await folderWithPlant(text, mkdtemp(join(tmpdir(), "fillfront-test-")));
  afterAll(() => rm(cwd, { recursive: true }));

  test.each([
    [[], /^Makes +nothing any more: at its end the line had stopped, from \S+ min on,\s+with red standing on/m],
    [
      ["--replications", "6"],
      /^Makes +nothing in the long run: all 6 replications had stopped at the end,\s+the\s+first from \S+ min on/m,
    ],
  ])("%j: makes nothing, which has no loss, no interval and no tightest belt", async (more, makes) => {
    const { stdout } = await fillfront(["run", "plant.yaml", "--no-charts", "--details", ...more], { cwd });
    expect(stdout).toMatch(makes);
    expect(stdout).toMatch(/^To do +the mix, the take-off .*\s+first/m);
    expect(stdout).not.toMatch(/likely|^(Sure|From|Lost|Tightest) |interval|has not jammed|items in the ramp-up/m);
    const json = resultOf((await fillfront(["run", "plant.yaml", "--json", ...more], { cwd })).stdout);
    expect(json.output.ramp_up_loss).toBeNull();
    if (more.length > 0) {
      expect(json.replications?.stopped.length).toBe(6);
      expect(json.replications?.ramp_up_loss).toBeNull();
      expect(faultsOf(json)).toEqual([]);
    }
  });
});
