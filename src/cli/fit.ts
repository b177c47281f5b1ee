/** fillfront fit: chosen values of the file estimated from counts observed at the plant. */
import {
  type FitPlan,
  fitFiles,
  fitScenario,
  fitText,
  formatFinding,
  formatted,
  MOST_UNKNOWNS,
  planFit,
  type Unknown,
  type UnknownProblem,
  unknownOf,
} from "../index.ts";
import { RefusedError } from "./exit.ts";
import { shownName, sourceOf, tellWarnings, textOf } from "./input.ts";
import { overridesOf } from "./overrides.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import type { Terminal } from "./terminal.ts";

export interface FitOptions {
  readonly observed?: string;
  readonly unknown?: readonly string[];
  readonly error?: readonly string[];
  readonly seed?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
}

export async function fitCounts(file: string, options: FitOptions, terminal: Terminal): Promise<void> {
  const { observed, seed } = options;
  if (observed === undefined) {
    throw new RefusedError("state the counts: --observed counts.csv, with a header such as time_min,cartoner-3.made");
  }
  if (file === "-" && observed === "-") throw new RefusedError("only one of the two files can be standard input");
  const change = overridesOf(seed === undefined ? {} : { seed });
  const unknowns = unknownsFrom(options.unknown ?? [], seed);
  const errors = errorsFrom(options.error ?? []);
  const folder = await reportFolder(file, options, "-fit");
  const [shown, counts] = [shownName(file), shownName(observed)];
  const [source, observedText] = [await sourceOf(file), await textOf(observed, { what: "a file of counts" })];
  const plan = planFit({ ...source, change, unknowns, observed: observedText, errors });
  if (!plan.ok) throw refusal(plan, shown, counts);
  tellWarnings(plan.warnings, shown, terminal);

  const done = await fitScenario(plan, (runs) => terminal.progress(`${shown}: run ${runs}`));
  if (folder !== null) terminal.progress(`${shown}: writing the report`);
  const put = await putReport(folder, () => fitFiles(done, { charts: options.charts }));
  if (options.json) await terminal.printJson(formatted("fit", done.fit));
  else await terminal.print(fitText(done.fit, terminal.style, howMuch(put, terminal)));
  tellPut(put, terminal);
}

function refusal(plan: Extract<FitPlan, { ok: false }>, shown: string, counts: string): RefusedError {
  switch (plan.wrong) {
    case "observed":
      return new RefusedError(plan.findings.map((finding) => formatFinding(finding, counts)).join("\n"), {
        file: counts,
        findings: plan.findings,
      });
    case "scenario": {
      const reasons = plan.findings.map((finding) => formatFinding(finding, shown));
      return new RefusedError(
        [...(plan.values === "" ? [] : [`${shown} with ${plan.values}:`]), ...reasons].join("\n"),
        { file: shown, findings: plan.findings },
      );
    }
    case "errors":
      return new RefusedError(`--error ${plan.name}: ${counts} has no such column; it has ${plan.known.join(", ")}`);
  }
}

const EXAMPLE = "--unknown feeds.blender.rate=100/min..300/min";

const PROBLEMS: Readonly<Record<UnknownProblem, string>> = {
  "no-value": `expected a path and its bounds, such as ${EXAMPLE}`,
  "bad-path": "expected a path of names with dots between them, such as machines.cartoner.infeed",
  "no-range": "expected the bounds between which to look, such as 100/min..300/min or 20..200",
  "no-number": "both bounds are quantities with their unit, such as 100/min, or whole numbers, such as 20",
  unlike: "both bounds are of one kind, such as 100/min..300/min",
  "not-rising": "the second bound must be above the first",
};

/** @throws RefusedError */
function unknownsFrom(texts: readonly string[], seed: string | undefined): Unknown[] {
  if (texts.length === 0) {
    throw new RefusedError(
      `state what is unknown, and between which bounds: fillfront fit scenarios/pouch-trial.yaml --observed scenarios/pouch-trial-counts.csv ${EXAMPLE}`,
    );
  }
  if (texts.length > MOST_UNKNOWNS)
    throw new RefusedError(`--unknown: at most ${MOST_UNKNOWNS} unknowns can be fitted`);
  const unknowns = texts.map((text) => {
    const found = unknownOf(text);
    if (typeof found !== "string") return found;
    throw new RefusedError(`--unknown ${JSON.stringify(text)}: ${PROBLEMS[found]}`);
  });
  const paths = unknowns.map(({ path }) => path);
  const twice = paths.find((path, i) => paths.indexOf(path) !== i);
  if (twice !== undefined) throw new RefusedError(`--unknown: ${twice} is stated twice`);
  if (paths.includes("horizon")) {
    throw new RefusedError("--unknown horizon: a run goes as far as the observed times, whatever the horizon");
  }
  if (seed !== undefined && paths.includes("seed")) {
    throw new RefusedError("--seed and --unknown seed contradict each other");
  }
  return unknowns;
}

const ERROR = /^(?:(?<name>[^=]+)=)?(?<items>\d{1,9}(?:\.\d{1,9})?)$/;

/** By what is observed; "" for all others. @throws RefusedError */
function errorsFrom(texts: readonly string[]): Map<string, number> {
  const errors = new Map<string, number>();
  for (const text of texts) {
    const { name = "", items = "0" } = ERROR.exec(text.trim())?.groups ?? {};
    if (Number(items) <= 0) {
      throw new RefusedError(
        `--error ${JSON.stringify(text)}: expected the error of a count in items, such as 2, or of one thing, such as made=5`,
      );
    }
    if (errors.has(name)) {
      throw new RefusedError(`--error: ${name === "" ? "one for all" : name} is stated twice`);
    }
    errors.set(name, Number(items));
  }
  return errors;
}
