/** fillfront estimate: the exact flow solution. */
import { estimate, estimateText, formatted, solveFlow } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { readInput, tellWarnings } from "./input.ts";
import type { Terminal } from "./terminal.ts";

export interface EstimateOptions {
  readonly json?: boolean;
}

export async function estimateFlow(file: string, options: EstimateOptions, terminal: Terminal): Promise<void> {
  const { file: shown, scenario, prepared, warnings } = await readInput(file, (same) => same, { runs: false });
  tellWarnings(warnings, shown, terminal);
  if (prepared.program.random !== null) {
    terminal.tell(`${shown}: the flows are those of the stated means; what is left to chance is left out`);
  }
  const solution = solveFlow(prepared.network);
  if (!solution.applies) {
    throw new RefusedError(`${shown}: there is no flow solution: ${solution.reason}; fillfront run simulates the line`);
  }
  const found = estimate(scenario.title, prepared.network, solution);
  if (options.json) await terminal.printJson(formatted("estimate", found));
  else await terminal.print(estimateText(found, terminal.style, terminal));
}
