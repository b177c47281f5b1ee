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

test("a heap that fills between two tellings of progress says what to do, and nothing is half written", async () => {
  const cwd = await emptyFolder();
  // Bit by bit, as answers do, while the report is being made.
  const filling = `
    const { stringify } = JSON;
    let kept = null;
    JSON.stringify = (...given) => {
      while (given[0]?.settling) kept = { kept };
      return stringify(...given);
    };`;
  await writeFile(join(cwd, "filling.mjs"), filling);
  const env = { NODE_OPTIONS: "--max-old-space-size=256 --import=./filling.mjs" };
  const args = ["run", scenarioFile("short-chain"), "--no-charts", "--out", "report"];
  const { status, signal, stdout, stderr } = await fillfront(args, { cwd, env });
  expect({ status, signal, stdout }).toEqual({ status: 1, signal: null, stdout: "" });
  expect(stderr).toMatch(
    /^fillfront failed: Node's heap of 256 MB is full; .*--max-old-space-size=1024\b.*--horizon.*\n$/,
  );
  expect(await readdir(cwd)).toEqual(["filling.mjs"]);
});
