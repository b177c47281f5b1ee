/** What a fit is given, read and made sure of before the search begins. */
import type { Rational } from "../../quantity/rational.ts";
import type { FileFinding } from "../../scenario/file-finding.ts";
import { MAX_HORIZON_MIN } from "../../scenario/file-limits.ts";
import { scenarioReader } from "../../scenario/read.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tables } from "../../scenario/tables.ts";
import { type ModelGiven, type Readied, readied, settingsOf } from "./model.ts";
import { type Observed, type ObservedOutcome, readObserved } from "./observed.ts";
import { targetsOf } from "./targets.ts";
import { ownValue, type Unknown, written } from "./unknowns.ts";

/** The look over the whole range grows with each, and what counts tell is soon spread too thin. */
export const MOST_UNKNOWNS = 5;

export interface FitGiven {
  /** Of the scenario file, and its title where it states none. */
  readonly text: string;
  readonly tables?: Tables;
  readonly name: string;
  /** Made to the scenario as read, such as another seed. */
  readonly change: (scenario: Scenario) => Scenario;
  readonly unknowns: readonly Unknown[];
  /** Of the observed counts. */
  readonly observed: string;
  /** Expected error of a count in items, by what is observed; "" for all others. */
  readonly errors: ReadonlyMap<string, number>;
}

export type FitPlan =
  | {
      readonly ok: true;
      readonly model: ModelGiven;
      readonly observed: Observed;
      /** In the file; `null` where it states nothing of the kind. */
      readonly own: readonly (number | null)[];
      /** Expected errors, in the order of the observed series. */
      readonly errors: readonly number[];
      readonly warnings: readonly FileFinding[];
    }
  /** The scenario with these values cannot be run; as it stands where there are none. */
  | {
      readonly ok: false;
      readonly wrong: "scenario";
      readonly values: string;
      readonly findings: readonly FileFinding[];
    }
  | { readonly ok: false; readonly wrong: "observed"; readonly findings: readonly FileFinding[] }
  /** An error was stated for what is not observed. */
  | { readonly ok: false; readonly wrong: "errors"; readonly name: string; readonly known: readonly string[] };

/** Reads all, and makes sure that the scenario can be run at every corner of the unknowns' bounds. */
export function planFit({ text, name, tables, change, unknowns, observed: counts, errors }: FitGiven): FitPlan {
  const model = { read: scenarioReader(text, { name, ...(tables && { tables }) }), change, unknowns };
  const plain = readied(model, []);
  const corner = corners(unknowns)
    .map((values) => ({ values, ready: readied(model, settingsOf(unknowns, values)) }))
    .find(({ ready }) => !ready.ok);
  // The file may state nothing where an unknown stands, so that only with one set it can be run.
  const base: Readied = plain.ok ? plain : readied(model, settingsOf(unknowns, unknowns.map(middle)));
  if (!base.ok) return { ok: false, wrong: "scenario", values: "", findings: plain.ok ? [] : plain.findings };
  if (corner !== undefined && !corner.ready.ok) {
    const values = unknowns.map((unknown, i) => `${unknown.path}=${written(unknown, corner.values[i] ?? 0)}`);
    return { ok: false, wrong: "scenario", values: values.join(", "), findings: corner.ready.findings };
  }
  const targets = targetsOf(base.prepared.program);
  const outcome: ObservedOutcome = readObserved(counts, targets, horizonOf(base));
  if (!outcome.ok) return { ok: false, wrong: "observed", findings: outcome.findings };
  const { observed } = outcome;
  const names = observed.series.map((one) => one.name);
  const stray = [...errors.keys()].find((one) => one !== "" && !names.includes(one));
  if (stray !== undefined) return { ok: false, wrong: "errors", name: stray, known: names };
  return {
    ok: true,
    model,
    observed,
    own: unknowns.map((unknown) => ownValue(text, unknown)),
    errors: names.map((one) => errors.get(one) ?? errors.get("") ?? targets.known.get(one)?.grain ?? 1),
    warnings: base.warnings,
  };
}

/** As far as can be observed; an open horizon is as long as the longest. */
function horizonOf({ scenario }: Extract<Readied, { ok: true }>): Rational {
  return scenario.horizonIsAuto ? MAX_HORIZON_MIN : scenario.horizonMin;
}

function middle({ lower, upper }: Unknown): number {
  return (lower + upper) / 2;
}

/** Every combination of bounds. */
function corners(unknowns: readonly Unknown[]): number[][] {
  return unknowns.reduce<number[][]>(
    (before, { lower, upper }) => before.flatMap((values) => [lower, upper].map((end) => [...values, end])),
    [[]],
  );
}
