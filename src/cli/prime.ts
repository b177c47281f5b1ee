/** fillfront prime: the least dose of each tactic that reaches a goal. */
import { formatted, leastDoses, primeText, primeTold } from "../index.ts";
import { type BestAsked, goalsFrom } from "./best-request.ts";
import { RefusedError } from "./exit.ts";
import { readInput, tellWarnings } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { playable } from "./playable.ts";
import type { Terminal } from "./terminal.ts";

export interface PrimeOptions extends Overrides, Pick<BestAsked, "within" | "lossBelow" | "handledBelow"> {
  readonly json?: boolean;
}

export async function prime(file: string, options: PrimeOptions, terminal: Terminal): Promise<void> {
  const goals = goalsFrom(options);
  if (goals.withinMin === null && goals.lossBelow === null) {
    throw new RefusedError(
      'state a goal, --within "5 min" or --loss-below 200: fillfront prime scenarios/short-chain.yaml --within "6 min"',
    );
  }
  const input = await readInput(file, overridesOf(options));
  const { file: shown, scenario, warnings } = input;
  tellWarnings(warnings, shown, terminal);
  if (input.prepared.program.random !== null)
    terminal.tell(`${shown}: chance plays a part here, and doses are found as if nothing were left to it`);
  const study = playable(shown, () =>
    leastDoses(scenario, goals, {
      onProgress: (done, of) => terminal.progress(`${shown}: tactic ${done + 1} of ${of}`),
    }),
  );
  if (options.json) await terminal.printJson(formatted("prime", primeTold(study)));
  else await terminal.print(primeText(study, terminal.style, terminal));
}
