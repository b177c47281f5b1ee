/** Limits that a system sets. */
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { emptyFolder, fillfront, MAIN, scenarioFile } from "./command.ts";
import { shell } from "./shell.ts";

// Far less than the 10 GB of addresses that Node sets aside for a memory whose indices it doesn't check.
test.each([3_000_000, 9_000_000])("with %i kB of addresses a run is what it is without a limit", async (kB) => {
  const cwd = await emptyFolder();
  const args = ["run", scenarioFile("short-chain"), "--json", "--no-charts", "--horizon", "5 min"];
  const limited = await shell(`ulimit -v ${kB} && fillfront ${args.map((arg) => `'${arg}'`).join(" ")}`, cwd);
  expect(limited).toMatchObject({ status: 0 });
  expect(limited.stdout).toBe((await fillfront(args, { cwd })).stdout);
});

test("under a limit a refusal keeps its status, and the library says what helps", async () => {
  const cwd = await emptyFolder();
  expect(await shell("ulimit -v 9000000 && fillfront run nowhere.yaml", cwd)).toMatchObject({ status: 2 });
  const library = new URL("../index.js", `file://${MAIN}`).href;
  const script = `
    import { readFileSync } from "node:fs";
    import { prepare, readScenario, simulate } from "${library}";
    const { program } = prepare(readScenario(readFileSync("${scenarioFile("short-chain")}", "utf8")).scenario);
    simulate(program, { horizonTicks: 10 });`;
  await writeFile(join(cwd, "run.mjs"), script);
  const { status, stderr } = await shell(`ulimit -v 9000000 && '${process.execPath}' run.mjs`, cwd);
  expect(status).toBe(1);
  expect(stderr).toMatch(/needs \d+ MiB of memory.*ulimit -v unlimited.*--disable-wasm-trap-handler/);
});

test("more workers than there are addresses for are not started", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "line.yaml"), await readFile(scenarioFile("short-chain"), "utf8"));
  const vary = "--vary machines.cartoner.infeed=60..90:2 --horizon '20 min' --jobs 16 --no-charts --out swept";
  const { status, stderr } = await shell(`ulimit -v 9000000 && fillfront sweep line.yaml ${vary}`, cwd);
  expect({ status, stderr }).toMatchObject({ status: 0, stderr: expect.not.stringContaining("OOM") });
});

/** A heap far below Node's own, and what grows beyond what is left of it: by machines, by pictures, by layouts. */
test.each([
  [50, ["run", scenarioFile("short-chain")]],
  [60, ["run", scenarioFile("long-chain")]],
  [60, ["layouts", scenarioFile("thirty-equal")]],
  [100, ["run", "large.yaml"]],
])("a heap of %i MB says what to do before Node ends the program: %j", async (megabytes, args) => {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("long-chain"), "utf8");
  await writeFile(join(cwd, "large.yaml"), text.replace("count: 24", "count: 1000").replace("4 h", "40 min"));
  const env = { NODE_OPTIONS: `--max-old-space-size=${megabytes}` };
  const { status, stdout, stderr } = await fillfront(args, { cwd, env });
  expect({ status, stdout }).toEqual({ status: 1, stdout: "" });
  const more = 4 * megabytes;
  expect(stderr).toMatch(
    new RegExp(
      `^fillfront failed: Node's heap of ${megabytes} MB is full; .*--max-old-space-size=${more}\\b.*--horizon`,
    ),
  );
  expect(await readdir(cwd)).toEqual(["large.yaml"]);
});

test("a heap of 128 MB is enough for a run of twenty-four machines", async () => {
  const env = { NODE_OPTIONS: "--max-old-space-size=128" };
  const args = ["run", scenarioFile("long-chain"), "--json"];
  expect(await fillfront(args, { env })).toMatchObject({ status: 0, stderr: "" });
});
