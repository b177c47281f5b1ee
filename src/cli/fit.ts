/** fillfront fit: chosen values of the file estimated from counts observed at the plant. */
import { type FitPlan, fitFiles, fitScenario, fitText, formatFinding, formatted, planFit } from "../index.ts";
import { RefusedError } from "./exit.ts";
import { errorsFrom, unknownsFrom } from "./fit-request.ts";
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
