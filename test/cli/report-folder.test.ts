/** A report folder is replaced whole or not at all, and is the same wherever and whenever it is made. */
import { spawn } from "node:child_process";
import { copyFile, mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { contentsOf, emptyFolder, fillfront, MAIN, scenarioFile } from "./command.ts";

const QUICK = ["--no-charts", "--horizon", "5 min"];

test("a report is the same bytes on every run, whatever the folder, time zone and language", async () => {
  const [here, there] = [await emptyFolder(), await emptyFolder()];
  await copyFile(scenarioFile("unequal-chain"), join(there, "unequal-chain.yaml"));
  const outcomes = await Promise.all([
    fillfront(["run", scenarioFile("unequal-chain"), "--horizon", "2 h"], { cwd: here, env: { TZ: "UTC", LANG: "C" } }),
    fillfront(["run", "unequal-chain.yaml", "--horizon", "120 min"], {
      cwd: there,
      env: { TZ: "Pacific/Chatham", LANG: "tr_TR.UTF-8", LC_ALL: "tr_TR.UTF-8" },
    }),
  ]);
  expect(outcomes[0]).toEqual(outcomes[1]);
  const report = join("reports", "unequal-chain");
  const contents = await contentsOf(join(here, report));
  expect(Object.keys(contents)).toHaveLength(9);
  expect(await contentsOf(join(there, report))).toEqual(contents);
});

test("a warning in a report names the file without its folder", async () => {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("short-chain"), "utf8");
  const spare = "machines:\n  spare: { cycle: 1 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 5 }\n";
  await writeFile(join(cwd, "line.yaml"), text.replace("machines:\n", spare));
  const { stdout } = await fillfront(["run", join(cwd, "line.yaml"), "--json", ...QUICK], { cwd });
  expect(JSON.parse(stdout).warnings[0]).toMatch(/^line\.yaml:\d+:\d+: warning: /);
});

test("an earlier report is replaced whole", async () => {
  const cwd = await emptyFolder();
  await mkdir(join(cwd, "report"));
  const args = ["run", scenarioFile("short-chain"), "--out", "report", "--horizon", "5 min"];
  expect(await fillfront(args, { cwd })).toMatchObject({ status: 0 });
  expect(await readdir(join(cwd, "report"))).toHaveLength(9);
  expect(await fillfront([...args, "--no-charts"], { cwd })).toMatchObject({ status: 0 });
  expect(await readdir(join(cwd, "report"))).toHaveLength(5);
  expect(await readdir(cwd)).toEqual(["report"]);
});

test("a folder of something else is left as it is, and no other report is written either", async () => {
  const cwd = await emptyFolder();
  await mkdir(join(cwd, "all", "long-chain"), { recursive: true });
  await writeFile(join(cwd, "all", "long-chain", "notes.txt"), "mine");
  const before = await contentsOf(cwd);
  const args = ["run", scenarioFile("short-chain"), scenarioFile("long-chain"), "--out", "all", ...QUICK];
  const { status, stdout, stderr } = await fillfront(args, { cwd });
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toMatch(/long-chain is not an earlier report: it holds "notes\.txt"/);
  expect(await contentsOf(cwd)).toEqual(before);
  expect(await readdir(join(cwd, "all"))).toEqual(["long-chain"]);

  const here = await fillfront(["run", scenarioFile("short-chain"), "--out", ".", ...QUICK], { cwd });
  expect(here).toMatchObject({ status: 2, stdout: "" });
});

test("a run that is killed leaves the earlier report", async () => {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("creeping-chain"), "utf8");
  await writeFile(join(cwd, "line.yaml"), text.replace("horizon: 2 h", "horizon: 10 d\ntick: 1 ms"));
  expect(await fillfront(["run", "line.yaml", "--out", "report", ...QUICK], { cwd })).toMatchObject({ status: 0 });
  const before = await contentsOf(cwd);
  const child = spawn(process.execPath, [MAIN, "run", "line.yaml", "--out", "report"], { cwd, stdio: "ignore" });
  const ended = new Promise((resolve) => child.on("close", (_, signal) => resolve(signal)));
  setTimeout(() => child.kill("SIGINT"), 500);
  // That a signal ended it shows that it was not done yet.
  expect(await ended).toBe("SIGINT");
  expect(await contentsOf(cwd)).toEqual(before);
  expect((await readdir(cwd)).sort()).toEqual(["line.yaml", "report"]);
});
