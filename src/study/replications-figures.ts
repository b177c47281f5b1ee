/** From replications to their figures: one of each for every replication, and what their means are worth. */
import type { ReplicatedFigure, Replications } from "../analysis/chance-results.ts";
import { TOLERANCE } from "../analysis/settling.ts";
import { meanInterval } from "../analysis/statistics/interval.ts";
import { medianRun } from "../analysis/statistics/median-run.ts";
import { percentiles } from "../analysis/statistics/percentile.ts";
import { type Replication, type ReplicationGrid, replicationSeed } from "./replication.ts";
import { type Cut, cutOf, staysFrom } from "./replications-ends.ts";

/** What is kept of a replication. */
export type Kept = Omit<Replication, "levels" | "grid">;

/** One figure from each replication, in order; `null` where it has none. */
export interface ReplicationFigures {
  readonly cut: Cut;
  readonly countedFromMin: number;
  readonly settledPerMin: readonly number[];
  readonly lost: readonly number[] | null;
  readonly heldSettled: readonly number[];
  readonly made: readonly number[];
  /** By machine, then by replication. */
  readonly uptimes: readonly (readonly number[])[];
}

/** @param madeSum products up to each point, added up over these replications */
export function figuresOf(
  kept: readonly Kept[],
  grid: ReplicationGrid,
  madeSum: Float64Array,
  machines: number,
): ReplicationFigures {
  const { stepMin, points, markEvery } = grid;
  const cut = cutOf(perMinOf(madeSum, stepMin * kept.length), grid);
  const lastMark = Math.floor(points / markEvery);
  const [from, to] = [cut.mark * markEvery, lastMark * markEvery];
  const [fromMin, lastedMin] = [from * stepMin, (to - from) * stepMin];
  const settledPerMin = kept.map(({ made }) => (upTo(made, to) - upTo(made, from)) / lastedMin);
  return {
    cut,
    countedFromMin: fromMin,
    settledPerMin,
    lost: cut.isFound ? kept.map(({ made }, i) => (settledPerMin[i] ?? 0) * fromMin - upTo(made, from)) : null,
    heldSettled: kept.map(({ held }) => meanOf(held.subarray(from, to))),
    made: kept.map(({ madeInAll }) => madeInAll),
    uptimes: Array.from({ length: machines }, (_, m) =>
      kept.map(({ runningMin }) => {
        const at = (mark: number): number => runningMin[mark * machines + m] ?? 0;
        return (at(lastMark) - at(cut.mark)) / lastedMin;
      }),
    ),
  };
}

/** Of each replication, from when its moving average stays about its own settled output. */
export function settlingTimes(kept: readonly Kept[], { settledPerMin }: ReplicationFigures, grid: ReplicationGrid) {
  return staysFrom(
    kept.map(({ made }, i) => ({ perMin: perMinOf(made, grid.stepMin), level: settledPerMin[i] ?? 0 })),
    grid,
  );
}

export function replicationsOf(
  kept: readonly Kept[],
  figures: ReplicationFigures,
  settling: ReturnType<typeof settlingTimes>,
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
): Omit<Replications, "until"> {
  const settled = always(figures.settledPerMin);
  const band = staysFrom([{ perMin: perMinOf(madeSum, grid.stepMin * kept.length), level: settled.mean }], grid);
  const median = kept[medianRun(figures.made)]?.replication ?? 1;
  return {
    n: kept.length,
    seed,
    ramp_up_end: { ...figures.cut.ends, band_min: band.fromMin[0] ?? null, band_average_min: band.averageMin },
    counted_from_min: figures.countedFromMin,
    settled_output_per_min: settled,
    settling_min: replicated(settling.fromMin),
    settling_average_min: settling.averageMin,
    tolerance: TOLERANCE,
    ramp_up_loss: figures.lost && replicated(figures.lost),
    hold_up_settled: always(figures.heldSettled),
    made: always(figures.made),
    machines: machines.map((id, m) => ({ id, uptime: always(figures.uptimes[m] ?? []) })),
    median: { replication: median, seed: replicationSeed(seed, median) },
  };
}

/** Mean, interval and percentiles of those replications that have the figure; `null` where none has. */
export function replicated(figures: readonly (number | null)[]): ReplicatedFigure | null {
  const known = figures.filter((figure) => figure !== null);
  return known.length === 0 ? null : always(known);
}

function always(figures: readonly number[]): ReplicatedFigure {
  const { n, mean, low, high } = meanInterval(figures);
  const [p5 = mean, p95 = mean] = percentiles(figures, [0.05, 0.95]);
  return { mean, ci95: low === null || high === null ? null : [low, high], p5, p95, n };
}

/** Output of each step from what was made up to its end. @param unitMin a step's minutes, times the runs added up */
export function perMinOf(made: Float64Array, unitMin: number): number[] {
  return Array.from(made, (upTo, i) => (upTo - (made[i - 1] ?? 0)) / unitMin);
}

function upTo(made: Float64Array, points: number): number {
  return points === 0 ? 0 : (made[points - 1] ?? 0);
}

function meanOf(values: Float64Array): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
