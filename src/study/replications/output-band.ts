/** Output over time of all replications together, for pictures. */
import { band } from "../../analysis/statistics/band.ts";
import { movingAverage } from "../../analysis/statistics/welch.ts";
import type { ReplicationGrid } from "./replication.ts";
import { type Kept, perMinOf } from "./replications-figures.ts";

/** Moving averages of the output per minute, point by point; all of one length. */
export interface OutputBand {
  /** The middle of what the average spans; its last half before the end of the run has none. */
  readonly timesMin: readonly number[];
  readonly averageMin: number;
  readonly mean: readonly number[];
  /** Interval of the mean, at each point by itself. */
  readonly low: readonly number[] | null;
  readonly high: readonly number[] | null;
  /** Of the replications. */
  readonly p5: readonly number[];
  readonly p95: readonly number[];
  readonly median: readonly number[];
  /** One run as it comes: the first, or the second where the first is the median. */
  readonly sample: readonly number[];
  readonly sampleReplication: number;
}

/** Points that a picture can show; the average is no narrower than this asks for. */
const SHOWN_POINTS = 120;

/** @param median number of the median run */
export function outputBand(kept: readonly Kept[], grid: ReplicationGrid, median: number): OutputBand {
  const { stepMin, points, averageMin } = grid;
  const widest = Math.max(1, Math.floor(points / 8));
  const wanted = Math.max(averageMin / stepMin, points / SHOWN_POINTS) / 2;
  const window = Math.max(1, Math.min(widest, Math.round(wanted)));
  const curves = kept.map(({ made }) => movingAverage(perMinOf(made, stepMin), window));
  const sampleReplication = median === 1 && kept.length > 1 ? 2 : 1;
  const { mean, low, high, p5, p95 } = band(curves);
  return {
    timesMin: mean.map((_, i) => (i + 0.5) * stepMin),
    averageMin: (2 * window + 1) * stepMin,
    mean,
    low,
    high,
    p5,
    p95,
    median: curves[median - 1] ?? [],
    sample: curves[sampleReplication - 1] ?? [],
    sampleReplication,
  };
}
