/** fillfront compare: priming tactics side by side. */
import {
  type Comparison,
  compareTactics,
  comparisonFiles,
  comparisonOnLuck,
  comparisonText,
  formatFinding,
  knownTactics,
  luckGrid,
  NO_TACTIC,
  type Scenario,
  START_PRIORITIES,
  type StartPriority,
  type Tactic,
  type TacticCurve,
  tryTactic,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { type Input, readInput } from "./input.ts";
import { type LuckOptions, lookFrom, luckFrom } from "./luck-request.ts";
import { type Overrides, overridesOf, statedOverrides } from "./overrides.ts";
import { playable } from "./playable.ts";
import { putReport, reportFolders, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface CompareOptions extends Overrides, LuckOptions {
  readonly all?: boolean;
  readonly tactic?: readonly string[];
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly priority?: string;
}

export async function compare(file: string, options: CompareOptions, terminal: Terminal): Promise<void> {
  const overrides = overridesOf(options);
  const [folder = ""] = await reportFolders([file], options.out, "-compare");
  const input = await readInput(file, overrides);
  const { file: shown, scenario, warnings } = input;
  for (const warning of warnings) terminal.tell(formatFinding(warning, shown));
  const replications = luckFrom(options, input, terminal);
  const priority = priorityFrom(options.priority);
  if (replications !== null && priority !== "loss") {
    throw new RefusedError(`--priority ${priority}: where something is left to chance, the loss decides`);
  }
  const tactics = chosenTactics(scenario, options);

  const { compared, signal } =
    replications === null
      ? { compared: compareOnce(shown, scenario, tactics, priority, terminal), signal: null }
      : await compareOnLuck(input, tactics, replications, options, terminal);
  if (compared !== null) {
    terminal.progress(`${shown}: writing the report`);
    const { comparison, curves } = compared;
    const put = await putReport(folder, await comparisonFiles(comparison, curves, { charts: options.charts }));
    if (options.json) await terminal.printJson(comparison);
    else await terminal.print(comparisonText(comparison, terminal.style));
    tellPut(put, terminal);
  }
  if (signal !== null) process.kill(process.pid, signal);
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

/** `null` where it was stopped before two replications of each were complete. */
async function compareOnLuck(
  { file, text, name, scenario, prepared }: Input,
  tactics: readonly Tactic[],
  replications: number,
  options: CompareOptions,
  terminal: Terminal,
): Promise<{ readonly compared: Compared | null; readonly signal: NodeJS.Signals | null }> {
  const grid = luckGrid(scenario, prepared);
  const all = [NO_TACTIC, ...tactics];
  // What cannot be played is refused before the threads are started.
  playable(file, () => {
    for (const tactic of all) tryTactic(scenario, tactic);
  });
  // Loaded only now, since it needs threads.
  const { playOnLuck } = await import("./luck.ts");
  const { runs, signal } = await playOnLuck(
    { text, name, overrides: statedOverrides(options), variants: { of: "tactics", ids: all.map(({ id }) => id) } },
    { variants: all.length, replications },
    { file, jobs: options.jobs },
    terminal,
  );
  if (runs.length === 0) return { compared: null, signal };
  const played = all.map((tactic, variant) => ({ tactic, runs: runs[variant] ?? [] }));
  return { compared: comparisonOnLuck(scenario, played, grid, lookFrom(options)), signal };
}

function priorityFrom(text: string | undefined): StartPriority {
  if (text === undefined) return "loss";
  const known = START_PRIORITIES.find((priority) => priority === text);
  if (known !== undefined) return known;
  throw new RefusedError(`--priority ${JSON.stringify(text)}: expected one of ${START_PRIORITIES.join(", ")}`);
}

/** Those of the file; the standard ones too, or instead, where they are asked for or the file has none. */
function chosenTactics(scenario: Scenario, { all, tactic: names }: CompareOptions): readonly Tactic[] {
  const own = scenario.tactics;
  const known = knownTactics(scenario);
  if (names !== undefined) {
    return names.map((name) => {
      const tactic = known.find(({ id }) => id === name);
      if (tactic) return tactic;
      throw new RefusedError(
        `no tactic is called ${JSON.stringify(name)}; there are ${known.map(({ id }) => id).join(", ")}`,
      );
    });
  }
  return all || own.length === 0 ? known : own;
}
