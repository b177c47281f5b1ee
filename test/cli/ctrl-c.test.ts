/** A terminal's Ctrl-C: the first is answered at once, a second ends whatever is under way. */
import { spawn } from "node:child_process";
import { once } from "node:events";
import { readdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import ts from "typescript";
import { describe, expect, test } from "vitest";
import { emptyFolder, MAIN, scenarioFile } from "./command.ts";

const CTRL_C = "\u0003";

/** Types Ctrl-C at a terminal each time that the next of the texts has been shown. */
async function interrupted(args: readonly string[], cwd: string, texts: readonly string[]): Promise<string> {
  const command = ["exec", process.execPath, MAIN, ...args].map((arg, i) => (i === 0 ? arg : `'${arg}'`)).join(" ");
  const child = spawn("script", ["-qec", command, "/dev/null"], { cwd, env: { ...process.env, TERM: "xterm" } });
  const ended = once(child, "close");
  const awaited = [...texts];
  let shown = "";
  let from = 0;
  child.stdout.on("data", (chunk) => {
    shown += chunk;
    for (let [next] = awaited; next !== undefined && shown.includes(next, from); [next] = awaited) {
      from = shown.indexOf(next, from) + next.length;
      awaited.shift();
      child.stdin.write(CTRL_C);
    }
  });
  await ended;
  expect(awaited).toEqual([]);
  return shown;
}

/** Nothing in it recurs, so that a run of it takes as long as its horizon asks for. */
async function slowLine(horizon: string): Promise<string> {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("creeping-chain"), "utf8");
  const slow = text
    .replace("horizon: 2 h", `horizon: ${horizon}\ntick: 1 ms`)
    .replace("100.1 % of need", "136.371713/min");
  await writeFile(join(cwd, "line.yaml"), slow);
  return cwd;
}

/** Of which a replication takes a second or more. */
async function chancyLine(): Promise<string> {
  const cwd = await emptyFolder();
  const text = await readFile(scenarioFile("unreliable-chain"), "utf8");
  await writeFile(join(cwd, "line.yaml"), text.replace(/^horizon: .*$/m, "horizon: 1 d"));
  return cwd;
}

describe.skipIf(process.platform !== "linux")("at a terminal", () => {
  test("a run that simulates ends, and leaves nothing", async () => {
    const cwd = await slowLine("10 d");
    expect(await interrupted(["run", "line.yaml"], cwd, ["simulating"])).not.toContain("writing the report");
    expect(await readdir(cwd)).toEqual(["line.yaml"]);
  });

  test("so does the median run of replications, and the report", async () => {
    const cwd = await chancyLine();
    const args = ["run", "line.yaml", "--replications", "2", "--jobs", "1"];
    const shown = await interrupted(args, cwd, ["writing the report"]);
    expect(shown).not.toContain("Report in");
    expect(await readdir(cwd)).toEqual(["line.yaml"]);
  });

  test("a search for the best start gives what it has found", async () => {
    const cwd = await emptyFolder();
    const args = ["best", scenarioFile("granted-chain"), "--jobs", "1", "--no-charts"];
    const shown = await interrupted(args, cwd, [", 30 starts tried"]);
    expect(shown).toContain("stopped before it was done: better ones may be left");
    expect(await readdir(join(cwd, "reports", "granted-chain-best"))).toContain("starts.yaml");
  });

  test("stopped replications say how to end at once, and a second one does", async () => {
    const cwd = await chancyLine();
    const args = ["run", "line.yaml", "--replications", "1000", "--jobs", "1"];
    const shown = await interrupted(args, cwd, ["2 of 1000", "writing the report"]);
    expect(shown).toContain("stopping; Ctrl-C again ends at once");
    expect(shown).toMatch(/stopped when \d+ replications were complete/);
    expect(shown).not.toContain("Report in");
    expect(await readdir(cwd)).toEqual(["line.yaml"]);
  });
});

/** What a script prints that uses src/cli/interrupt.ts, which bundled is no file of its own, and by which signal it ends. */
async function interrupting(script: string): Promise<{ heard: string; signal: unknown }> {
  const source = await readFile(new URL("../../src/cli/interrupt.ts", import.meta.url), "utf8");
  const module = join(await emptyFolder(), "interrupt.mjs");
  const compilerOptions = { target: ts.ScriptTarget.ES2023, module: ts.ModuleKind.ESNext };
  await writeFile(module, ts.transpileModule(source, { compilerOptions }).outputText);
  const head = `
    import { sayWhenHeldOff, stoppable, uninterrupted } from ${JSON.stringify(pathToFileURL(module).href)};
    sayWhenHeldOff((text) => process.stdout.write(text + "; "));
    const later = (ms) => new Promise((resolve) => setTimeout(resolve, ms));
    const interrupt = () => process.kill(process.pid, "SIGINT");`;
  const child = spawn(process.execPath, ["--input-type=module", "-e", head + script]);
  let heard = "";
  child.stdout.on("data", (chunk) => {
    heard += chunk;
  });
  const signal = await new Promise((resolve) => child.on("close", (_, by) => resolve(by)));
  return { heard, signal };
}

test("Ctrl-C while a report is being written waits until it is", async () => {
  const outcome = await interrupting(`
    await uninterrupted(async () => {
      interrupt();
      await later(200);
      process.stdout.write("done");
    });
    await later(5000);
    process.stdout.write(" and went on");`);
  const heard = "putting the report in its place; Ctrl-C again ends at once; done";
  expect(outcome).toEqual({ heard, signal: "SIGINT" });
});

test("a second one ends at once, also while what the first has left is being written", async () => {
  const outcome = await interrupting(`
    await stoppable(async (stop) => {
      interrupt();
      while (!stop.aborted) await later(10);
      process.stdout.write("stopped");
    });
    await uninterrupted(async () => {
      interrupt();
      await later(5000);
      process.stdout.write(" and written all the same");
    });`);
  const heard = "stopping; Ctrl-C again ends at once; stopped";
  expect(outcome).toEqual({ heard, signal: "SIGINT" });
});
