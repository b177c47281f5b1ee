/** fillfront grow: a chain lengthened machine by machine. */
import {
  formatted,
  type GrowthRefusal,
  growing,
  growingGroup,
  growthFiles,
  growthText,
  type Scenario,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { chanceNotes, readInput, tellWarnings } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { playable } from "./playable.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import { playedRuns } from "./study-runs.ts";
import type { Terminal } from "./terminal.ts";

export interface GrowOptions extends Overrides {
  readonly machines?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly jobs?: string;
}

const REFUSALS: Readonly<Record<Exclude<GrowthRefusal, "several-chains">, string>> = {
  "no-chain": "there is no chain to lengthen",
  "several-groups": "the chain feeds more than one group of machines; only a chain of one group can be lengthened",
};

export async function grow(file: string, options: GrowOptions, terminal: Terminal): Promise<void> {
  const { machines } = options;
  if (machines === undefined) {
    throw new RefusedError(
      "state numbers of machines with --machines: fillfront grow scenarios/short-chain.yaml --machines 2..16",
    );
  }
  const counts = countsFrom(machines);
  const folder = await reportFolder(file, options, "-growth");
  const input = await readInput(file, overridesOf(options));
  const { file: shown, scenario, warnings } = input;
  tellWarnings(warnings, shown, terminal);
  for (const note of chanceNotes(input)) terminal.tell(note);
  const chain = growingGroup(scenario);
  if (typeof chain === "string") throw new RefusedError(`${shown}: ${refusal(chain, scenario)}`);
  if ((counts[0] ?? 0) < chain.least) {
    throw new RefusedError(
      `--machines ${JSON.stringify(machines)}: another line has a belt at ${chain.group.members[chain.least - 1]}; begin with ${chain.least}`,
    );
  }
  const { scenario: lasting, play, grown } = playable(shown, () => growing(scenario, chain, counts));
  const study = { asked: { of: "grow", counts }, scenario: lasting, machines: counts, play } as const;
  const growth = grown(await playedRuns(input, study, options, terminal));
  if (folder !== null) terminal.progress(`${shown}: writing the report`);
  const put = await putReport(folder, () => growthFiles(growth, { charts: options.charts }));
  if (options.json) await terminal.printJson(formatted("grow", growth));
  else await terminal.print(growthText(growth, terminal.style, howMuch(put, terminal)));
  tellPut(put, terminal);
}

function refusal(why: GrowthRefusal, { lines }: Scenario): string {
  if (why !== "several-chains") return REFUSALS[why];
  const chains = lines.filter(({ layout }) => layout === "chain").map(({ id }) => id);
  return `there are several chains, ${chains.join(", ")}; only a plant of one chain can be lengthened`;
}

const MOST_MACHINES = 1000;
const MOST_LENGTHS = 200;

/** "2..40", "2..40:2" or "4,8,16". */
function countsFrom(text: string): number[] {
  const range = /^(\d{1,4})\.\.(\d{1,4})(?::(\d{1,4}))?$/.exec(text);
  const counts = range ? rangeOf(Number(range[1]), Number(range[2]), Number(range[3] ?? 1)) : listOf(text);
  const isRising = counts.every((count, i) => count >= 1 && count <= MOST_MACHINES && count > (counts[i - 1] ?? 0));
  if (counts.length === 0 || counts.length > MOST_LENGTHS || !isRising) {
    throw new RefusedError(
      `--machines ${JSON.stringify(text)}: expected a range such as 2..40 or 2..40:2, or a rising list such as 4,8,16, up to ${MOST_MACHINES}`,
    );
  }
  return counts;
}

function rangeOf(first: number, last: number, step: number): number[] {
  if (step < 1 || last < first) return [];
  return Array.from({ length: Math.floor((last - first) / step) + 1 }, (_, i) => first + i * step);
}

function listOf(text: string): number[] {
  return /^\d{1,4}(,\d{1,4})*$/.test(text) ? text.split(",").map(Number) : [];
}
