/** What is printed, whatever names, options and parts hold: no character that commands a terminal or turns writing round. */
import { execFileSync } from "node:child_process";
import { openSync } from "node:fs";
import { copyFile, mkdir, readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { PassThrough } from "node:stream";
import { expect, test } from "vitest";
import { terminalOf } from "../../src/cli/terminal.ts";
import { emptyFolder, fillfront, MAIN, scenarioFile } from "./command.ts";

const COMMANDING = /[^\P{Cc}\n]|[\u061c\u200e\u200f\u202a-\u202e\u2066-\u2069\u2028\u2029]/u;
const EVIL = "a\u001b[31mb\u202ec\u009bd\re\u2067f";
const QUICK = ["--no-charts", "--horizon", "5 min"];

test("of all that is printed only our own colours command a terminal", async () => {
  const stdout = Object.assign(new PassThrough(), { isTTY: true });
  const stderr = Object.assign(new PassThrough(), { isTTY: true });
  const terminal = terminalOf({ stdout, stderr, env: {} });
  await terminal.print(`${terminal.style.title(EVIL)} ${EVIL}\n`);
  await terminal.printJson({ title: EVIL });
  terminal.tell(EVIL);
  terminal.complain(EVIL);
  const [out, err] = [String(stdout.read()), String(stderr.read())];
  const [first = "", ...json] = out.split("\n");
  expect(first.startsWith("\u001b[1m")).toBe(true);
  expect(first.replace("\u001b[1m", "").replace("\u001b[22m", "")).not.toMatch(COMMANDING);
  expect(json.join("\n")).not.toMatch(COMMANDING);
  expect(JSON.parse(json.join("\n"))).toEqual({ title: EVIL });
  expect(err.replace("\u001b[31m", "").replace("\u001b[39m", "")).not.toMatch(COMMANDING);
});

test("a file's name as title, its seed and what --vary says", async () => {
  const cwd = await emptyFolder();
  const text = (await readFile(scenarioFile("short-chain"), "utf8")).replace(/^title: .*\n/m, "");
  const file = `${EVIL}.yaml`;
  await writeFile(join(cwd, file), text);
  const run = await fillfront(["run", file, ...QUICK], { cwd });
  expect(run.status).toBe(0);
  const json = await fillfront(["run", file, "--json", ...QUICK], { cwd });
  const network = await fillfront(["check", file, "--network"], { cwd });
  expect(await fillfront(["check", "-"], { cwd, stdin: network.stdout })).toMatchObject({ status: 0, stderr: "" });
  const seed = await fillfront(["run", file, "--seed", EVIL, ...QUICK], { cwd });
  expect(seed.status).toBe(2);
  const vary = await fillfront(["sweep", file, "--vary", `title=${EVIL},b`, ...QUICK], { cwd });
  for (const { stdout, stderr } of [run, json, network, seed, vary]) expect(stdout + stderr).not.toMatch(COMMANDING);
});

test("gather takes only parts whose figures can be, as long as a part may be", async () => {
  const cwd = await emptyFolder();
  const vary = ["--vary", "machines.cartoner.infeed=50,100"];
  expect(
    await fillfront(["sweep", scenarioFile("short-chain"), ...vary, ...QUICK, "--out", "part"], { cwd }),
  ).toMatchObject({
    status: 0,
  });
  const part = await readFile(join(cwd, "part", "sweep.json"), "utf8");
  const spoiled = [
    part.replace(/"made": \d+/, '"made": -1'),
    part.replace(/"hold_up_peak": \d+/, '"hold_up_peak": -5'),
    part.replace(/"settling_min": (?:[\d.]+|null)/, '"settling_min": -5'),
    part.replace(/"full_per_min": "/, '"full_per_min": "-'),
    part.replace(/"title": "/, '"title": "\\u001b[2J'),
  ];
  for (const text of spoiled) {
    expect(text).not.toBe(part);
    await writeFile(join(cwd, "spoiled.json"), text);
    const { status, stdout, stderr } = await fillfront(["gather", "spoiled.json"], { cwd });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(/no part of a sweep/);
  }
  const endless = await fillfront(["gather", "/dev/zero"], { cwd });
  expect(endless).toMatchObject({ status: 2, stdout: "" });
  expect(endless.stderr).toMatch(/at most \d+ bytes/);
});

test("a place that can't be written is told before the work, with what to do; a full output, too", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "way"), "");
  for (const out of [join("way", "report"), "x".repeat(256), "/proc/report"]) {
    const { status, stdout, stderr } = await fillfront(["run", scenarioFile("short-chain"), "--out", out], { cwd });
    expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
    expect(stderr).toMatch(/cannot write the report folder .*; name another place with --out/);
    expect(stderr).not.toMatch(/\bE[A-Z]{4,}\b/);
  }
  expect(await readdir(cwd)).toEqual(["way"]);
  const full = openSync("/dev/full", "w");
  expect(() => execFileSync(process.execPath, [MAIN, "--help"], { stdio: ["ignore", full, "pipe"] })).toThrow(
    /cannot write to standard output: ENOSPC/,
  );
});

test("a working folder that was removed is told of", async () => {
  const cwd = await emptyFolder();
  await mkdir(join(cwd, "gone"));
  await copyFile(scenarioFile("short-chain"), join(cwd, "line.yaml"));
  const command = `cd gone && rmdir ../gone && exec "${process.execPath}" "${MAIN}" run "${cwd}/line.yaml"`;
  expect(() => execFileSync("sh", ["-c", command], { cwd, stdio: "pipe" })).toThrow(
    /the working folder has been removed; change to another one/,
  );
});
