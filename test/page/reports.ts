/** Reports' pages made here, as the command line makes them. */
import { mkdtemp, readFile, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import {
  analyse,
  compareTactics,
  comparisonFiles,
  formatFinding,
  knownTactics,
  layoutStudy,
  layoutsFiles,
  loweredText,
  prepare,
  type Result,
  rational,
  readScenario,
  reportFiles,
  shortageFiles,
  simulate,
  solveFlow,
  studyShortage,
  titledLayouts,
  withFurtherRuns,
  withHorizon,
  writeScenario,
} from "../../src/index.ts";
import { ROOT } from "../tidy/sources.ts";

export function textOf(name: string): Promise<string> {
  return readFile(join(ROOT, "scenarios", `${name}.yaml`), "utf8");
}

function scenarioOf(text: string, name: string) {
  const read = readScenario(text, { name });
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const scenario = withHorizon(read.scenario);
  const prepared = prepare(scenario, read.locate);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  return { scenario, prepared, warnings: [...read.warnings, ...prepared.warnings] };
}

export interface Made {
  readonly file: string;
  readonly result: Result;
}

export async function runPageOf(text: string, name: string): Promise<Made> {
  const { scenario, prepared, warnings } = scenarioOf(text, name);
  const { program, horizonTicks, network } = prepared;
  const run = simulate(program, { horizonTicks, seed: scenario.seed });
  const told = warnings.map((finding) => formatFinding(finding, `${name}.yaml`));
  const { result: found, series } = analyse(run, scenario, solveFlow(network), told);
  const result = withFurtherRuns(found, scenario, run);
  const source = { text, file: `${name}.yaml` };
  const files = await reportFiles(result, series, { charts: false, source });
  return { file: await written(files), result };
}

export async function comparisonPageOf(text: string, name: string, tactics = 4): Promise<string> {
  const { scenario } = scenarioOf(text, name);
  const { comparison, curves } = compareTactics(scenario, knownTactics(scenario).slice(0, tactics));
  const source = { text, file: `${name}.yaml` };
  return written(await comparisonFiles(comparison, curves, { charts: false, source }));
}

export async function shortagePageOf(text: string, name: string): Promise<string> {
  const { scenario } = scenarioOf(text, name);
  const levels = ["1", "1/2"].map(rational);
  const feeds = scenario.feeds.map(({ id }) => id);
  const texts = new Map(levels.map((level) => [level.toFraction(), loweredText(scenario, feeds, level)]));
  const source = { text, file: `${name}.yaml` };
  return written(await shortageFiles(studyShortage(scenario, levels), { charts: false, source }, texts));
}

export async function layoutsPageOf(text: string, name: string): Promise<string> {
  const { scenario } = scenarioOf(text, name);
  const done = layoutStudy(scenario, { priority: "fast" });
  if (!done.ok) throw new Error("no layouts");
  const scenarios = new Map(
    [...titledLayouts(done.study, done.scenarios)].map(([id, custom]) => [id, writeScenario(custom)]),
  );
  const source = { text, file: `${name}.yaml` };
  return written(await layoutsFiles({ ...done, scenarios }, { charts: false, source }));
}

async function written(files: ReadonlyMap<string, string | Uint8Array>): Promise<string> {
  const file = join(await mkdtemp(join(tmpdir(), "fillfront-page-")), "report.html");
  await writeFile(file, files.get("report.html") ?? "");
  return file;
}
