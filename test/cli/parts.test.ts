/** Replications and comparisons in parts: whole commands with --shard, and gather. */
import { readdir, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { contentsOf, emptyFolder, fillfront, scenarioFile } from "./command.ts";

const UNRELIABLE = scenarioFile("unreliable-chain");
const BRIEF = ["--horizon", "20 min", "--seed", "of its own"];

const STUDIES: readonly (readonly [name: string, ...args: string[]])[] = [
  ["", "run", UNRELIABLE, ...BRIEF, "--replications", "3"],
  ["-compare", "compare", UNRELIABLE, ...BRIEF, "--replications", "3", "--tactic", "metered-105", "--look", "2"],
  ["-layouts", "layouts", UNRELIABLE, ...BRIEF, "--replications", "3", "--priority", "even"],
];

test.each(STUDIES)("gathered parts%s are the bytes of one run", async (name, ...args) => {
  const cwd = await emptyFolder();
  const done = { status: 0, signal: null };
  for (const part of ["1", "2"]) {
    expect(await fillfront([...args, "--jobs", "1", "--shard", `${part}/2`], { cwd })).toMatchObject({
      ...done,
      stdout: "",
    });
  }
  const whole = await fillfront([...args, "--no-charts", "--out", "whole"], { cwd });
  // In any order, by folder or by file.
  const [one, two] = ["1", "2"].map((part) => join("reports", `unreliable-chain${name}-${part}-of-2`));
  const places = [two ?? "", join(one ?? "", "part.json")];
  const joined = await fillfront(["gather", ...places, "--no-charts"], { cwd });
  // Where the report lies is told, too.
  const said = ({ stdout, ...all }: typeof whole) => ({
    ...all,
    stderr: "",
    stdout: stdout.replace(/See \S*report\.md.*/, ""),
  });
  expect(said(joined)).toEqual(said(whole));
  expect(joined).toMatchObject(done);
  const own = await contentsOf(join(cwd, "reports", `unreliable-chain${name}`));
  // Layouts name their files by the folder, on the terminal only.
  expect(own).toEqual(await contentsOf(join(cwd, "whole")));
  expect(Object.keys(own).length).toBeGreaterThan(2);
});

test("machines from a table go along in a part, which is gathered where the table is not", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "hall.csv"), "name,count,cycle [s],takes,makes,room\nfiller,3,3,jar,lid,30\n");
  const text = `
title: Three fillers from a table (invented)
horizon: 30 min
machines: { from: hall.csv }
feeds: { conveyor: { item: jar, rate: as needed } }
lines:
  main: { layout: chain, from: conveyor, to: filler, belt: { length: 2 m, speed: 24 m/min, pitch: 200 mm } }
random: { machines: { filler: { breakdowns: { between: 10 min, repair: 1 min } } } }
`;
  await writeFile(join(cwd, "line.yaml"), text);
  const args = ["run", "line.yaml", "--replications", "4", "--no-charts"];
  for (const part of ["1", "2"]) {
    expect(await fillfront([...args, "--shard", `${part}/2`], { cwd })).toMatchObject({ status: 0 });
  }
  expect(await fillfront([...args, "--out", "whole"], { cwd })).toMatchObject({ status: 0 });
  await rm(join(cwd, "hall.csv"));
  const places = ["1", "2"].map((part) => join("reports", `line-${part}-of-2`));
  expect(await fillfront(["gather", ...places, "--no-charts", "--out", "own"], { cwd })).toMatchObject({ status: 0 });
  expect(await contentsOf(join(cwd, "own"))).toEqual(await contentsOf(join(cwd, "whole")));
});

test("parts that are missing, double, of another study or spoiled are refused, and nothing is written", async () => {
  const cwd = await emptyFolder();
  const args = ["run", UNRELIABLE, "--horizon", "5 min", "--replications", "4"];
  for (const [out, ...more] of [
    ["one", "--shard", "1/2"],
    ["two", "--shard", "2/2"],
    ["other", "--shard", "2/2", "--seed", "another"],
  ]) {
    expect(await fillfront([...args, ...more, "--out", out ?? ""], { cwd })).toMatchObject({ status: 0 });
  }
  const text = await readFile(join(cwd, "two", "part.json"), "utf8");
  const spoil = (name: string, from: string | RegExp, to: string) => writeFile(join(cwd, name), text.replace(from, to));
  await spoil("longer.json", '"held":[', '"held":[1,');
  await spoil("wilder.json", '"held":[', '"held":["1",');
  await spoil("newer.json", /"made_by":"[^"]*"/, '"made_by":"fillfront 99.0.0"');
  const before = await contentsOf(cwd);
  for (const [places, message] of [
    [["one"], /^replications 2, 4 missing: gather also --shard 2\/2\n$/],
    [["one", "two", "one"], /^one: replication 1 is in a part before it, too; give each part once\n$/],
    [["one", "other"], /^other is a part of another study than one: it has another seed\n$/],
    [["one", "longer.json"], /^replication 2 is not what it is here: run its part again/],
    [["one", "wilder.json"], /^wilder\.json: no part of a sweep, of replications or of a comparison; expected what/],
    [["one", "newer.json"], /^newer\.json is a part of another study than one: it was made by another version/],
  ] as const) {
    const { status, stdout, stderr } = await fillfront(["gather", ...places, "--out", "no"], { cwd });
    expect({ status, stdout }, String(places)).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(message);
  }
  expect(await contentsOf(cwd)).toEqual(before);
});

test.each([
  [["run", UNRELIABLE, "--shard", "1/2"], "state --replications"],
  [["run", UNRELIABLE, "--until", "made=2 %", "--replications", "20", "--shard", "1/2"], "no --until"],
  [["run", UNRELIABLE, "--replications", "4", "--shard", "1/2", "--json"], "ask gather for it"],
  [["run", UNRELIABLE, "--replications", "4", "--shard", "1/5"], "there are only 4 replications to share"],
  [["compare", scenarioFile("short-chain"), "--shard", "1/2"], "nothing is left to chance"],
  [["layouts", UNRELIABLE, "--replications", "4", "--shard", "3/2"], "expected a part and their number"],
])("%j is refused with a remedy, and nothing is written", async (args, remedy) => {
  const cwd = await emptyFolder();
  const { status, stdout, stderr } = await fillfront(args, { cwd });
  expect(status).toBe(2);
  // Under --json what is wrong is told there, too.
  const refusal = args.includes("--json") ? expect.stringContaining(remedy) : "";
  expect(stdout).toEqual(refusal);
  expect(stderr).toContain(remedy);
  expect(await readdir(cwd)).toEqual([]);
});
