/** Plants written as scenario files, simulated and analysed. */
import { type Analysis, analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Cause, Wait } from "../../src/analysis/plant-results.ts";
import type { Result } from "../../src/analysis/result.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";

export function analysed(text: string): Analysis & { readonly run: Run } {
  const read = readScenario(text);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const run = simulate(prepared.program, { horizonTicks: prepared.horizonTicks, check: true });
  return { run, ...analyse(run, read.scenario, solveFlow(prepared.network)) };
}

export function resultOf(text: string): Result {
  return analysed(text).result;
}

export function waitOf({ machines }: Result, id: string, item: string): Wait {
  const wait = machines.find((machine) => machine.id === id)?.waits.find((one) => one.item === item);
  if (wait === undefined) throw new Error(`${id} does not wait for ${item}`);
  return wait;
}

export function causeOf(result: Result, id: string, item: string): Cause {
  const { cause } = waitOf(result, id, item);
  if (cause === null) throw new Error(`no cause of ${id} waiting for ${item}`);
  return cause;
}
