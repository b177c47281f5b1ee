/** From replications to their figures: one of each for every replication, and what their means are worth. */
import { leastHorizon } from "../../analysis/chance.ts";
import type {
  NoInterval,
  RareStops,
  ReplicatedFigure,
  Replications,
  StopCount,
} from "../../analysis/chance-results.ts";
import { TOLERANCE } from "../../analysis/settling.ts";
import { USUAL_LEVEL } from "../../analysis/statistics/interval.ts";
import { medianRun } from "../../analysis/statistics/median-run.ts";
import { mean } from "../../analysis/statistics/moments.ts";
import { percentiles } from "../../analysis/statistics/percentile.ts";
import { skewedInterval } from "../../analysis/statistics/skewed-interval.ts";
import { stopCounts, stopsAreEnough } from "../../analysis/stops.ts";
import { total } from "../../quantity/counts.ts";
import { keepsUpFromMin } from "./mean-curve.ts";
import { type Cut, cutOf, endFrom, type MeanBetween, marksOf } from "./ramp-up-ends.ts";
import { type Replication, type ReplicationGrid, replicationSeed } from "./replication.ts";

/** What is kept of a replication. */
export type Kept = Omit<Replication, "levels" | "grid">;

/** One figure from each replication, in order; `null` where the run is too short for it. */
export interface ReplicationFigures {
  readonly output: Cut;
  readonly held: Cut;
  /** Without an end of the ramp-up, the mean of the second half, for want of better. */
  readonly settledPerMin: readonly number[];
  /** One of two ends, a quarter and half of the run: the more freely an end is chosen, the less its loss is worth. */
  readonly lossMark: number | null;
  readonly lost: readonly number[] | null;
  readonly holdUpSettled: readonly number[] | null;
  readonly made: readonly number[];
  /** By machine, then by replication. */
  readonly uptimes: readonly (readonly number[] | null)[];
}

/** @param madeSum products up to each point, added up over these replications */
export function figuresOf(
  kept: readonly Kept[],
  grid: ReplicationGrid,
  madeSum: Float64Array,
  machines: number,
): ReplicationFigures {
  const { stepMin, markEvery } = grid;
  const marks = marksOf(grid);
  const minutes = (from: number, to: number): number => (to - from) * markEvery * stepMin;
  const madeBetween: MeanBetween = (from, to) =>
    kept.map(({ made }) => (upTo(made, to * markEvery) - upTo(made, from * markEvery)) / minutes(from, to));
  const holdUpBetween: MeanBetween = (from, to) =>
    kept.map(({ held }) => mean(held.subarray(from * markEvery, to * markEvery)));
  const output = cutOf(perMinOf(madeSum, stepMin * kept.length), madeBetween, grid);
  const held = cutOf(meanCurveOf(kept.map((one) => one.held)), holdUpBetween, grid);
  const counted = output.mark ?? Math.floor(marks / 2);
  const settledPerMin = madeBetween(counted, marks);
  const lossMark = output.mark && Math.max(output.mark, Math.floor(marks / 4));
  return {
    output,
    held,
    settledPerMin,
    lossMark,
    lost:
      lossMark === null
        ? null
        : kept.map(({ made }, i) => (settledPerMin[i] ?? 0) * minutes(0, lossMark) - upTo(made, lossMark * markEvery)),
    holdUpSettled: held.mark === null ? null : holdUpBetween(held.mark, marks),
    made: kept.map(({ madeInAll }) => madeInAll),
    uptimes: Array.from({ length: machines }, (_, m) => {
      if (output.mark === null) return null;
      const runningBetween: MeanBetween = (from, to) =>
        kept.map(({ runningMin }) => {
          const at = (mark: number): number => runningMin[mark * machines + m] ?? 0;
          return (at(to) - at(from)) / minutes(from, to);
        });
      const from = endFrom(runningBetween, Math.max(output.mark, held.mark ?? 0) / 2, marks);
      return from === null ? null : runningBetween(from, marks);
    }),
  };
}

