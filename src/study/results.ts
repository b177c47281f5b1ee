/**
 * Results of studies: what `compare`, `prime` and `grow` print with `--json` and report. Times are minutes from the moment
 * at which the feed could have started, rates per minute; `null` is what did not happen.
 */
import type { Exact } from "../analysis/exact.ts";
import type { SameLuck } from "./luck/luck-results.ts";

/**
 * Tactics side by side, the choice first; the baseline has the id `none`. Where something is left to chance, there are
 * `replications`: the figures of tactics are then means over them, losses and settling as they say, and better and worse is only
 * what their intervals tell apart.
 */
export interface Comparison {
  readonly title: string;
  readonly seed: string;
  readonly tick_s: string;
  readonly horizon_min: number;
  /** What the line makes in the long run without any tactic, per minute. */
  readonly settled_per_min: number | null;
  /** No feed offers anything in the end, so that every run stops. */
  readonly feed_ends: boolean;
  /** `null` where the line comes to a standstill whatever is done; under chance also where none is told apart from all others. */
  readonly winner: string | null;
  readonly tactics: readonly TacticResult[];
  /** Only where something is left to chance. */
  readonly replications?: SameLuck;
}

export interface TacticResult {
  readonly id: string;
  /** What it does, in a phrase such as "every infeed buffer filled before the start, by hand at 60/min". */
  readonly does: string;
  /** What the line makes in the long run with it. */
  readonly settled_per_min: number | null;
  /** Below what it makes without a tactic or, where it stops then, with the best of them: the tactic costs for good. */
  readonly slower_for_good: boolean;
  /** From here the line stands still for good. A line that does never settles, and loses against nothing. */
  readonly stops_at_min: number | null;
  readonly settling_min: number | null;
  /** That it settles, or stops. */
  readonly proved: boolean;
  readonly to_95_min: number | null;
  /** Against running at the settled output from the first moment, so a late start counts. */
  readonly ramp_up_loss: number | null;
  readonly items_handled: number;
  readonly first_product_min: number | null;
  readonly hold_up_peak: number;
  readonly hold_up_settled: number;
  /** Minutes above any of the plant's limits on hold-up, and items beyond their limit on dwell; `null` without such limits. */
  readonly over_limit_min: number | null;
  readonly over_limit_items: number | null;
  /** Products made up to a time. */
  readonly made: MadeUpTo;
  /** The same, less what the baseline makes. */
  readonly made_more: MadeUpTo;
  /** Whether it needs hands in the line. */
  readonly by_hand: boolean;
  /**
   * No other is at least as good in settling, loss, handling and peak hold-up, and better in one. A tactic that makes the
   * line slower for good counts as never settling, and one with which it stops is beaten by any with which it goes on.
   */
  readonly undominated: boolean;
  /** One that is, or `null`. */
  readonly beaten_by: string | null;
  /** What could not be done as stated, such as a boost beyond what the belt carries. */
  readonly notes: readonly string[];
}

/** `null` beyond the horizon. */
export interface MadeUpTo {
  readonly min_10: number | null;
  readonly min_30: number | null;
  readonly min_60: number | null;
}

/** Curves of one tactic; all arrays have the length of `timesMin`. */
export interface TacticCurve {
  readonly id: string;
  readonly timesMin: readonly number[];
  /** Moving average of the output, per minute. */
  readonly outputPerMin: readonly number[];
  /** Products made since the first moment. */
  readonly made: readonly number[];
}

/** The least dose of each tactic that reaches a goal. */
export interface PrimeStudy {
  readonly title: string;
  readonly goal: { readonly within_min: number } | { readonly loss_below: number };
  readonly handling_below: number | null;
  /** From here the line stands still for good with nothing done; `null` where it goes on. */
  readonly baseline_stops_at_min: number | null;
  /** No feed offers anything in the end, so that every run stops. */
  readonly feed_ends: boolean;
  readonly tactics: readonly DoseResult[];
}

export interface DoseResult {
  readonly id: string;
  readonly reaches: boolean;
  /** The least dose that reaches the goal, else the one that comes nearest to it. */
  readonly dose: number | null;
  readonly unit: string;
  /** From here the line stands still for good, which reaches no goal. */
  readonly stops_at_min: number | null;
  readonly settling_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly items_handled: number;
  /** The next weaker dose, which does not reach it; `null` where the least dose is none or the goal is not reached. */
  readonly one_less: {
    readonly dose: number;
    readonly stops_at_min: number | null;
    readonly settling_min: number | null;
    readonly ramp_up_loss: number | null;
  } | null;
  readonly by_hand: boolean;
  readonly runs: number;
}

/** The chain lengthened machine by machine. */
export interface Growth {
  readonly title: string;
  readonly group: string;
  readonly sizes: readonly GrowthStep[];
  /** The first belt that can't carry what the machines need, and from which length; `null` if none. */
  readonly too_small: { readonly belt: string; readonly from_machines: number; readonly rate_per_min: Exact } | null;
}

export interface GrowthStep {
  readonly machines: number;
  readonly needs_per_min: Exact;
  readonly feed_per_min: Exact;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly settling_min: number | null;
  readonly proved: boolean;
  readonly within_tolerance_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly hold_up_settled: number;
  readonly tightest_belt: string | null;
  readonly tightest_rate_per_min: Exact | null;
  /** Of the tightest belt; negative: what it cannot carry of the need. */
  readonly headroom_per_min: Exact | null;
}
