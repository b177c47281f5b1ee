/** fillfront layouts: one line drawn up in several layouts, each simulated, and which of them to build. */
import { join } from "node:path";
import {
  formatted,
  type LayoutStudy,
  type LayoutsDone,
  type LayoutsRefusal,
  type LayoutsOptions as LayoutsStudyOptions,
  type LayoutVariants,
  LENGTHS,
  type Lengths,
  layoutStudy,
  layoutsDrawn,
  layoutsFiles,
  layoutsOnLuck,
  layoutsText,
  layoutsTold,
  layoutsWeighed,
  layoutVariants,
  MOST_WAYS,
  type PageSource,
  PRIORITIES,
  type Priority,
  replicationsOfShard,
  type Scenario,
  type Shard,
  titledLayouts,
  type VariantRun,
  variantsPart,
  type Ways,
  writeScenario,
} from "../index.ts";
import { unpriced } from "./best-request.ts";
import { RefusedError } from "./exit.ts";
import { type Input, readInput, tellWarnings } from "./input.ts";
import type { LuckPlayed } from "./luck.ts";
import { type LuckOptions, lookFrom, luckFrom, refuseShard } from "./luck-request.ts";
import { type Overrides, overridesOf, statedOverrides } from "./overrides.ts";
import { pageSource } from "./page-source.ts";
import { partFrom, partSuffix, putPart } from "./part.ts";
import { playable } from "./playable.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import { playedRuns } from "./study-runs.ts";
import type { Terminal } from "./terminal.ts";
import { oneOf, unknownName } from "./unknown-name.ts";

export interface LayoutsOptions extends Overrides, LuckOptions {
  readonly line?: string;
  readonly ways?: string;
  readonly priority?: string;
  readonly lengths?: string;
  readonly growTo?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
  readonly shard?: string;
}

export async function layouts(file: string, options: LayoutsOptions, terminal: Terminal): Promise<void> {
  const ways = waysFrom(options.ways);
  const priority = priorityFrom(options.priority);
  const lengths = lengthsFrom(options.lengths);
  const growTo = machinesFrom(options.growTo);
  const overrides = overridesOf(options);
  const shard = partFrom(options);
  const folder = await reportFolder(file, options, `-layouts${partSuffix(shard)}`);
  const input = await readInput(file, overrides);
  const { file: shown, scenario, warnings } = input;
  tellWarnings(warnings, shown, terminal);
  const replications = luckFrom(options, input, terminal);
  refuseShard(shard, replications);
  if (priority === "money") refuseUnpriced(scenario, replications);
  const source = pageSource(input, options);
  const asked = { line: options.line, ways, priority, lengths, growTo };
  if (replications === null) {
    const studied = await studyOnce(input, asked, options, terminal);
    await reportLaidOut(shown, studied, folder, { ...options, source }, terminal);
    return;
  }
  const found = variantsOf(shown, scenario, asked);
  const { runs, signal } = await playLayouts(input, found, asked, { replications, shard }, options, terminal);
  if (shard !== null) {
    const study = { of: "layouts", look: lookFrom(options), ...asked } as const;
    const part = { input, overrides: statedOverrides(options), replications, shard, study };
    const own = variantsPart(replicationsOfShard(replications, shard), runs);
    tellPut(await putPart(folder, part, own, runs[0]?.length ?? 0, terminal), terminal);
  } else if (runs.length > 0 || found.variants.length === 0) {
    const studied = laidOutOnLuck(scenario, found, runs, asked, lookFrom(options));
    await reportLaidOut(shown, studied, folder, { ...options, source }, terminal);
  }
  if (signal !== null) process.kill(process.pid, signal);
}

/** Also of what gather has joined. @throws RefusedError */
export async function reportLaidOut(
  shown: string,
  studied: LayoutsDone | LayoutsRefusal,
  folder: string | null,
  { charts, json = false, source }: { readonly charts: boolean; readonly json?: boolean; readonly source: PageSource },
  terminal: Terminal,
): Promise<void> {
  if (!studied.ok) throw new RefusedError(`${shown}: ${refusal(studied)}`);
  if (folder !== null) terminal.progress(`${shown}: writing the report`);
  const { study, drawings, curves } = studied;
  const scenarios = new Map(
    [...titledLayouts(study, studied.scenarios)].map(([id, custom]) => [id, writeScenario(custom)]),
  );
  const put = await putReport(folder, () => layoutsFiles({ study, scenarios, drawings, curves }, { charts, source }));
  if (json) await terminal.printJson(formatted("layouts", layoutsTold(fromWorkingFolder(study, folder))));
  else await terminal.print(layoutsText(study, terminal.style, howMuch(put, terminal)));
  tellPut(put, terminal);
}

export type Asked = Pick<LayoutsStudyOptions, "line" | "ways" | "priority" | "lengths" | "growTo">;

/** @throws RefusedError */
export function variantsOf(shown: string, scenario: Scenario, asked: Asked): LayoutVariants {
  const found = playable(shown, () => layoutVariants(scenario, asked));
  if (!found.ok) throw new RefusedError(`${shown}: ${refusal(found)}`);
  return found;
}

