/**
 * Results of the short-feed studies: what `shortage` prints with `--json` and reports. Times are minutes, rates per
 * minute; an exact value is a string that fraction.js reads back, a measured one a number that stands beside a `null`;
 * what did not happen is `null`.
 */
import type { Basis, Exact } from "../../analysis/result.ts";
import type { ChainLine } from "../../scenario/scenario.ts";
import type { OverLimits } from "../over-limits.ts";
import type { BrokenLimit, TacticResult } from "../results.ts";

/** One way to lay the plant out, the one in the file first. */
export interface VariantResult {
  readonly id: VariantId;
  /** The rule of its chains' dividers, where it has chains and one rule. */
  readonly does: ChainLine["dividers"] | null;
  /** Lines that are drawn as even trees, or as loops of dividers of two and three ways where no tree of those has equal shares. */
  readonly trees: readonly string[];
  readonly loops: readonly string[];
  /** Lines that stay chains there, and why. */
  readonly kept: readonly KeptLine[];
  /** Outlets of dividers in them that no divider of two or three ways makes: the tree is an ideal there, not a plan. */
  readonly ideal_ways: readonly number[];
  /** Far ends of chains, outlets and return belts, that a tree leaves out. */
  readonly ends_left_out: readonly string[];
}

export type VariantId = "as-written" | "even" | "branch-first" | "through-first" | "tree" | "loop";

export interface KeptLine {
  readonly line: string;
  readonly why: "custom" | "drawn" | "one-consumer" | "outlet";
}

/** A feed that is lowered. */
export interface LoweredFeed {
  readonly id: string;
  /** What it offers in full. */
  readonly rate_per_min: Exact;
  /** Items of a full vehicle; `null` where it feeds all the time. */
  readonly batch_items: number | null;
}

interface StudyHead {
  readonly title: string;
  readonly seed: string;
  readonly horizon_min: number;
  readonly feeds: readonly LoweredFeed[];
  readonly full_per_min: Exact;
  /** Kinds of finished products; unlike ones are added up, item by item. */
  readonly products: readonly string[];
  readonly variants: readonly VariantResult[];
  /** Lines whose machines need different amounts; equal shares are not fair ones there. */
  readonly unequal_needs: readonly string[];
}

/** The feed lowered step by step. */
export interface Shortage extends StudyHead {
  /** From the highest to the lowest. */
  readonly levels: readonly ShortageLevel[];
}

export interface ShortageLevel {
  /** Share of the full feed. */
  readonly level: Exact;
  /** Vehicles bring whole items. */
  readonly batches: readonly { readonly feed: string; readonly items: number }[];
  /**
   * In proportion to the feed, up to the output at full feed, with what the best variant makes of it there. Another share
   * of the feed may be worth more, so it is a yardstick and no bound.
   */
  readonly ideal_per_min: number;
  /**
   * What is worth having on this feed by the rule of `recommended.ts`; the plant as written where nothing is better. `null`
   * where it comes to a standstill, and under chance. Beside it, where better, the best that leaves less stock.
   */
  readonly recommended: VariantId | null;
  readonly best_without_reserve: VariantId | null;
  /** Losses that are no further apart are equal, and up to here they are counted. */
  readonly equal_within_items: number;
  readonly counted_up_to_min: number;
  readonly variants: readonly LevelResult[];
}

/** As in a comparison, beside the plant as written. */
export type LevelJudged = Pick<
  TacticResult,
  "ramp_up_loss" | "to_95_min" | "slower_for_good" | "reserve_kept" | "bridges_less_min" | "limits_broken"
>;

export interface LevelResult extends OverLimits, LevelJudged {
  readonly id: VariantId;
  readonly basis: Basis;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  /** `null` where the settled output is not known exactly. */
  readonly settled_by_item_per_min: Readonly<Record<string, Exact>> | null;
  /** What the plant takes of each feed that is lowered. */
  readonly feeds: readonly TakenFeed[];
  /** Of what the machines make when none ever waits. */
  readonly share_of_full: number;
  /** From here the output repeats for good; `null`: not within the horizon. */
  readonly settling_min: number | null;
  /** From here it stands still for good. */
  readonly stops_at_min: number | null;
  readonly proved: boolean;
  readonly hold_up_settled: number;
  readonly fluctuation: Fluctuation;
  /** Jain's index of the least evenly served line, and which that is; `null` where no line divides. */
  readonly jain: Exact | null;
  readonly measured_jain?: number;
  readonly jain_line: string | null;
  readonly lines: readonly LineShares[];
  readonly machines: readonly MachineShare[];
  /** Machines that are below 99.9 % of their need for want of items. */
  readonly starving: readonly string[];
}

export interface TakenFeed {
  readonly id: string;
  readonly offered_per_min: Exact;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
}

/** Of the moving average over about ten cycles of each machine, in one settled period, else in the run's last quarter. */
export interface Fluctuation {
  readonly period_min: number | null;
  readonly window_min: number;
  readonly low_per_min: number;
  readonly high_per_min: number;
  /** Whether it leaves the settled output by more than 5 % and by more than a cycle of each machine. */
  readonly swings: boolean;
}

/** A line that feeds at least two machines which a lowered feed can reach, and how evenly. */
export interface LineShares {
  readonly id: string;
  readonly machines: readonly string[];
  /** `null` where none of them runs, or where the rates are only measured. */
  readonly jain: Exact | null;
  readonly measured_jain?: number;
}

export interface MachineShare {
  readonly id: string;
  readonly line: string | null;
  readonly needs_per_min: Exact;
  /** Products at full speed. */
  readonly full_products_per_min: Exact;
  /** Settled rate over need. */
  readonly share: Exact | null;
  readonly measured_share?: number;
}

/** The feed lowered for a while. */
export interface Dip extends StudyHead {
  readonly dip: { readonly level: Exact; readonly from_min: number; readonly for_min: number };
  /** What the feeds offer less than without the dip, items. */
  readonly withheld: number;
  readonly results: readonly DipResult[];
}

export interface DipResult {
  readonly id: VariantId;
  /** What the plant settles at after the dip. */
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly proved: boolean;
  /** Whether the output was in its long-run pattern when the dip came. */
  readonly settled_before: boolean | null;
  /** From when the plant stands still for good, without the dip and with it; `null` where it goes on. */
  readonly stops_without_min: number | null;
  readonly stops_at_min: number | null;
  /** Products up to the horizon, without the dip and with it. */
  readonly made_without: number;
  readonly made: number;
  /** Products missing at the horizon. */
  readonly lost: number;
  /** Lowest moving average from the dip on, and when. */
  readonly lowest_per_min: number;
  readonly lowest_at_min: number;
  /** Minutes after the dip's end until the output is in its long-run pattern for good; 0: it was never out of it. A standstill is none. */
  readonly recovery_min: number | null;
  /** Minutes after the dip's end until its moving average stays within 5 % of the settled output. */
  readonly within_tolerance_min: number | null;
  readonly hold_up_before: number | null;
  readonly hold_up_settled: number;
  /** Limits that are broken, without the dip and with it; `null` where the plant states none. */
  readonly limits_broken_without: readonly BrokenLimit[] | null;
  readonly limits_broken: readonly BrokenLimit[] | null;
}

/** Moving average of the output over time. */
export interface DipCurve {
  readonly id: VariantId;
  readonly timesMin: readonly number[];
  readonly outputPerMin: readonly number[];
}
