/** The core of the library runs where nothing of Node is: bundled for browsers, and run with what those and their workers have. */
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { createContext, runInContext } from "node:vm";
import { rolldown } from "rolldown";
import { expect, test } from "vitest";
import { ROOT } from "./sources.ts";

/** A file from its text to its result; the same code within and without. */
const PLAYED = `(core, text) => {
  const read = core.readScenario(text, { name: "line" });
  if (!read.ok) return JSON.stringify(read.findings);
  const scenario = core.withHorizon({ ...read.scenario, ...core.statedHorizon(core.rational("60")) });
  const prepared = core.prepare(scenario, read.locate);
  const { program, horizonTicks, network } = prepared;
  const run = core.simulate(program, { horizonTicks, seed: scenario.seed });
  const { result } = core.analyse(run, scenario, core.solveFlow(network));
  const { comparison } = core.compareTactics(scenario, core.knownTactics(scenario).slice(0, 1));
  // Tactics hold exact fractions.
  return JSON.stringify({ result, comparison }, (_, value) => (typeof value === "bigint" ? String(value) : value));
}`;

async function bundled(): Promise<{ code: string; warnings: string[] }> {
  const warnings: string[] = [];
  const bundle = await rolldown({
    cwd: ROOT,
    input: "src/core.ts",
    platform: "browser",
    onLog: (_, { message }) => warnings.push(message),
  });
  const { output } = await bundle.generate({ format: "iife", name: "core" });
  expect(output).toHaveLength(1);
  return { code: output[0].code, warnings };
}

test("nothing that the core needs is Node's", async () => {
  const { code, warnings } = await bundled();
  expect(warnings).toEqual([]);
  expect(code).not.toMatch(/\bfrom ["']node:|\brequire\(["']|import\.meta/);
  // What ECMAScript has, and besides it these three only.
  const bare = createContext({ atob, TextEncoder, WebAssembly });
  runInContext(code, bare);
  for (const name of ["short-chain", "unreliable-chain"]) {
    const text = readFileSync(join(ROOT, `scenarios/${name}.yaml`), "utf8");
    Object.assign(bare, { text });
    const within: unknown = runInContext(`(${PLAYED})(core, text)`, bare);
    expect(within).toBe(await outside(text));
  }
});

async function outside(text: string): Promise<unknown> {
  const core = await import("../../src/core.ts");
  const play: unknown = runInContext(PLAYED, createContext({}));
  return typeof play === "function" ? play(core, text) : null;
}
