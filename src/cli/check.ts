/** fillfront check: what the line is. */
import {
  asCustom,
  dividerPlans,
  formatFinding,
  formatted,
  leastBelts,
  lineFacts,
  lineFactsText,
  overfedLoops,
  solveFlow,
  writeScenario,
} from "../index.ts";
import { readInput } from "./input.ts";
import type { Terminal } from "./terminal.ts";

export interface CheckOptions {
  readonly network?: boolean;
  readonly json?: boolean;
}

export async function check(file: string, options: CheckOptions, terminal: Terminal): Promise<void> {
  const { file: shown, scenario, prepared, warnings } = await readInput(file, (same) => same, { runs: false });
  for (const warning of warnings) terminal.tell(formatFinding(warning, shown));
  const { network, program } = prepared;
  if (program.random !== null) {
    terminal.tell(`${shown}: chance plays a part here; needs, flows and headroom are those of the stated means`);
  }
  if (options.network) {
    await terminal.print(writeScenario(asCustom(scenario, network)));
    return;
  }
  const unreachable = warnings.flatMap(({ code, args }) => (code === "unreachable-machine" ? [args.found ?? ""] : []));
  const settings = {
    title: scenario.title,
    tickS: program.tickS,
    horizonMin: scenario.horizonMin,
    lines: scenario.lines,
    plans: dividerPlans(scenario),
    overfed: overfedLoops(scenario),
    leastBelts: leastBelts(scenario),
  };
  const facts = lineFacts(settings, network, solveFlow(network), unreachable);
  if (options.json) await terminal.printJson(formatted("check", facts));
  else await terminal.print(lineFactsText(facts, terminal.style, terminal));
}
