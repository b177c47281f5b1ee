/**
 * What the search for the best start answers: `best` prints it with `--json`. Times are minutes from the moment at which the feed
 * could have started, rates per minute; `null` is what did not happen or is not known.
 */

import type { PlacedAt } from "../card-steps.ts";
import type { GoalsTold, StartPriority, TacticResult } from "../results.ts";
import type { CardStep } from "../tactic-parts.ts";

export interface BestStudy {
  readonly title: string;
  readonly seed: string;
  readonly tick_s: string;
  readonly horizon_min: number;
  readonly settled_per_min: number | null;
  readonly priority: StartPriority;
  readonly goals: GoalsTold;
  /** Whether a start that may be recommended reaches all goals; without goals `null`. */
  readonly goals_reached: boolean | null;
  /** The id of one of the starts; `null` where the line stops with nothing done and with all that is granted. */
  readonly recommended: string | null;
  /** What nothing beats in loss, 95 % time, handling and reserve, from what costs nothing to what costs most; `none` among them, and what only chance makes best. */
  readonly starts: readonly BestStart[];
  /** Not beaten either, but left off for a short list. */
  readonly left_out: number;
  /** The best tactic of the file and of the standard ones that the floor grants; `none` where nothing done is better. */
  readonly best_known: KnownStart | null;
  readonly search: Search;
  /** `null` where hands are not granted. */
  readonly placements: readonly PlacedResult[] | null;
  /** What to do, in order; empty where nothing is to be done. */
  readonly card: readonly CardStep[];
  /** Only where something is left to chance: what is searched is the line without it, and the best few are played with it. */
  readonly under_chance?: UnderChance;
}

export interface UnderChance {
  /** Replications of each, on the same luck. */
  readonly n: number;
  /** What was best without chance. */
  readonly best_without: string | null;
  /** Whether one is told to lose less than all others that may win; only then it is recommended for that. */
  readonly is_told: boolean;
  readonly starts: readonly LuckyStart[];
}

export interface LuckyStart {
  readonly id: string;
  /** Means over the replications. */
  readonly ramp_up_loss: number | null;
  readonly to_95_min: number | null;
  /** Its stock bridges less of what stops: likely to make less in the long run than doing nothing. */
  readonly makes_less: boolean;
}

export interface BestStart
  extends Pick<
    TacticResult,
    | "id"
    | "does"
    | "ramp_up_loss"
    | "to_95_min"
    | "settling_min"
    | "items_handled"
    | "money"
    | "hold_up_peak"
    | "over_limit_min"
    | "reserve_kept"
    | "bridges_less_min"
    | "asks_for"
  > {
  /** As the file states it under `tactics`. */
  readonly tactic: TacticEntry;
  readonly placed: readonly PlacedAt[];
  readonly reaches_goals: boolean;
  /** The best that takes one step less; `null` where there is none, or it was not looked for. */
  readonly one_less: OneLess | null;
}

/** Keys and values as in a scenario file. */
export type TacticEntry = Readonly<Record<string, unknown>>;

export interface OneLess {
  /** What is less, such as "nothing at sealer-4" or "metered-103". */
  readonly what: string;
  readonly ramp_up_loss: number | null;
  readonly to_95_min: number | null;
}

export type KnownStart = Pick<BestStart, "id" | "ramp_up_loss" | "to_95_min" | "items_handled">;

export interface Search {
  /** Starts that were played. */
  readonly tried: number;
  /** Every dose of every means with every other, and every placement of whole buffers. */
  readonly is_complete: boolean;
  /** Nothing one step from the recommended start is better: a dose up or down, a buffer more, less, or elsewhere. */
  readonly recommended_is_proved: boolean;
  /** Starts that nothing tried beats, of which not all neighbours were tried. */
  readonly open_starts: number;
  /** Of the recommended start; `null` where no items are placed, or it was not asked for. */
  readonly item_by_item: boolean | null;
  /** It was told to stop before it was done. */
  readonly was_stopped: boolean;
}

export interface PlacedResult {
  readonly buffers: number;
  readonly best: Arrangement;
  /** Full from the head, from the tail, and the same items in equal shares of all buffers; `null`: hands cannot place it so. */
  readonly head: Arrangement | null;
  readonly tail: Arrangement | null;
  readonly even: Arrangement | null;
  readonly is_complete: boolean;
  /** All were tried, or none with one buffer moved is better. */
  readonly is_proved: boolean;
}

export interface Arrangement {
  readonly placed: readonly PlacedAt[];
  readonly items: number;
  readonly settling_min: number | null;
  readonly to_95_min: number | null;
  readonly ramp_up_loss: number | null;
}
