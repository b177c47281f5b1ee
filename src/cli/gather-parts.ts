/** Parts of replications and comparisons, joined: what is left to do is done again from the scenario that the parts bring along. */
import {
  askFor,
  formatted,
  gatheredRuns,
  gatheredVariants,
  luckGrid,
  type Part,
  type PartHead,
  type PartsProblem,
  partsProblem,
  playReplication,
  summariseReplications,
  summary,
} from "../index.ts";
import { comparedOnLuck, reportCompared, tacticsNamed } from "./compare.ts";
import { RefusedError } from "./exit.ts";
import { type GatherOptions, named } from "./gather-request.ts";
import { type Input, inputOf } from "./input.ts";
import { laidOutOnLuck, reportLaidOut, variantsOf } from "./layouts.ts";
import { overridesOf, statedOverrides } from "./overrides.ts";
import { pageSource } from "./page-source.ts";
import { reported } from "./replications-report.ts";
import { howMuch, reportFolder, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";

/** @param parts at the places stated, one or more @throws RefusedError */
export async function gatherParts(
  parts: readonly Part[],
  places: readonly string[],
  options: GatherOptions,
  terminal: Terminal,
): Promise<void> {
  const [first] = parts;
  if (first === undefined) return;
  const wrong = partsProblem(parts);
  if (wrong !== null) throw new RefusedError(refusal(wrong, places));
  const own = `fillfront ${version()}`;
  if (first.made_by !== own) {
    throw new RefusedError(`${places[0]} was made by ${first.made_by}, and this is ${own}; gather with the same`);
  }
  const { study, file, text, scenario: name, replications } = first;
  const overrides = statedOverrides(defined({ seed: first.seed, horizon: first.horizon }));
  const input = inputOf({ file, text, name, tables: new Map() }, overridesOf(overrides), { runs: true });
  const folder = await reportFolder(`${name}.yaml`, options, study.of === "run" ? "" : `-${study.of}`);
  if (folder !== null) terminal.progress("writing the report");
  if (study.of === "run") return gatherRuns(parts, { input, replications, folder }, places, options, terminal);
  const { scenario, prepared } = input;
  const reported = { ...options, source: pageSource(input, overrides) };
  if (study.of === "compare") {
    const tactics = tacticsNamed(scenario, study.tactics);
    const runs = joined(gatheredVariants(parts, tactics.length + 1, luckGrid(scenario, prepared)), places);
    return reportCompared(comparedOnLuck(input, tactics, runs, study.look), folder, reported, terminal);
  }
  const asked = { ...study, priority: study.priority ?? ("fast" as const) };
  const found = variantsOf(file, scenario, asked);
  const runs = joined(gatheredVariants(parts, found.variants.length, found.grid), places);
  return reportLaidOut(file, laidOutOnLuck(scenario, found, runs, asked, study.look), folder, reported, terminal);
}

async function gatherRuns(
  parts: readonly Part[],
  {
    input,
    replications,
    folder,
  }: { readonly input: Input; readonly replications: number; readonly folder: string | null },
  places: readonly string[],
  options: GatherOptions,
  terminal: Terminal,
): Promise<void> {
  const { scenario, prepared } = input;
  const collected = joined(gatheredRuns(parts, playReplication(prepared, scenario.seed, 1)), places);
  const asked = askFor(prepared.network, { most: replications, until: null, seed: scenario.seed });
  const { result, put } = await reported(input, summariseReplications(collected, asked), folder, options);
  if (options.json) await terminal.printJson(formatted("run", result));
  else await terminal.print(summary(result, terminal.style, howMuch(put, terminal)));
  tellPut(put, terminal);
}

function defined({ seed, horizon }: { readonly seed: string | undefined; readonly horizon: string | undefined }) {
  return { ...(seed === undefined ? {} : { seed }), ...(horizon === undefined ? {} : { horizon }) };
}

/** @throws RefusedError */
function joined<T extends object>(found: T | PartsProblem, places: readonly string[]): T {
  if (isProblem(found)) throw new RefusedError(refusal(found, places));
  return found;
}

function isProblem<T extends object>(found: T | PartsProblem): found is PartsProblem {
  return "why" in found;
}

const DIFFERENCES: Readonly<Record<keyof PartHead, string>> = {
  made_by: "was made by another version of the program",
  file: "is of a file of another name",
  scenario: "is of a file of another name",
  text: "is of a file with other text",
  seed: "has another seed",
  horizon: "has another horizon",
  replications: "is of another number of replications",
  study: "is of another command, or was made with other options",
};

function refusal(problem: PartsProblem, places: readonly string[]): string {
  switch (problem.why) {
    case "missing": {
      const { replications, shards } = problem;
      const which = `${replications.length === 1 ? "replication" : "replications"} ${named(replications)} missing`;
      return shards.length > 0
        ? `${which}: gather also --shard ${named(shards)}`
        : `${which}: a part was not given, or was stopped before it was complete`;
    }
    case "twice":
      return `${places[problem.part]}: replication ${problem.replication} is in a part before it, too; give each part once`;
    case "unlike":
      return `replication ${problem.replication} is not what it is here: run its part again, with this program on one kind of machine`;
    case "differing":
      return `${places[problem.part]} is a part of another study than ${places[0]}: it ${DIFFERENCES[problem.what]}`;
  }
}
