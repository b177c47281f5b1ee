/** Scenario files of this folder, run: what a replication gives after a warm-up. */
import { type Run, simulate } from "../../src/engine/simulate.ts";
import type { Totals } from "../../src/engine/totals.ts";
import { expand } from "../../src/network/expand.ts";
import { prepareNetwork } from "../../src/network/prepare.ts";
import { type CompiledPriming, compilePriming, type Priming } from "../../src/network/priming.ts";
import type { Program } from "../../src/network/program.ts";
import { applyTactic } from "../../src/network/tactics/apply.ts";
import { formatFinding } from "../../src/scenario/file-finding.ts";
import { readScenario } from "../../src/scenario/read.ts";

export interface Plant {
  readonly program: Program;
  readonly horizonTicks: number;
  readonly priming: CompiledPriming;
}

/** The file as it stands, with its first tactic if it has one. @param more what no tactic of the file could arrange */
export function plantOf(file: string, more: Partial<Priming> = {}): Plant {
  const outcome = readScenario(file);
  if (!outcome.ok) throw new Error(outcome.findings.map((finding) => formatFinding(finding, "file")).join("\n"));
  const { scenario } = outcome;
  const expanded = expand(scenario);
  const [tactic] = scenario.tactics;
  const primed = tactic ? applyTactic(scenario, expanded, tactic) : null;
  const network = primed?.network ?? expanded;
  const prepared = prepareNetwork(scenario, network);
  if (!prepared.ok) throw new Error(prepared.findings.map((finding) => formatFinding(finding, "file")).join("\n"));
  const { program, horizonTicks } = prepared;
  const own = primed?.priming ?? { stock: [], loaded: [], interventions: [] };
  const priming = compilePriming(program, {
    stock: [...own.stock, ...(more.stock ?? [])],
    loaded: [...own.loaded, ...(more.loaded ?? [])],
    interventions: [...own.interventions, ...(more.interventions ?? [])],
  });
  return { program, horizonTicks, priming };
}

export function runOf({ program, horizonTicks, priming }: Plant, seed: string, ticks = horizonTicks): Run {
  return simulate(program, { horizonTicks: ticks, priming, seed });
}

export interface AfterWarmUp {
  readonly ticks: number;
  /** What was added to a total. */
  readonly added: (pick: (totals: Totals) => number | undefined) => number;
  readonly run: Run;
}

/** The same seed gives the same run, so a shorter one says how things stood at the end of the warm-up. */
export function afterWarmUp(plant: Plant, seed: string, warmUpTicks: number): AfterWarmUp {
  const before = runOf(plant, seed, warmUpTicks);
  const run = runOf(plant, seed);
  return {
    ticks: plant.horizonTicks - warmUpTicks,
    added: (pick) => (pick(run.totals) ?? Number.NaN) - (pick(before.totals) ?? Number.NaN),
    run,
  };
}

export function machineOf({ program }: Plant, id: string): number {
  return indexIn(program.network.machines, id);
}

/** The buffer of a machine for the kind it takes or makes. */
export function bufferOf({ program }: Plant, machine: string, item: string): number {
  const m = indexIn(program.network.machines, machine);
  const first = program.machine.infeed[m] ?? 0;
  const end = program.machine.infeed[m + 1] ?? 0;
  const kind = kindOf(program, item);
  for (let buffer = first; buffer < end; buffer++) if (program.buffer.item[buffer] === kind) return buffer;
  throw new Error(`${machine} has no buffer for ${item}`);
}

export function itemOf({ program }: Plant, item: string): number {
  return kindOf(program, item);
}

function kindOf({ network }: Program, item: string): number {
  const kind = network.items.indexOf(item);
  if (kind < 0) throw new Error(`no item ${item}`);
  return kind;
}

export function indexIn(elements: readonly { readonly id: string }[], id: string): number {
  const index = elements.findIndex((element) => element.id === id);
  if (index < 0) throw new Error(`no element ${id}`);
  return index;
}
