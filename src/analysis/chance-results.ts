/** What a result says where something is left to chance. Times are minutes, counted from the start of the run. */

import type { StopWhat } from "../network/random-program.ts";
import type { NoEnd } from "./statistics/ramp-up-end.ts";

/** A figure that differs from one replication to the next. */
export interface ReplicatedFigure {
  readonly mean: number;
  /** 95 % interval of the mean, by Student's t with Hall's correction for skewness; `null` where there is none, and then why. */
  readonly ci95: readonly [low: number, high: number] | null;
  readonly no_ci95?: NoInterval;
  /** Percentiles of the replications, not of the mean. */
  readonly p5: number;
  readonly p95: number;
  /** Replications that have the figure. */
  readonly n: number;
}

/** `too few stops`: of some stated kind fewer than fifty were seen, in all replications together. */
export type NoInterval = "one replication" | "too few stops" | "no variation";

/** A kind of stop that the file states, and how often it was seen. */
export interface StopCount {
  readonly what: StopWhat;
  /** Id of the machine, group or feed. */
  readonly of: string;
  readonly seen: number;
  /** For an interval: fifty or more. */
  readonly enough: boolean;
  /** About how many runs of this length it would take, or one so many times as long; `null` where there are enough. */
  readonly replications_needed: number | null;
}

/** What the line makes while it is spared stops that are rare: of the replications in which there were none. */
export interface RareStops {
  readonly stops: readonly Pick<StopCount, "what" | "of">[];
  readonly settled_output_per_min: ReplicatedFigure;
}

/** A run that made nothing any more at its end. */
export interface StoppedRun {
  /** When the last product was made; 0 where none was. */
  readonly since_min: number;
  /** Heads of belts that could not leave since then or before, those first that have stood longest. */
  readonly stands: readonly { readonly belt: string; readonly item: string }[];
}

/** Where the ramp-up ends under chance, by each measure; `null` where it finds no end, and then why. */
export interface RampUpEnds {
  /** MSER-5 on the output: of the one run, or the mean over replications. */
  readonly mser5_min: number | null;
  readonly mser5_why: NoEnd | null;
  /** Welch's procedure on the mean output over replications; `null` of one run, as its window. */
  readonly welch_min: number | null;
  readonly welch_why: "one run" | "too few points" | "still moving" | "too rough" | null;
  readonly welch_window_min: number | null;
  /** Both have an end, but up to half of the run the first half of what follows it differs from the second. */
  readonly drifts: boolean;
}

/** Of a run in which something is left to chance. */
export interface Chance {
  readonly ramp_up_end: RampUpEnds;
  /** What the long-run output is worth that this one run shows after `counted_from_min`. */
  readonly settled_output_per_min: {
    readonly mean: number;
    /** By batch means; `null` where there is none, and then why. */
    readonly ci95: readonly [low: number, high: number] | null;
    readonly why: NoRunInterval | null;
    /** Batches of the interval, and how long each is. */
    readonly batches: number | null;
    readonly batch_min: number | null;
  };
  /** Of each kind that the file states. */
  readonly stops: readonly StopCount[];
  /** The end of the ramp-up by MSER-5, put off to an eighth, a quarter or half of the horizon; half where it finds none. */
  readonly counted_from_min: number;
  /** Where no end is found, a horizon that may do. */
  readonly run_at_least_min: number | null;
  /** Where it made nothing any more at its end. */
  readonly stopped: StoppedRun | null;
  /** Feeds whose gaps are left to chance: items that wait at the gate for a slot on the belt. */
  readonly gates: readonly Gate[];
}

/** `still ramping up`: no end of the ramp-up is found, so that there is no long run to tell of. */
export type NoRunInterval =
  | "still ramping up"
  | "too few stops"
  | "too few values"
  | "batches still correlated"
  | "no variation";

export interface Gate {
  readonly feed: string;
  readonly mean: number;
  readonly most: number;
  /** At the horizon. */
  readonly at_end: number;
}

export interface Replications {
  readonly n: number;
  /** Of the first; those of the others are this one and their number, as a JSON list. */
  readonly seed: string;
  /** Replications asked for; more than `n` where it was stopped before all were complete, `null` where `until` was asked. */
  readonly asked: number | null;
  /** What was asked for in place of a number; `null` where a number was. */
  readonly until: Until | null;
  /** Of each kind that the file states. */
  readonly stops: readonly StopCount[];
  /** By the mean output. */
  readonly ramp_up_end: RampUpEnds;
  /**
   * From here on the settled output is counted: an eighth, a quarter or half of the horizon, the first by which the ramp-up has been
   * over for as long as it took; `null` where the horizon is too short, as then are the settled figures.
   */
  readonly counted_from_min: number | null;
  /** Where it is too short: a horizon that may do. */
  readonly run_at_least_min: number | null;
  /** Products per minute after that. */
  readonly settled_output_per_min: ReplicatedFigure | null;
  /** What rounding to ticks may take off it at most, as a share. */
  readonly tick_takes_at_most: number;
  /** Where a stated kind of stop is too rare for an interval, an interval without it; `null` where that can't be told. */
  readonly without_rare: RareStops | null;
  /** From when the mean output keeps up with 95 % of the settled output for good; `null` where it does not by half of the horizon. */
  readonly to_95_min: number | null;
  readonly tolerance: number;
  /** Against the replication's own settled output, from the start up to one end for all: a quarter or half of the horizon. */
  readonly ramp_up_loss: ReplicatedFigure | null;
  readonly loss_counted_to_min: number | null;
  /** Its mean in minutes of settled output. */
  readonly ramp_up_loss_min: number | null;
  /** The hold-up's own ramp-up. */
  readonly hold_up_ramp_up_end: RampUpEnds;
  readonly hold_up_counted_from_min: number | null;
  /** Mean of the items on belts and in buffers from then on. */
  readonly hold_up_settled: ReplicatedFigure | null;
  /** Products over the whole horizon. */
  readonly made: ReplicatedFigure;
  /** Share of the time in which the machine runs, after the ramp-up of output, hold-up and its own. */
  readonly machines: readonly { readonly id: string; readonly uptime: ReplicatedFigure | null }[];
  /** Replications that made nothing any more at their end. */
  readonly stopped: readonly (StoppedRun & { readonly replication: number })[];
  /** The replication that made the median number of products: of it is all else in the result. */
  readonly median: ReplicationName;
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
  /** How often such a rule's interval of 95 % has held the truth in trials, in per cent. */
  readonly coverage_percent: number;
}

export interface ReplicationName {
  readonly replication: number;
  readonly seed: string;
}
