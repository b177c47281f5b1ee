/** fillfront compare: priming tactics side by side. */
import {
  compareTactics,
  comparisonFiles,
  comparisonText,
  formatFinding,
  knownTactics,
  type Scenario,
  type Tactic,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { chanceNotes, readInput } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { playable } from "./playable.ts";
import { putReport, reportFolders } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface CompareOptions extends Overrides {
  readonly all?: boolean;
  readonly tactic?: readonly string[];
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
}

export async function compare(file: string, options: CompareOptions, terminal: Terminal): Promise<void> {
  const overrides = overridesOf(options);
  const [folder = ""] = await reportFolders([file], options.out, "-compare");
  const input = await readInput(file, overrides);
  const { file: shown, scenario, warnings } = input;
  for (const warning of warnings) terminal.tell(formatFinding(warning, shown));
  for (const note of chanceNotes(input)) terminal.tell(note);
  const tactics = chosenTactics(scenario, options);

  const { comparison, curves } = playable(shown, () =>
    compareTactics(scenario, tactics, {
      onProgress: (done, of) => terminal.progress(`${shown}: tactic ${done + 1} of ${of}`),
    }),
  );
  terminal.progress(`${shown}: writing the report`);
  await putReport(folder, await comparisonFiles(comparison, curves, { charts: options.charts }));
  if (options.json) await terminal.printJson(comparison);
  else await terminal.print(comparisonText(comparison, terminal.style));
  terminal.tell(`Report in ${folder}`);
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
