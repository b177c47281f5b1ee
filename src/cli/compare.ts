/** fillfront compare: priming tactics side by side. */
import {
  type Comparison,
  compareTactics,
  comparisonFiles,
  comparisonOnLuck,
  comparisonText,
  comparisonTold,
  formatted,
  knownTactics,
  luckGrid,
  NO_TACTIC,
  type PageSource,
  replicationsOfShard,
  type Scenario,
  type Shard,
  type StartPriority,
  type Tactic,
  type TacticCurve,
  tryTactic,
  type VariantRun,
  variantsPart,
} from "../index.ts";
import { priorityFrom, refuseUnpriced } from "./best-request.ts";
import { RefusedError } from "./exit.ts";
import { type Input, readInput, tellWarnings } from "./input.ts";
import type { LuckPlayed } from "./luck.ts";
import { type LuckOptions, lookFrom, luckFrom, refuseShard } from "./luck-request.ts";
import { type Overrides, overridesOf, statedOverrides } from "./overrides.ts";
import { pageSource } from "./page-source.ts";
import { partFrom, partSuffix, putPart } from "./part.ts";
import { playable } from "./playable.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";
import { unknownName } from "./unknown-name.ts";

export interface CompareOptions extends Overrides, LuckOptions {
  readonly all?: boolean;
  readonly tactic?: readonly string[];
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly shard?: string;
  readonly priority?: string;
}

export async function compare(file: string, options: CompareOptions, terminal: Terminal): Promise<void> {
  const overrides = overridesOf(options);
  const shard = partFrom(options);
  const folder = await reportFolder(file, options, `-compare${partSuffix(shard)}`);
  const input = await readInput(file, overrides);
  const { file: shown, scenario, warnings } = input;
  tellWarnings(warnings, shown, terminal);
  const replications = luckFrom(options, input, terminal);
  refuseShard(shard, replications);
  const priority = priorityFrom(options.priority);
  if (replications !== null && priority !== "loss") {
    throw new RefusedError(`--priority ${priority}: where something is left to chance, the loss decides`);
  }
  refuseUnpriced(priority, scenario);
  const tactics = chosenTactics(scenario, options);

  const source = pageSource(input, options);
  let signal: NodeJS.Signals | null = null;
  if (replications === null) {
    const compared = compareOnce(shown, scenario, tactics, priority, terminal);
    await reportCompared(compared, folder, { ...options, source }, terminal);
  } else {
    const played = await playTactics(input, tactics, { replications, shard }, options, terminal);
    signal = played.signal;
    const { runs } = played;
    if (shard !== null) {
      const study = { of: "compare", tactics: tactics.map(({ id }) => id), look: lookFrom(options) } as const;
      const part = { input, overrides: statedOverrides(options), replications, shard, study };
      const own = variantsPart(replicationsOfShard(replications, shard), runs);
      tellPut(await putPart(folder, part, own, runs[0]?.length ?? 0, terminal), terminal);
    } else if (runs.length > 0) {
      if (folder !== null) terminal.progress(`${shown}: writing the report`);
      await reportCompared(
        comparedOnLuck(input, tactics, runs, lookFrom(options)),
        folder,
        { ...options, source },
        terminal,
      );
    }
  }
  if (signal !== null) process.kill(process.pid, signal);
}

/** Also of what gather has joined. */
export async function reportCompared(
  { comparison, curves }: Compared,
  folder: string | null,
  { charts, json = false, source }: { readonly charts: boolean; readonly json?: boolean; readonly source: PageSource },
  terminal: Terminal,
): Promise<void> {
  const put = await putReport(folder, () => comparisonFiles(comparison, curves, { charts, source }));
  if (json) await terminal.printJson(formatted("compare", comparisonTold(comparison)));
  else await terminal.print(comparisonText(comparison, terminal.style, howMuch(put, terminal)));
  tellPut(put, terminal);
}

/** @param runs by variant, doing nothing first */
export function comparedOnLuck(
  { scenario, prepared }: Pick<Input, "scenario" | "prepared">,
  tactics: readonly Tactic[],
  runs: readonly (readonly VariantRun[])[],
  look: number,
): Compared {
  const played = [NO_TACTIC, ...tactics].map((tactic, variant) => ({ tactic, runs: runs[variant] ?? [] }));
  return comparisonOnLuck(scenario, played, luckGrid(scenario, prepared), look);
}

interface Compared {
  readonly comparison: Comparison;
  readonly curves: readonly TacticCurve[];
}

function compareOnce(
  shown: string,
  scenario: Scenario,
  tactics: readonly Tactic[],
  priority: StartPriority,
  { progress }: Pick<Terminal, "progress">,
): Compared {
  return playable(shown, () =>
    compareTactics(scenario, tactics, {
      priority,
      onProgress: (done, of) => progress(`${shown}: tactic ${done + 1} of ${of}`),
    }),
  );
}

async function playTactics(
  { file, text, name, tables, scenario }: Input,
  tactics: readonly Tactic[],
  asked: { readonly replications: number; readonly shard: Shard | null },
  options: CompareOptions,
  terminal: Terminal,
): Promise<LuckPlayed> {
  const all = [NO_TACTIC, ...tactics];
  // What cannot be played is refused before the threads are started.
  playable(file, () => {
    for (const tactic of all) tryTactic(scenario, tactic);
  });
  // Loaded only now, since it needs threads.
  const { playOnLuck } = await import("./luck.ts");
  return playOnLuck(
    {
      text,
      name,
      tables,
      overrides: statedOverrides(options),
      variants: { of: "tactics", ids: all.map(({ id }) => id) },
    },
    { variants: all.length, ...asked },
    { file, jobs: options.jobs },
    terminal,
  );
}

/** Those of the file; the standard ones too, or instead, where they are asked for or the file has none. */
function chosenTactics(scenario: Scenario, { all, tactic: names }: CompareOptions): readonly Tactic[] {
  const own = scenario.tactics;
  if (names !== undefined) return tacticsNamed(scenario, names);
  return all || own.length === 0 ? knownTactics(scenario) : own;
}

/** @throws RefusedError */
export function tacticsNamed(scenario: Scenario, names: readonly string[]): readonly Tactic[] {
  const known = knownTactics(scenario);
  return names.map((name) => {
    const tactic = known.find(({ id }) => id === name);
    if (tactic) return tactic;
    throw unknownName(
      "tactic",
      name,
      known.map(({ id }) => id),
    );
  });
}