export function replicationsOf(
  kept: readonly Kept[],
  figures: ReplicationFigures,
  {
    grid,
    madeSum,
    machines,
    seed,
  }: {
    readonly grid: ReplicationGrid;
    readonly madeSum: Float64Array;
    readonly machines: readonly string[];
    readonly seed: string;
  },
): Omit<Replications, "until" | "asked"> {
  const stops = stopsOf(kept, grid);
  const no = stopsAreEnough(stops) ? null : ("too few stops" as const);
  const figure = (values: readonly number[] | null): ReplicatedFigure | null => values && figureOf(values, no);
  const { output, held, settledPerMin, lost } = figures;
  const isLong = output.mark !== null;
  const minutesAt = (mark: number | null): number | null => mark && mark * grid.markEvery * grid.stepMin;
  const median = kept[medianRun(figures.made)]?.replication ?? 1;
  const settled = mean(settledPerMin);
  const made = kept.map((one) => one.made);
  const curve = { made, madeSum, stepMin: grid.stepMin, settledPerMin: settled, oneCycle: grid.oneCycle };
  const keepsUp = isLong && settled > 0 ? keepsUpFromMin(curve, 1 - TOLERANCE) : null;
  return {
    n: kept.length,
    seed,
    stops,
    ramp_up_end: output.ends,
    counted_from_min: minutesAt(output.mark),
    run_at_least_min: isLong ? null : leastHorizon(grid.stepMin * grid.points, grid.leastBinMin),
    settled_output_per_min: isLong ? figure(settledPerMin) : null,
    tick_takes_at_most: grid.tickTakes,
    without_rare: isLong ? withoutRare(kept, settledPerMin, grid) : null,
    // Of a line that keeps up only at the very end it is not known.
    to_95_min: keepsUp !== null && 2 * keepsUp <= grid.stepMin * grid.points ? keepsUp : null,
    tolerance: TOLERANCE,
    // Against nothing, nothing is lost.
    ramp_up_loss: settled === 0 ? null : figure(lost),
    loss_counted_to_min: settled === 0 ? null : minutesAt(figures.lossMark),
    ramp_up_loss_min: lost === null || settled === 0 ? null : mean(lost) / settled,
    hold_up_ramp_up_end: held.ends,
    hold_up_counted_from_min: minutesAt(held.mark),
    hold_up_settled: figure(figures.holdUpSettled),
    made: figureOf(figures.made, no),
    machines: machines.map((id, m) => ({ id, uptime: figure(figures.uptimes[m] ?? null) })),
    stopped: stoppedOf(kept),
    median: { replication: median, seed: replicationSeed(seed, median) },
  };
}

/** In all of them together. */
export function stopsOf(
  kept: readonly Pick<Kept, "stops">[],
  { stops: kinds, stepMin, points }: ReplicationGrid,
): StopCount[] {
  const seen = kinds.map((_, k) => total(kept.map(({ stops }) => stops[k] ?? 0)));
  return stopCounts(kinds, seen, { runs: kept.length, horizonMin: stepMin * points });
}

/** So few replications without any rare stop say nothing. */
const LEAST_WITHOUT = 10;

/** What the line makes while it is spared the kinds of stops that were hardly seen: of the replications without any. */
function withoutRare(kept: readonly Kept[], settledPerMin: readonly number[], grid: ReplicationGrid): RareStops | null {
  const rare = stopsOf(kept, grid).flatMap(({ enough }, k) => (enough ? [] : [k]));
  if (rare.length === 0) return null;
  const spared = kept.map(({ stops }) => rare.every((k) => stops[k] === 0));
  const left = kept.filter((_, i) => spared[i]);
  if (left.length < LEAST_WITHOUT) return null;
  const others = stopsOf(left, grid).filter((_, k) => !rare.includes(k));
  const figure = figureOf(
    settledPerMin.filter((_, i) => spared[i]),
    stopsAreEnough(others) ? null : "too few stops",
  );
  if (figure.ci95 === null) return null;
  return {
    stops: rare.flatMap((k) => grid.stops[k] ?? []).map(({ what, of }) => ({ what, of })),
    settled_output_per_min: figure,
  };
}

function stoppedOf(kept: readonly Kept[]): Replications["stopped"] {
  return kept.flatMap(({ replication, stopped }) => (stopped === null ? [] : [{ replication, ...stopped }]));
}

/** Mean, interval and percentiles of those replications that have the figure; `null` where none has. @param no as there */
export function replicated(figures: readonly (number | null)[], no: NoInterval | null): ReplicatedFigure | null {
  const known = figures.filter((figure) => figure !== null);
  return known.length === 0 ? null : figureOf(known, no);
}

/** @param no why there is to be no interval, whatever the figures */
function figureOf(figures: readonly number[], no: NoInterval | null): ReplicatedFigure {
  const { n, mean: found, low, high } = skewedInterval(figures, USUAL_LEVEL);
  const [p5 = found, p95 = found] = percentiles(figures, [0.05, 0.95]);
  const why = low === null || high === null ? "one replication" : (no ?? (low === high ? "no variation" : null));
  return {
    mean: found,
    ci95: low === null || high === null || why !== null ? null : [low, high],
    ...(why === null ? {} : { no_ci95: why }),
    p5,
    p95,
    n,
  };
}

/** Output of each step from what was made up to its end. @param unitMin a step's minutes, times the runs added up */
export function perMinOf(made: Float64Array, unitMin: number): number[] {
  return Array.from(made, (upTo, i) => (upTo - (made[i - 1] ?? 0)) / unitMin);
}

function upTo(made: Float64Array, points: number): number {
  return points === 0 ? 0 : (made[points - 1] ?? 0);
}

function meanCurveOf(curves: readonly Float64Array[]): number[] {
  const sum = new Float64Array(curves[0]?.length ?? 0);
  for (const curve of curves) for (const [i, value] of curve.entries()) sum[i] = (sum[i] ?? 0) + value;
  return Array.from(sum, (value) => value / curves.length);
}
