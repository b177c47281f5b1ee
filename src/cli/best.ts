/** fillfront best: the best ways to start a line with what its floor grants. */
import {
  type BestFound,
  bestFew,
  bestFiles,
  bestStarts,
  bestText,
  bestTold,
  formatted,
  NO_TACTIC,
  type StartTrial,
  UnplayableError,
  withLuck,
} from "../index.ts";
import { type BestAsked, goalsFrom, mostFrom, priorityFrom, refuseUnpriced } from "./best-request.ts";
import { comparedOnLuck } from "./compare.ts";
import { type Input, readInput, tellWarnings } from "./input.ts";
import { luckFrom } from "./luck-request.ts";
import { type Overrides, overridesOf, statedOverrides } from "./overrides.ts";
import { pageSource } from "./page-source.ts";
import { playable } from "./playable.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import { jobsFrom } from "./sweep-request.ts";
import type { Terminal } from "./terminal.ts";

export interface BestOptions extends Overrides, BestAsked {
  readonly priority?: string;
  readonly byItem: boolean;
  readonly replications?: string;
  readonly jobs?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
}

export async function best(file: string, options: BestOptions, terminal: Terminal): Promise<void> {
  const asked = {
    goals: goalsFrom(options),
    priority: priorityFrom(options.priority),
    byItem: options.byItem,
    ...mostFrom(options),
  };
  const folder = await reportFolder(file, options, "-best");
  const input = await readInput(file, overridesOf(options));
  const { file: shown } = input;
  refuseUnpriced(asked.priority, input.scenario);
  tellWarnings(input.warnings, shown, terminal);
  const replications = luckFrom(options, input, terminal);
  const searched = await search(input, asked, options, terminal);
  const { found, signal } =
    replications === null || searched.found === null || searched.signal !== null
      ? searched
      : await replayed(searched.found, input, replications, options, terminal);
  if (found !== null) {
    if (folder !== null) terminal.progress(`${shown}: writing the report`);
    const { study } = found;
    const put = await putReport(folder, () =>
      bestFiles(found, { charts: options.charts, source: pageSource(input, options) }),
    );
    if (options.json) await terminal.printJson(formatted("best", bestTold(study)));
    else await terminal.print(bestText(study, terminal.style, howMuch(put, terminal)));
    tellPut(put, terminal);
  }
  if (signal !== null) process.kill(process.pid, signal);
}

/** The best few on the same luck. */
async function replayed(
  found: BestFound,
  input: Input,
  replications: number,
  options: BestOptions,
  terminal: Terminal,
): Promise<Searched> {
  const few = bestFew(found);
  const { playOnLuck } = await import("./luck.ts");
  const { runs, signal } = await playOnLuck(
    {
      text: found.scenarioText,
      name: input.name,
      tables: new Map(),
      overrides: statedOverrides(options),
      variants: { of: "tactics", ids: [NO_TACTIC, ...few].map(({ id }) => id) },
    },
    { variants: few.length + 1, replications, shard: null },
    { file: input.file, jobs: options.jobs },
    terminal,
  );
  if (runs.length === 0) return { found, signal };
  const { comparison, curves } = comparedOnLuck(input, few, runs, 1);
  return { found: { ...withLuck(found, comparison, input.scenario), curves }, signal };
}

interface Searched {
  readonly found: BestFound | null;
  readonly signal: NodeJS.Signals | null;
}

const ALL_JOBS = 1000;

async function search(
  { file, text, name, tables, scenario }: Input,
  asked: Parameters<typeof bestStarts>[1],
  options: BestOptions,
  { progress, tell }: Terminal,
): Promise<Searched> {
  const given = { text, name, tables, overrides: statedOverrides(options) };
  // Loaded only now, since it needs threads.
  const { pooled } = await import("./pool.ts");
  let found: BestFound | null = null;
  let problem: UnplayableError | null = null;
  const worker = { worker: "./best-worker.js", given, jobs: jobsFrom(options.jobs, ALL_JOBS) };
  const signal = await pooled(worker, async (play, stop) => {
    try {
      found = await bestStarts(scenario, {
        ...asked,
        play: (code) => play<StartTrial | null>(code),
        stop,
        onProgress: (what, tried) => progress(`${file}: ${what}, ${tried} starts tried`),
      });
    } catch (error) {
      if (error instanceof UnplayableError) problem = error;
      else if (!stop.aborted) throw error;
    }
  });
  if (signal !== null) tell(`${file}: stopped; what was found until then follows`);
  const refused: UnplayableError | null = problem;
  if (refused !== null) {
    playable(file, () => {
      throw refused;
    });
  }
  return { found, signal };
}