/** @param runs by variant; where none can be built, that is all there is to say */
export function laidOutOnLuck(
  scenario: Scenario,
  found: LayoutVariants,
  runs: readonly (readonly VariantRun[])[],
  asked: Asked,
  look: number,
): LayoutsDone | LayoutsRefusal {
  return found.variants.length === 0 ? layoutStudy(scenario, asked) : layoutsOnLuck(scenario, found, runs, asked, look);
}

async function studyOnce(
  input: Input,
  asked: Asked,
  options: LayoutsOptions,
  terminal: Terminal,
): Promise<LayoutsDone | LayoutsRefusal> {
  const { scenario } = input;
  const drawn = playable(input.file, () => layoutsDrawn(scenario, asked));
  if (!drawn.ok) return drawn;
  const { given, runs, layOut } = drawn;
  const { line, ways, lengths, growTo } = asked;
  const study = {
    asked: { of: "layouts", line, ways, lengths, growTo },
    scenario: { ...given.scenario, horizonIsAuto: scenario.horizonIsAuto },
    machines: runs.map((count) => count * given.consumers.length),
    play: layOut,
  } as const;
  return layoutsWeighed(scenario, drawn, await playedRuns(input, study, options, terminal), asked);
}

async function playLayouts(
  { file, text, name, tables }: Input,
  { variants }: LayoutVariants,
  { line, ways, lengths }: Asked,
  asked: { readonly replications: number; readonly shard: Shard | null },
  options: LayoutsOptions,
  terminal: Terminal,
): Promise<LuckPlayed> {
  if (variants.length === 0) return { runs: [], signal: null };
  // Loaded only now, since it needs threads.
  const { playOnLuck } = await import("./luck.ts");
  return playOnLuck(
    { text, name, tables, overrides: statedOverrides(options), variants: { of: "layouts", line, ways, lengths } },
    { variants: variants.length, ...asked },
    { file, jobs: options.jobs },
    terminal,
  );
}

/** With the files where `fillfront run` finds them; without a report there are none. */
function fromWorkingFolder(study: LayoutStudy, folder: string | null): LayoutStudy {
  return {
    ...study,
    layouts: study.layouts.map((layout) => ({
      ...layout,
      file: layout.file === null || folder === null ? null : join(folder, layout.file),
    })),
  };
}

function waysFrom(text: string | undefined): Ways | undefined {
  if (text === undefined) return undefined;
  const all = text.split(",").map((part) => (/^\s*\d{1,2}\s*$/.test(part) ? Number(part) : 0));
  const [only = 0] = all;
  if (all.every((fan) => fan >= 2 && fan <= MOST_WAYS)) return text.includes(",") ? all : only;
  throw new RefusedError(
    `--ways ${JSON.stringify(text)}: expected the most outlets that a divider may have, 2 to ${MOST_WAYS}, or those that can be had, such as 2,5`,
  );
}

function priorityFrom(text: string | undefined): Priority {
  return text === undefined ? "fast" : oneOf("--priority", text, PRIORITIES);
}

/** @throws RefusedError */
function refuseUnpriced({ costs }: Scenario, replications: number | null): void {
  if (replications !== null) {
    throw new RefusedError(
      "--priority money: where something is left to chance, money does not decide between layouts",
    );
  }
  if ((costs?.product ?? null) === null) throw unpriced("what a product is worth", "product: 0.45 EUR");
  if ((costs?.startsPerYear ?? null) === null) throw unpriced("how often the line starts", "starts: 5 per week");
  const prices = [costs?.beltPerM, costs?.divider, costs?.merge, costs?.floorPerM2];
  if (prices.every((price) => price == null)) throw unpriced("what a layout costs", "belt: 400 EUR/m");
}

function lengthsFrom(text: string | undefined): Lengths | undefined {
  return text === undefined ? undefined : oneOf("--lengths", text, LENGTHS);
}

function machinesFrom(text: string | undefined): number | undefined {
  if (text === undefined) return undefined;
  if (/^[1-9]\d{0,3}$/.test(text)) return Number(text);
  throw new RefusedError(`--grow-to ${JSON.stringify(text)}: expected how many machines there will be, such as 26`);
}

function refusal(refused: LayoutsRefusal): string {
  switch (refused.why) {
    case "no-line":
      return "there is no chain, tree or loop to lay out; write a line as one, such as layout: chain";
    case "several-lines":
      return `there are several lines, ${refused.lines.join(", ")}; say which with --line ${refused.lines[0] ?? ""}`;
    case "unknown-line":
      return unknownName("line", refused.line, refused.lines).message;
    case "custom":
      return `the line ${refused.line} is stated belt by belt; write it as a chain, a tree or a loop to have others drawn up`;
    case "lanes":
      return `the line ${refused.line} evens out lanes, which no chain, tree or loop stands in for; write it as one of those to have others drawn up`;
    case "several-kinds":
      return `the line ${refused.line} carries several kinds, ${refused.kinds.join(", ")}, which dividers do not tell apart; lay out a line of one kind`;
    case "outlets":
      return `the line ${refused.line} leads to outlets beside machines, ${refused.outlets.join(", ")}, which have no share beside the machines' needs; leave one or the other out of its "to"`;
    case "far-end":
      return `what passes the last machine of the line ${refused.line} goes on; only a chain with end: stop can be laid out`;
    case "one-machine":
      return `the line ${refused.line} leads to one place alone, for which there is nothing to lay out; name two or more machines or outlets in its "to"`;
  }
}
