/** What a worker thread of a sweep does: it checks points and runs them, reading each from the file's text. */
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
import { givenToThread } from "./threads.ts";

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

interface Reader {
  readonly given: SweepGiven;
  readonly read: ReturnType<typeof scenarioReader>;
  readonly change: ReturnType<typeof overridesOf>;
}

let reader: Promise<Reader> | null = null;

function theReader(): Promise<Reader> {
  reader ??= givenToThread<SweepGiven>().then((given) => ({
    given,
    read: scenarioReader(given.text, { name: given.name, tables: given.tables }),
    change: overridesOf(given.overrides),
  }));
  return reader;
}

function readPoint({ read, change }: Reader, { settings }: PlannedPoint) {
  const outcome = read(settings);
  if (!outcome.ok) return outcome;
  const scenario = change(outcome.scenario);
  const prepared = prepare(scenario, outcome.locate);
  return prepared.ok ? { ok: true as const, scenario, prepared, warnings: outcome.warnings } : prepared;
}

export async function check(point: PlannedPoint): Promise<Checked> {
  const reader = await theReader();
  const { given } = reader;
  const found = readPoint(reader, point);
  if (!found.ok) return { ok: false, errors: found.findings.map((finding) => formatFinding(finding, given.shown)) };
  const { title, seed, horizonMin } = found.scenario;
  const warnings = [...found.warnings, ...found.prepared.warnings].map((finding) =>
    formatFinding(finding, given.shown),
  );
  warnings.push(...chanceNotes({ file: given.shown, ...found }));
  return { ok: true, warnings, title, seed, horizonMin: horizonMin.valueOf() };
}

export async function play(point: PlannedPoint): Promise<SweepPoint> {
  const found = readPoint(await theReader(), point);
  if (!found.ok) throw new Error(`point ${point.point} has been checked and is refused all the same`);
  return playPoint(point, found.scenario, found.prepared);
}
