/**
 * Sampled curves for the pictures and series.csv. All arrays of one series have the length of `timesMin`; entry i
 * speaks of the time from the sample before (or 0) to `timesMin[i]`.
 */
export interface Series {
  /** End of each sample, minutes, evenly spaced but for a shorter last one. */
  readonly timesMin: readonly number[];
  /** After the last sample the line repeats with this period (minutes); `null` where no recurrence was proved. */
  readonly repeatsWithMin: number | null;
  readonly machines: readonly MachineSeries[];
  readonly output: OutputSeries;
  /** Items on belts and in buffers at the sample's end, by item kind. */
  readonly holdUp: readonly { readonly item: string; readonly level: readonly number[] }[];
  /** Items in surge buffers at the sample's end, all kinds together. */
  readonly surges: readonly SurgeSeries[];
}

export interface SurgeSeries {
  readonly feed: string;
  readonly room: number;
  readonly level: readonly number[];
}

export interface MachineSeries {
  readonly id: string;
  /** Level at the sample's end, items. */
  readonly infeed: readonly { readonly item: string; readonly capacity: number; readonly level: readonly number[] }[];
  /** Shares of the sample spent in each state; they add up to 1. */
  readonly running: readonly number[];
  readonly starved: readonly number[];
  readonly blocked: readonly number[];
  readonly down: readonly number[];
  readonly held: readonly number[];
}

export interface OutputSeries {
  /** Products finished in the sample, per minute. */
  readonly perMin: readonly number[];
  /** For the eye: its centred moving average, at the sample's end, and over how long. */
  readonly movingAveragePerMin: readonly number[];
  readonly averagedOverMin: number;
}
