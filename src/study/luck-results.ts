/**
 * What a comparison says where something is left to chance: every variant (a tactic, a layout) played with the same seeds, so
 * that each has the same luck, and the differences between them replication by replication. Times are minutes from the
 * moment at which the feed could have started, whatever the variant; rates are per minute.
 */

import type { ReplicatedFigure, StopCount } from "../analysis/chance-results.ts";

/** Figures that are compared; `least` is good of all but the settled output and the evenness. */
const LUCK_FIGURES = ["ramp_up_loss", "settled_output_per_min", "hold_up_settled", "evenness_at_half_feed"] as const;
export type LuckFigureName = (typeof LUCK_FIGURES)[number];

export interface SameLuck {
  /** Replications of each variant. */
  readonly n: number;
  /** Of the first; those of the others are this one and their number, as a JSON list, for every variant alike. */
  readonly seed: string;
  /** Which look at this comparison it is, from 1: each later one is allowed half of the error of the one before. */
  readonly look: number;
  /** Confidence of what is said of one figure of all variants together, in this look. */
  readonly level: number;
  /**
   * Up to here losses are counted, and settled figures from here on, for all variants alike: the latest end of the ramp-up (by
   * MSER-5 and Welch) of any variant's mean output, or half of the horizon where none was found.
   */
  readonly counted_from_min: number;
  readonly counted_up_to_min: number;
  /** Variants in whose mean output no end of the ramp-up was found. */
  readonly without_end: readonly string[];
  /**
   * The one rate against which the loss of every variant is counted: mean settled output of the baseline or, without one, the
   * most of any. It cancels out of differences, which are the products that one has made by `counted_from_min` and the other not.
   */
  readonly against_per_min: number;
  /** Of each variant, in their order; they stand beside the loss, which has the interval. */
  readonly times: readonly VariantTime[];
  readonly tolerance: number;
  /** Of each kind that the file states, with the baseline or the first. Of fewer than fifty no figure has an interval; differences have. */
  readonly stops: readonly StopCount[];
  /** Doing nothing; `null` of layouts. */
  readonly baseline: string | null;
  /**
   * Told to make less in the long run than the baseline or, without one, than the best, by the later half of what is counted;
   * in nothing can they lead.
   */
  readonly slower_for_good: readonly string[];
  readonly figures: readonly LuckFigure[];
  /** Of tactics: the loss among those that may win, since they need nothing that is not granted and keep the limits where any does. */
  readonly deciding?: LuckFigure;
}

export interface VariantTime {
  readonly id: string;
  /** From when the mean output keeps up with 95 % of its settled output for good; `null` where it does not by half of the horizon. */
  readonly to_95_min: number | null;
  /** The mean loss in minutes of `against_per_min`; `null` where that is 0. */
  readonly ramp_up_loss_min: number | null;
  /** How much less it makes per minute than what `slower_for_good` is told against, in the later half that tells. */
  readonly later_less_per_min: number;
}

export interface LuckFigure {
  readonly figure: LuckFigureName;
  readonly better: "less" | "more";
  /** The best mean; `null` where fewer than two variants have the figure in two replications or more. */
  readonly leader: string | null;
  /** Whether the leader is told apart from every other, all at `level` together (Bonferroni): only then it is the winner. */
  readonly told_apart: boolean;
  readonly not_told_apart: readonly string[];
  /** How many of each would tell the leader apart nine times in ten, if differences are what they seem; `null` where none would. */
  readonly about: number | null;
  readonly variants: readonly VariantFigure[];
}

export interface VariantFigure {
  readonly id: string;
  /** `null` where no replication has it. */
  readonly value: ReplicatedFigure | null;
  /** Of this one less the leader; `null` of the leader, and of those that cannot lead. */
  readonly from_leader: PairedFigure | null;
  /** Of this one less the baseline; `null` of the baseline, and without one. */
  readonly from_baseline: PairedFigure | null;
}

export interface PairedFigure {
  /** Replications in which both have the figure. */
  readonly n: number;
  readonly mean: number;
  /** Student-t interval of the mean difference. */
  readonly interval: readonly [low: number, high: number];
  /** Confidence of this interval alone, raised so that `level` holds for all variants together. */
  readonly level: number;
  readonly told: "less" | "more" | null;
  /** Not told apart: how many replications would tell them apart nine times in ten, if so; `null` where none would. */
  readonly about: number | null;
  /** How many times as many runs on separate luck it would take for so narrow an interval; `null` where nothing varies. */
  readonly gain: number | null;
}
