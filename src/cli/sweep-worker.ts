/** What a worker thread of a sweep does: it checks points and runs them, reading each from the file's text. */
import Tinypool from "tinypool";
import {
  formatFinding,
  type PlannedPoint,
  playPoint,
  prepare,
  type SweepPoint,
  scenarioReader,
  type Tables,
} from "../index.ts";
import { chanceNotes } from "./input.ts";
import { type Overrides, overridesOf } from "./overrides.ts";

/** What every worker is given. */
export interface SweepGiven {
  readonly text: string;
  readonly tables: Tables;
  /** The title of a scenario that states none, and what messages call the file. */
  readonly name: string;
  readonly shown: string;
  readonly overrides: Overrides;
}

export type Checked =
  | {
      readonly ok: true;
      readonly warnings: readonly string[];
      readonly title: string;
      readonly seed: string;
      readonly horizonMin: number;
    }
  | { readonly ok: false; readonly errors: readonly string[] };

const given: SweepGiven = Tinypool.workerData;
const read = scenarioReader(given.text, { name: given.name, tables: given.tables });
const change = overridesOf(given.overrides);

function readPoint({ settings }: PlannedPoint) {
  const outcome = read(settings);
  if (!outcome.ok) return outcome;
  const scenario = change(outcome.scenario);
  const prepared = prepare(scenario, outcome.locate);
  return prepared.ok ? { ok: true as const, scenario, prepared, warnings: outcome.warnings } : prepared;
}

export function check(point: PlannedPoint): Checked {
  const found = readPoint(point);
  if (!found.ok) return { ok: false, errors: found.findings.map((finding) => formatFinding(finding, given.shown)) };
  const { title, seed, horizonMin } = found.scenario;
  const warnings = [...found.warnings, ...found.prepared.warnings].map((finding) =>
    formatFinding(finding, given.shown),
  );
  warnings.push(...chanceNotes({ file: given.shown, ...found }));
  return { ok: true, warnings, title, seed, horizonMin: horizonMin.valueOf() };
}

export function play(point: PlannedPoint): SweepPoint {
  const found = readPoint(point);
  if (!found.ok) throw new Error(`point ${point.point} has been checked and is refused all the same`);
  return playPoint(point, found.scenario, found.prepared);
}
