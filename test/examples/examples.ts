/** The scenarios that ship with the program, read and run once for all tests of a file. */
import { readdirSync, readFileSync } from "node:fs";
import { analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Result } from "../../src/analysis/result.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { type Prepared, prepare } from "../../src/network/prepare.ts";
import { type FileFinding, formatFinding } from "../../src/scenario/file-finding.ts";
import { type ReadOutcome, readScenario } from "../../src/scenario/read.ts";

const FOLDER = new URL("../../scenarios/", import.meta.url);

export const EXAMPLES: readonly string[] = readdirSync(FOLDER).filter((name) => name.endsWith(".yaml"));

export function fileBeside(name: string): URL {
  return new URL(name, FOLDER);
}

export function textOf(name: string): string {
  return readFileSync(fileBeside(name), "utf8");
}

export interface Example {
  readonly outcome: Extract<ReadOutcome, { ok: true }>;
  readonly prepared: Extract<Prepared, { ok: true }>;
}

export function prepared(name: string, text = textOf(name)): Example {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(told(outcome.findings, name));
  const ready = prepare(outcome.scenario, outcome.locate);
  if (!ready.ok) throw new Error(told(ready.findings, name));
  return { outcome, prepared: ready };
}

export function told(findings: readonly FileFinding[], name: string): string {
  return findings.map((finding) => formatFinding(finding, name)).join("\n");
}

export interface Ran {
  readonly run: Run;
  readonly result: Result;
}

/** @param text in place of the file's own */
export function ran(name: string, options: { readonly text?: string; readonly check?: boolean } = {}): Ran {
  const { outcome, prepared: ready } = prepared(name, options.text);
  const { seed } = outcome.scenario;
  const run = simulate(ready.program, { horizonTicks: ready.horizonTicks, seed, check: options.check ?? false });
  return { run, result: analyse(run, outcome.scenario, solveFlow(ready.network)).result };
}
