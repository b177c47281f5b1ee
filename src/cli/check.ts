/** fillfront check: what the line is. */
import { asCustom, formatFinding, lineFacts, lineFactsText, solveFlow, writeScenario } from "../index.ts";
import { readInput } from "./input.ts";
import type { Terminal } from "./terminal.ts";

export interface CheckOptions {
  readonly network?: boolean;
  readonly json?: boolean;
}

export async function check(file: string, options: CheckOptions, terminal: Terminal): Promise<void> {
  const { file: shown, scenario, prepared, warnings } = await readInput(file);
  for (const warning of warnings) terminal.tell(formatFinding(warning, shown));
  if (options.network) {
    terminal.print(writeScenario(asCustom(scenario, prepared.network)));
    return;
  }
  const { network, program } = prepared;
  const unreachable = warnings.flatMap(({ code, args }) => (code === "unreachable-machine" ? [args.found ?? ""] : []));
  const settings = { title: scenario.title, tickS: program.tickS, horizonMin: scenario.horizonMin };
  const facts = lineFacts(settings, network, solveFlow(network), unreachable);
  terminal.print(options.json ? `${JSON.stringify(facts, null, 2)}\n` : lineFactsText(facts, terminal.style));
}
