/** fillfront run: what it prints and what it writes. */
import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import type { Result } from "../../src/index.ts";
import { emptyFolder, fillfront, scenarioFile } from "./command.ts";
import { faultsOf } from "./result-schema.ts";

const TEXTS = ["machines.csv", "report.html", "report.md", "result.json", "series.csv"];
const PICTURES = ["buffers.png", "hold-up.png", "output.png", "states.png"];

async function resultIn(folder: string): Promise<Result> {
  return JSON.parse(await readFile(join(folder, "result.json"), "utf8"));
}

test("a report lies in reports/<the file's name>, with four pictures that are wide enough for print", async () => {
  const cwd = await emptyFolder();
  const { status, stdout, stderr } = await fillfront(["run", scenarioFile("short-chain")], { cwd });
  expect({ status, stderr }).toEqual({ status: 0, stderr: `Report in ${join("reports", "short-chain")}\n` });
  expect(stdout).toMatch(/^Eight cartoners.*192\/min of carton, its full output.*cartoner-8/s);
  expect(Math.max(...stdout.split("\n").map((line) => line.length))).toBeLessThanOrEqual(80);

  expect(await readdir(cwd)).toEqual(["reports"]);
  const folder = join(cwd, "reports", "short-chain");
  expect((await readdir(folder)).sort()).toEqual([...PICTURES, ...TEXTS].sort());
  for (const name of PICTURES) {
    const png = await readFile(join(folder, name));
    // PNG (ISO/IEC 15948), clauses 5.2 and 11.2.2: signature, then the width in the first chunk.
    expect(png.subarray(0, 8).toString("latin1")).toBe("\u0089PNG\r\n\u001a\n");
    expect(png.readUInt32BE(16)).toBeGreaterThanOrEqual(1200);
  }
  const markdown = await readFile(join(folder, "report.md"), "utf8");
  const order = ["# Eight cartoners", "## Pictures", "## Findings", "## Tables", "## Assumptions", "## Cautions"];
  const places = order.map((heading) => markdown.indexOf(heading));
  expect(places.every((place, index) => place > (places[index - 1] ?? -1))).toBe(true);
  for (const name of PICTURES) expect(markdown).toContain(`](${name})`);
});

test("--json prints the result of the report and nothing else, by the contract", async () => {
  const cwd = await emptyFolder();
  const args = ["run", scenarioFile("short-chain"), "--json", "--no-charts", "--out", "report"];
  const { status, stdout, stderr } = await fillfront(args, { cwd });
  expect({ status, stderr }).toEqual({ status: 0, stderr: "Report in report\n" });
  const result: unknown = JSON.parse(stdout);
  expect(faultsOf(result)).toEqual([]);
  expect(result).toEqual(await resultIn(join(cwd, "report")));
  expect((await readdir(join(cwd, "report"))).sort()).toEqual(TEXTS);
  // The schema bites: without a key, with a further one, with a number for a fraction.
  expect(faultsOf({ ...resultless(result, "dwell") })).not.toEqual([]);
  expect(faultsOf({ ...resultless(result), more: 1 })).not.toEqual([]);
  expect(faultsOf({ ...resultless(result), tick_s: 0.1 })).not.toEqual([]);
  expect(faultsOf({ ...resultless(result), tick_s: "2/-4" })).not.toEqual([]);
});

function resultless(result: unknown, without?: string): object {
  const entries = Object.entries(typeof result === "object" && result !== null ? result : {});
  return Object.fromEntries(entries.filter(([key]) => key !== without));
}

const OTHERS = ["long-chain", "creeping-chain", "custom-network", "undersupplied-chain", "unequal-chain"];

test("several files give an array in their order, and a report each", async () => {
  const cwd = await emptyFolder();
  const args = ["run", ...OTHERS.map(scenarioFile), "--json", "--no-charts", "--out", "all"];
  const { status, stdout, stderr } = await fillfront(args, { cwd });
  expect(status).toBe(0);
  expect(stderr).toBe(OTHERS.map((name) => `Report in ${join("all", name)}\n`).join(""));
  const results: Result[] = JSON.parse(stdout);
  for (const [index, name] of OTHERS.entries()) {
    expect(faultsOf(results[index]), name).toEqual([]);
    expect(await resultIn(join(cwd, "all", name))).toEqual(results[index]);
  }
});

test("standard input, --seed, --horizon and --check", async () => {
  const cwd = await emptyFolder();
  const stdin = await readFile(scenarioFile("short-chain"));
  const args = ["run", "-", "--seed", "other", "--horizon", "9/2 min", "--check", "--no-charts"];
  const { status, stdout, stderr } = await fillfront(args, { cwd, stdin });
  expect({ status, stderr }).toEqual({ status: 0, stderr: `Report in ${join("reports", "stdin")}\n` });
  expect(stdout).toMatch(/not settled within\s+4\.5 min/);
  const result = await resultIn(join(cwd, "reports", "stdin"));
  expect(result).toMatchObject({ seed: "other", horizon_min: 4.5 });
  expect(faultsOf(result)).toEqual([]);
  for (const { minutes } of result.machines) {
    const total = Object.values(minutes).reduce((sum, one) => sum + one, 0);
    expect(total).toBeCloseTo(4.5, 9);
  }
});
