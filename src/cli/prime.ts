/** fillfront prime: the least dose of each tactic that reaches a goal. */
import { formatted, leastDoses, type PrimeStudy, primeText } from "../index.ts";
import { itemsFrom, minutesFrom } from "./best-request.ts";
import { RefusedError } from "./exit.ts";
import { readInput, tellWarnings } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { playable } from "./playable.ts";
import type { Terminal } from "./terminal.ts";

export interface PrimeOptions extends Overrides {
  readonly within?: string;
  readonly lossBelow?: string;
  readonly handlingBelow?: string;
  readonly json?: boolean;
}

export async function prime(file: string, options: PrimeOptions, terminal: Terminal): Promise<void> {
  const goal = goalOf(options);
  const handlingBelow =
    options.handlingBelow === undefined ? undefined : itemsFrom("--handling-below", options.handlingBelow);
  const input = await readInput(file, overridesOf(options));
  const { file: shown, scenario, warnings } = input;
  tellWarnings(warnings, shown, terminal);
  if (input.prepared.program.random !== null)
    terminal.tell(`${shown}: chance plays a part here, and doses are found as if nothing were left to it`);
  const study = playable(shown, () =>
    leastDoses(scenario, goal, {
      ...(handlingBelow === undefined ? {} : { handlingBelow }),
      onProgress: (done, of) => terminal.progress(`${shown}: tactic ${done + 1} of ${of}`),
    }),
  );
  if (options.json) await terminal.printJson(formatted("prime", study));
  else await terminal.print(primeText(study, terminal.style, terminal));
}

function goalOf({ within, lossBelow }: PrimeOptions): PrimeStudy["goal"] {
  if (within !== undefined && lossBelow !== undefined)
    throw new RefusedError("state --within or --loss-below, not both");
  if (lossBelow !== undefined) return { loss_below: itemsFrom("--loss-below", lossBelow) };
  if (within === undefined) {
    throw new RefusedError(
      'state a goal, --within "5 min" or --loss-below 200: fillfront prime scenarios/short-chain.yaml --within "6 min"',
    );
  }
  return { within_min: minutesFrom(within) };
}
