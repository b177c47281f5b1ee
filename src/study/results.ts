/**
 * Results of studies: what `compare`, `prime` and `grow` print with `--json` and report. Times are minutes from the moment
 * at which the feed could have started, rates per minute; `null` is what did not happen.
 */
import type { Exact } from "../analysis/exact.ts";
import type { LossMoney } from "../analysis/money.ts";
import type { TacticNote } from "../network/tactics/contribution.ts";
import type { OfEachPart, Tactic, TacticPart } from "../scenario/tactic.ts";
import type { SameLuck } from "./luck-results.ts";

import type { Ask } from "./tactic-parts.ts";

export type { OfEachPart, Tactic, TacticPart };

/** What decides first; the others follow in the order of the rule (recommended/recommended.ts). */
export const START_PRIORITIES = ["loss", "time", "handling", "hold-up", "money"] as const;
export type StartPriority = (typeof START_PRIORITIES)[number];

export type IdlePart = TacticPart | "belts";

/** Goals as documents have them. */
export interface GoalsTold {
  readonly within_min: number | null;
  readonly loss_below: number | null;
  readonly handled_below: number | null;
}

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
  /** What decided first. */
  readonly priority: StartPriority;
  /**
   * What is worth doing by the rule of `recommended.ts`. `null` where the line comes to a standstill with nothing done and with
   * all that the floor grants; under chance also where none is told apart from all others.
   */
  readonly winner: string | null;
  /** Beside the winner, where better: the best that leaves less stock, the best with hands, with other means not granted. */
  readonly best_without_reserve: string | null;
  readonly best_with_hands: string | null;
  readonly best_with_other_means: string | null;
  /** No tactic meets the conditions, so that doing nothing is what is left. */
  readonly nothing_qualifies: boolean;
  /** Losses that are no further apart are equal: products of one cycle of each final machine. */
  readonly equal_within_items: number;
  /** Up to here losses are counted. */
  readonly counted_up_to_min: number;
  /** What stops in the figures `made_while_stopped`; `null` where something is left to chance. */
  readonly stops: Stops | null;
  readonly tactics: readonly TacticResult[];
  /** Only where something is left to chance. */
  readonly replications?: SameLuck;
}

export interface TacticResult {
  readonly id: string;
  /** Told in a phrase, such as "every infeed buffer filled before the start, by hand at 60/min". */
  readonly does: Tactic;
  /** What the line makes in the long run with it. */
  readonly settled_per_min: number | null;
  /**
   * Below what it makes without a tactic or, where it stops then, with the best of them: the tactic costs for good. Never said
   * of what has not settled yet.
   */
  readonly slower_for_good: boolean;
  /** From here the line stands still for good. A line that does never settles, and loses against nothing. */
  readonly stops_at_min: number | null;
  readonly settling_min: number | null;
  /** That it settles, or stops. */
  readonly proved: boolean;
  readonly to_95_min: number | null;
  /**
   * Against running from the first moment, so that a late start counts, at what the line settles at without a tactic (with the
   * best, where it stops then), up to one end for all; below 0 it is a gain.
   */
  readonly ramp_up_loss: number | null;
  readonly items_handled: number;
  /** Only where the file says what a product is worth. */
  readonly money?: StartMoney;
  readonly first_product_min: number | null;
  readonly hold_up_peak: number;
  readonly hold_up_settled: number;
  /** Minutes above any of the plant's limits on hold-up, and items beyond their limit on dwell; `null` without such limits. */
  readonly over_limit_min: number | null;
  readonly over_limit_items: number | null;
  /** How far and for how long each limit is broken; those that are kept are left out. */
  readonly limits_broken: readonly BrokenLimit[];
  /** Item-minutes beyond the limits, up to where losses are counted; `null`: not counted, under chance. */
  readonly over_limit_item_min: number | null;
  /** Items in infeed buffers once settled, as a share of what they are with nothing done; `null`: not known. */
  readonly reserve_kept: number | null;
  /** By so many minutes shorter is the stop of the feed that the infeed buffers bridge, all in all; 0 where no shorter. */
  readonly bridges_less_min: number;
  /** What it asks of the floor, with what must be known to set it up, and whether all of it is granted. */
  readonly asks_for: readonly Ask[];
  readonly granted: boolean;
  /** Tactics with which the line runs alike, item for item: they have no rows of their own. */
  readonly same_as: readonly string[];
  /** Products made while that machine of `stops` has stopped, and while the feeds have; `null`: not played. */
  readonly made_while_stopped: { readonly machine: number | null; readonly feeds: number | null };
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
  readonly notes: readonly StartNote[];
}

/** What could not be done as stated, changes nothing, or comes of it later. */
export type StartNote = OwnNote | AlikeNote | LaterNote;

export type OwnNote = TacticNote | IdleNote;

export interface IdleNote {
  readonly note: "idle";
  readonly part: IdlePart;
  /** It waits for buffers to be full, which they are from the start. */
  readonly waitsForFull: boolean;
}

