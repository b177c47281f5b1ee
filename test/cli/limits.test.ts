/** Limits that a system sets, and a terminal's Ctrl-C. */
import { spawn } from "node:child_process";
import { once } from "node:events";
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

test("Ctrl-C at a terminal ends a run that simulates, and leaves nothing", async () => {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("creeping-chain"), "utf8");
  const slow = text.replace("horizon: 2 h", "horizon: 10 d\ntick: 1 ms").replace("100.1 % of need", "136.371713/min");
  await writeFile(join(cwd, "line.yaml"), slow);
  const command = `exec '${process.execPath}' '${MAIN}' run line.yaml`;
  const child = spawn("script", ["-qec", command, "/dev/null"], { cwd, env: { ...process.env, TERM: "xterm" } });
  const ended = once(child, "close");
  let shown = "";
  child.stdout.on("data", (chunk) => {
    if (!shown.includes("simulating") && `${shown}${chunk}`.includes("simulating")) child.stdin.write("\u0003");
    shown += chunk;
  });
  await ended;
  expect(shown).toContain("simulating");
  expect(shown).not.toContain("writing the report");
  expect(await readdir(cwd)).toEqual(["line.yaml"]);
});

test("more workers than there are addresses for are not started", async () => {
  const cwd = await emptyFolder();
  await writeFile(join(cwd, "line.yaml"), await readFile(scenarioFile("short-chain"), "utf8"));
  const vary = "--vary machines.cartoner.infeed=60..90:2 --horizon '20 min' --jobs 16 --no-charts --out swept";
  const { status, stderr } = await shell(`ulimit -v 9000000 && fillfront sweep line.yaml ${vary}`, cwd);
  expect({ status, stderr }).toMatchObject({ status: 0, stderr: expect.not.stringContaining("OOM") });
});
