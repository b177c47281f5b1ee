/** fillfront sweep: a scenario run over the values of one or two of its quantities, on as many cores as there are. */
import { createHash } from "node:crypto";
import {
  formatDuration,
  formatted,
  larger,
  type PlannedPoint,
  plannedPoints,
  pointsOfShard,
  prepare,
  type Sweep,
  type SweepHead,
  type SweptQuantity,
  scenarioReader,
  sweepFiles,
  sweepText,
  withHorizon,
} from "../index.ts";
import { type Source, shownName, sourceOf } from "./input.ts";
import { stoppable } from "./interrupt.ts";
import { type Overrides, overridesOf } from "./overrides.ts";
import { howMuch, putReport, reportFolder, tellPut } from "./report-folders.ts";
import type { SweepPool } from "./sweep-pool.ts";
import { jobsFrom, quantitiesFrom, refuseWrong, shardFrom, warningsOf } from "./sweep-request.ts";
import type { Checked } from "./sweep-worker.ts";
import { progressBar, type Terminal } from "./terminal.ts";
import { version } from "./version.ts";

export interface SweepOptions extends Overrides {
  readonly vary?: readonly string[];
  readonly jobs?: string;
  readonly shard?: string;
  readonly out?: string;
  readonly json?: boolean;
  readonly charts: boolean;
}

export async function sweep(file: string, options: SweepOptions, terminal: Terminal): Promise<void> {
  const { horizon, seed } = options;
  const stated = { ...(horizon === undefined ? {} : { horizon }), ...(seed === undefined ? {} : { seed }) };
  overridesOf(stated);
  const quantities = quantitiesFrom(options.vary ?? [], stated);
  const shard = shardFrom(options.shard);
  const all = plannedPoints(quantities);
  const own = shard === null ? all : pointsOfShard(all, shard);
  const jobs = jobsFrom(options.jobs, own.length);
  const part = shard === null ? "" : `-${shard.part}-of-${shard.of}`;
  const folder = await reportFolder(file, options, `-sweep${part}`);
  const [source, shown] = [await sourceOf(file), shownName(file)];
  const overrides = { ...stated, ...horizonFor(source, stated, all) };

  // Loaded only now, since no other command needs threads.
  const { sweepPool } = await import("./sweep-pool.ts");
  const pool = await sweepPool({ ...source, shown, overrides }, jobs);
  try {
    terminal.progress(`${shown}: reading ${own.length} points`);
    // The first has the head of all parts.
    const planned = [...all.slice(0, 1), ...own];
    const checked = await pool.check(planned);
    refuseWrong(checked, planned, shown);
    for (const warning of warningsOf(checked.slice(1), own)) terminal.tell(warning);
    const [first] = checked;
    if (!first?.ok) return;
    const head = headOf(first, quantities, all.length, source);
    const empty = { ...head, shard: shard && `${shard.part}/${shard.of}`, points: [] };
    await playAndReport(pool, own, empty, { folder, shown }, options, terminal);
  } finally {
    await pool.close();
  }
}

/** One for all points and parts where the file leaves it open: the longest of the points at the ends of what is varied. */
function horizonFor({ text, name, tables }: Source, stated: Overrides, all: readonly PlannedPoint[]): Overrides {
  const read = scenarioReader(text, { name, tables });
  const change = overridesOf(stated);
  const ends = all.filter(({ settings }) =>
    settings.every(({ value }, q) => [all[0], all.at(-1)].some((end) => end?.settings[q]?.value === value)),
  );
  const longest = ends.flatMap(({ settings }) => {
    const outcome = read(settings);
    if (!outcome.ok) return [];
    const scenario = change(outcome.scenario);
    return scenario.horizonIsAuto && prepare(scenario).ok ? [withHorizon(scenario).horizonMin] : [];
  });
  return longest.length === 0 ? {} : { horizon: formatDuration(longest.reduce(larger)) };
}

/** Also of what is complete when a signal or a failure stops it. */
async function playAndReport(
  pool: SweepPool,
  planned: readonly PlannedPoint[],
  empty: Sweep,
  { folder, shown }: { readonly folder: string | null; readonly shown: string },
  { charts, json }: SweepOptions,
  terminal: Terminal,
): Promise<void> {
  const onDone = (done: number): void => terminal.progress(`${shown}: ${progressBar(done, planned.length)} points`);
  let points: Sweep["points"] = [];
  let failure: Error | null = null;
  const signal = await stoppable(async (stop) => {
    onDone(0);
    ({ points, failure } = await pool.play(planned, stop, onDone));
  });
  const isStopped = points.length < planned.length;
  // Before the report, which may take a while.
  if (isStopped) terminal.tell(`${shown}: stopped when ${points.length} of ${planned.length} points were complete`);
  if (points.length > 0 || !isStopped) {
    if (folder !== null) terminal.progress(`${shown}: writing the report`);
    const sweep = { ...empty, points };
    const put = await putReport(folder, () => sweepFiles(sweep, { charts }));
    if (json) await terminal.printJson(formatted("sweep", sweep));
    else await terminal.print(sweepText(sweep, terminal.style, howMuch(put, terminal)));
    tellPut(put, terminal);
  }
  if (failure !== null) throw failure;
  if (signal !== null) process.kill(process.pid, signal);
}

function headOf(
  { title, seed, horizonMin }: Extract<Checked, { ok: true }>,
  quantities: readonly SweptQuantity[],
  points: number,
  { name, text, tables }: Source,
): SweepHead {
  const isSwept = (path: string): boolean => quantities.some((quantity) => quantity.path === path);
  return {
    made_by: `fillfront ${version()}`,
    title,
    scenario: name,
    scenario_sha256: createHash("sha256")
      .update(text)
      .update(tables.size > 0 ? JSON.stringify([...tables]) : "")
      .digest("hex"),
    seed: isSwept("seed") ? null : seed,
    horizon_min: isSwept("horizon") ? null : horizonMin,
    quantities,
    of_points: points,
  };
}