/** Of a tactic with which the line runs alike. */
interface AlikeNote {
  readonly note: "alike";
  readonly id: string;
  readonly of: OwnNote;
}

type LaterNote =
  | { readonly note: "breaks-later" }
  | { readonly note: "slower"; readonly settledPerMin: number | null; readonly fullPerMin: number };

/** Exact sums of the figures told; `null`: not known, or not stated. */
export interface StartMoney extends LossMoney {
  readonly hands_per_start: Exact | null;
  /** Beside nothing done, after its hands; `null` also of what is slower for good. Below 0 it costs more than it saves. */
  readonly saved_per_start: Exact | null;
  readonly saved_per_year: Exact | null;
}

/** A stop in the middle of the ramp-up. */
export interface Stops {
  /** The first that the flow comes to. */
  readonly machine: string;
  readonly feeds: readonly string[];
  /** On the clock of the line, which may start late. */
  readonly from_min: number;
  readonly to_min: number;
}

export interface BrokenLimit {
  readonly what: "hold-up" | "dwell";
  /** `null` for the whole plant. */
  readonly place: string | null;
  /** `null` for every kind. */
  readonly item: string | null;
  /** Items or minutes, and the most that came up. */
  readonly limit: number;
  readonly peak: number;
  /** Minutes above a limit on hold-up; items beyond one on dwell. */
  readonly over_min: number | null;
  readonly over_items: number | null;
  /** Over what was played. */
  readonly of_min: number;
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
  readonly goals: GoalsTold;
  /** Something is left to chance, and all here is of the line as its means have it. */
  readonly by_means: boolean;
  /** From here the line stands still for good with nothing done; `null` where it goes on. */
  readonly baseline_stops_at_min: number | null;
  /** With nothing done. */
  readonly baseline_to_95_min: number | null;
  readonly baseline_loss: number | null;
  /**
   * Of the doses that reach the goal the one worth doing, by the rule of `recommended.ts`, or doing nothing, `none`, where that
   * reaches it and nothing is better; `null`: none that the floor grants. Then the best of the others, as in a comparison.
   */
  readonly best: string | null;
  readonly best_without_reserve: string | null;
  readonly best_with_hands: string | null;
  readonly best_with_other_means: string | null;
  /** No feed offers anything in the end, so that every run stops. */
  readonly feed_ends: boolean;
  readonly tactics: readonly DoseResult[];
}

/** What a dose counts; for as long, where that is not for good. */
export type DoseUnit =
  | {
      readonly counts:
        | "items-in-each"
        | "full-from-tail"
        | "seconds-held"
        | "seconds-between-starts"
        | "items-of-room"
        | "per-cent-over-need"
        | "seconds-far-end-first";
    }
  | { readonly counts: "per-cent-more-feed" | "per-cent-at-second-place"; readonly for_min: number };

export interface DoseResult {
  readonly id: string;
  readonly reaches: boolean;
  /** The least dose that reaches the goal, else the one that comes nearest to it. */
  readonly dose: number | null;
  readonly unit: DoseUnit;
  /** From here the line stands still for good, which reaches no goal. */
  readonly stops_at_min: number | null;
  readonly settling_min: number | null;
  readonly to_95_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly items_handled: number;
  /** As in a comparison; of doses that reach the goal only. */
  readonly reserve_kept: number | null;
  readonly over_limit_item_min: number | null;
  readonly asks_for: readonly Ask[];
  readonly granted: boolean;
  /** The next weaker dose, which does not reach it; `null` where the least dose is none or the goal is not reached. */
  readonly one_less: {
    readonly dose: number;
    readonly stops_at_min: number | null;
    readonly settling_min: number | null;
    readonly to_95_min: number | null;
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
  /**
   * The most machines worth having: with them, and all fewer, the line makes all that they need for good and keeps the limits;
   * `null` where the fewest do not.
   */
  readonly worth_up_to: number | null;
  /** The first belt that can't carry what the machines need, and from which length; `null` if none. */
  readonly too_small: { readonly belt: string; readonly from_machines: number; readonly rate_per_min: Exact } | null;
}

export interface GrowthStep {
  readonly machines: number;
  readonly needs_per_min: Exact;
  readonly feed_per_min: Exact;
  /** Products that the plant would make if no machine ever waited. */
  readonly full_per_min: Exact;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly settling_min: number | null;
  /** From here the line stands still for good. */
  readonly stops_at_min: number | null;
  readonly proved: boolean;
  readonly within_tolerance_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly hold_up_settled: number;
  /** Settled below what its machines need: it costs for good. Never said of what has not settled yet. */
  readonly slower_for_good: boolean;
  readonly limits_broken: readonly BrokenLimit[];
  readonly tightest_belt: string | null;
  readonly tightest_rate_per_min: Exact | null;
  /** Of the tightest belt; negative: what it cannot carry of the need. */
  readonly headroom_per_min: Exact | null;
}
