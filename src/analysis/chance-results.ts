/** What a result says where something is left to chance. Times are minutes, counted from the start of the run. */

/** A figure that differs from one replication to the next. */
export interface ReplicatedFigure {
  readonly mean: number;
  /** Student-t 95 % interval of the mean; `null` where only one replication has the figure. */
  readonly ci95: readonly [low: number, high: number] | null;
  /** Percentiles of the replications, not of the mean. */
  readonly p5: number;
  readonly p95: number;
  /** Replications that have the figure. */
  readonly n: number;
}

/** Where the ramp-up ends under chance, by each measure; `null` where it finds no end, and then why. */
export interface RampUpEnds {
  /** MSER-5 on the output: of the one run, or the mean over replications. */
  readonly mser5_min: number | null;
  readonly mser5_why: "too few values" | "beyond half" | null;
  /** Welch's procedure on the mean output over replications; `null` of one run, as its window. */
  readonly welch_min: number | null;
  readonly welch_why: "one run" | "too few points" | "still moving" | "too rough" | null;
  readonly welch_window_min: number | null;
}

/** Of a run in which something is left to chance. */
export interface Chance {
  readonly ramp_up_end: RampUpEnds;
  /** What the long-run output is worth that this one run shows after `counted_from_min`. */
  readonly settled_output_per_min: {
    readonly mean: number;
    /** By batch means; `null` where the run is too short, and then why. */
    readonly ci95: readonly [low: number, high: number] | null;
    readonly why: "too few values" | "batches still correlated" | null;
    /** Batches of the interval, and how long each is. */
    readonly batches: number | null;
    readonly batch_min: number | null;
  };
  /** The end of the ramp-up by MSER-5, or half of the horizon where it finds none. */
  readonly counted_from_min: number;
}

export interface Replications {
  readonly n: number;
  /** Of the first; those of the others are this one and their number, as a JSON list. */
  readonly seed: string;
  /** What was asked for in place of a number; `null` where a number was. */
  readonly until: Until | null;
  readonly ramp_up_end: ReplicatedEnds;
  /** From here on the settled figures are counted: the later of the ends by MSER-5 and Welch, on the marks they are kept at. */
  readonly counted_from_min: number;
  /** Products per minute after that. */
  readonly settled_output_per_min: ReplicatedFigure;
  /**
   * From here a replication's moving average stays within the tolerance of its own settled output; of those where it comes to
   * stay by half of the horizon.
   */
  readonly settling_min: ReplicatedFigure | null;
  readonly settling_average_min: number;
  readonly tolerance: number;
  /** Against the replication's own settled output, from the start up to `counted_from_min`; `null` where no end was found. */
  readonly ramp_up_loss: ReplicatedFigure | null;
  /** Mean of the items on belts and in buffers after `counted_from_min`. */
  readonly hold_up_settled: ReplicatedFigure;
  /** Products over the whole horizon. */
  readonly made: ReplicatedFigure;
  /** Share of the time after `counted_from_min` in which the machine runs. */
  readonly machines: readonly { readonly id: string; readonly uptime: ReplicatedFigure }[];
  /** The replication that made the median number of products: of it is all else in the result. */
  readonly median: ReplicationName;
}

export interface ReplicatedEnds extends RampUpEnds {
  /** From here the moving average of the mean output stays within the tolerance of the mean settled output; by half of the horizon. */
  readonly band_min: number | null;
  readonly band_average_min: number;
}

export interface Until {
  readonly figure: string;
  /** Wanted half-width of the interval, as a share of the mean: 0.02 for ± 2 %. */
  readonly share: number;
  readonly reached: boolean;
  /** The half-width's share of the mean in the end; `null` where there is none. */
  readonly half_width: number | null;
  /** How many replications it would take, judged by these; `null` where that can't be told. */
  readonly about: number | null;
}

export interface ReplicationName {
  readonly replication: number;
  readonly seed: string;
}
