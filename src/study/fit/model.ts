/** From values of the unknowns to what would be observed: the scenario read with them, compiled, and stepped. */
import { observe } from "../../engine/observe.ts";
import { type Prepared, prepare } from "../../network/prepare.ts";
import type { Program } from "../../network/program.ts";
import { ticksWithin } from "../../network/tick.ts";
import { total } from "../../quantity/counts.ts";
import { approximate, type Rational } from "../../quantity/rational.ts";
import type { FileFinding } from "../../scenario/file-finding.ts";
import type { ReadOutcome } from "../../scenario/read.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Setting } from "../../scenario/settings.ts";
import { replicationSeed } from "../replications/replication.ts";
import type { Observed } from "./observed.ts";
import { type Target, targetsOf } from "./targets.ts";
import { settled, type Unknown, written } from "./unknowns.ts";

export interface ModelGiven {
  /** The file, to be read with values set in it. */
  readonly read: (settings: readonly Setting[]) => ReadOutcome;
  /** Made to the scenario as read. */
  readonly change: (scenario: Scenario) => Scenario;
  readonly unknowns: readonly Unknown[];
}

export type Readied =
  | {
      readonly ok: true;
      readonly scenario: Scenario;
      readonly prepared: Extract<Prepared, { ok: true }>;
      readonly warnings: readonly FileFinding[];
    }
  | { readonly ok: false; readonly findings: readonly FileFinding[] };

/** @param lastMin in place of the file's horizon: a fit needs no more than what was observed */
export function readied(given: ModelGiven, settings: readonly Setting[], lastMin?: Rational): Readied {
  const outcome = given.read(settings);
  if (!outcome.ok) return outcome;
  const changed = given.change(outcome.scenario);
  // An observation of the start alone still needs a tick.
  const isLong = lastMin !== undefined && lastMin.compare(0) > 0;
  const scenario = isLong ? { ...changed, horizonMin: lastMin } : changed;
  const prepared = prepare(scenario, outcome.locate);
  if (!prepared.ok) return prepared;
  return { ok: true, scenario, prepared, warnings: [...outcome.warnings, ...prepared.warnings] };
}

export function settingsOf(unknowns: readonly Unknown[], values: readonly number[]): Setting[] {
  return unknowns.map((unknown, i) => ({
    path: unknown.path.split("."),
    value: written(unknown, settled(unknown, values[i] ?? 0)),
  }));
}

/** By series, by time; items, not whole ones. */
export type Predicted = readonly (readonly number[])[];

/** What would be observed with these values; `null` where the scenario cannot be run with them. */
export type Model = (values: readonly number[]) => Predicted | null;

/**
 * Runs are remembered, since a search comes by the same values again.
 * Where anything is left to chance, what is predicted is the mean over a few runs, on the same luck for all values.
 * @param onRun told of every run made
 */
export function modelOf(given: ModelGiven, { timesMin, series }: Observed, onRun: () => void = () => undefined): Model {
  const remembered = new Map<string, Predicted | null>();
  const predict = (settings: readonly Setting[]): Predicted | null => {
    const ready = readied(given, settings, timesMin.at(-1));
    if (!ready.ok) return null;
    const { program } = ready.prepared;
    const { seed } = ready.scenario;
    const targets = targetsOf(program);
    const chosen = series.map(({ name }) => targets.known.get(name));
    // A changed number of machines may leave one out that was observed.
    if (chosen.includes(undefined)) return null;
    const predicted = (one: string) =>
      looked(
        program,
        timesMin,
        chosen.flatMap((target) => target ?? []),
        one,
      );
    return program.random === null ? predicted(seed) : meanOf(luckOf(seed).map(predicted));
  };
  return (values) => {
    const settings = settingsOf(given.unknowns, values);
    const key = settings.map(({ value }) => value).join(" ");
    const known = remembered.get(key);
    if (known !== undefined) return known;
    onRun();
    const predicted = predict(settings);
    remembered.set(key, predicted);
    return predicted;
  };
}

/** Runs under chance whose mean is predicted. */
const RUNS = 8;

function luckOf(seed: string): string[] {
  return Array.from({ length: RUNS }, (_, i) => replicationSeed(seed, i + 1));
}

function meanOf(runs: readonly Predicted[]): Predicted {
  const [first = []] = runs;
  return first.map((counts, series) =>
    counts.map((_, row) => total(runs.map((run) => run[series]?.[row] ?? 0)) / runs.length),
  );
}

/** Looks at a count, spread over a cycle. */
const LOOKS = 5;

/**
 * When within a cycle the plant was looked at, and how its cycles lie to the start of the clock, nobody knows, so that a
 * count is the mean over one cycle round its time. That takes the steps off, too, which would make χ² a rough surface.
 */
function looked(program: Program, timesMin: readonly Rational[], targets: readonly Target[], seed: string): number[][] {
  const minutesPerTick = approximate(program.tickS) / 60;
  const at = timesMin.map((time) => ticksWithin(time, program.tickS));
  const ticksOf = ({ stepMin }: Target, row: number): number[] =>
    Array.from({ length: LOOKS }, (_, look) => {
      const off = ((look - (LOOKS - 1) / 2) / LOOKS) * (stepMin / minutesPerTick);
      return Math.max(0, Math.round((at[row] ?? 0) + off));
    });
  const all = targets.flatMap((target) => at.flatMap((_, row) => ticksOf(target, row)));
  const ticks = [...new Set(all)].sort((a, b) => a - b);
  const rowOf = new Map(ticks.map((tick, row) => [tick, row]));
  const seen = observe(program, ticks, seed);
  return targets.map((target) =>
    at.map((_, row) => {
      const counts = ticksOf(target, row).map((tick) => target.at(seen, rowOf.get(tick) ?? 0));
      return total(counts) / LOOKS;
    }),
  );
}
