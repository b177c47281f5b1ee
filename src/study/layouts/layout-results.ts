/**
 * What `layouts` prints with `--json` and reports: one line of the plant laid out in several ways. Times are minutes, rates
 * per minute; `null` is what did not happen, or is not known of a layout that cannot be built.
 */
import type { Exact } from "../../analysis/exact.ts";
import type { LossMoney } from "../../analysis/money.ts";
import type { ElementCounts } from "../../network/changes.ts";
import type { Ways } from "../../quantity/counts.ts";
import type { LengthUnit } from "../../quantity/units.ts";
import type { ChainLine, Lengths } from "../../scenario/scenario.ts";
import type { SameLuck } from "../luck-results.ts";
import type { TacticResult } from "../results.ts";

export type { ElementCounts };

export const PRIORITIES = ["fast", "small", "cheap", "even", "grow", "money"] as const;
export type Priority = (typeof PRIORITIES)[number];

export type LayoutKind = "chain" | "tree" | "loop" | "tree-of-chains" | "chain-of-trees";

/** The line as it stands, where that is not drawn up alike. */
export const TODAY = "today";

export interface LayoutStudy {
  readonly title: string;
  /** The line that is laid out; the others stay as they are. */
  readonly line: string;
  readonly machines: number;
  /** What it leads to, of which there are so many: machines, or outlets alone, which need nothing and take whatever comes. */
  readonly leads_to: "machines" | "outlets";
  /** Outlets that a divider may have: up to so many, or those of a list. */
  readonly ways: Ways;
  /** What the line is fed and what its machines need, per minute; of outlets what they are fed. */
  readonly feed_per_min: number;
  readonly needs_per_min: number;
  readonly seed: string;
  readonly tick_s: string;
  readonly horizon_min: number;
  readonly priority: Priority;
  /** Of the belts of the layouts that are drawn up. */
  readonly lengths: Lengths;
  /** In which the file states lengths, and in which texts tell them; figures here are in metres all the same. */
  readonly length_unit: LengthUnit;
  /** In the order in which they were drawn up: chain, tree, loop, mixtures, the line as it stands, and then what is only possible if. */
  readonly layouts: readonly LayoutResult[];
  /** The layout that shows the line as it stands today: one drawn up alike, or `today`; `null` where that is not among them. */
  readonly today: string | null;
  /** Losses of the runs that are no further apart are equal, and times no further apart than it takes to make so many; none is under chance. */
  readonly equal_within_items: number;
  /** `null` where none can be built, or none makes anything; under chance also where none is told apart from all others. */
  readonly recommended: string | null;
  /** Why that one. */
  readonly recommended_because: Because;
  /** Beside it, where better: the best of those that leave less stock in infeed buffers, and what it is better in. */
  readonly best_without_reserve: string | null;
  readonly best_without_reserve_because: Because | null;
  /**
   * Only where something is left to chance: of the layouts that can be built. Figures of layouts are then means over them, and
   * none is primed.
   */
  readonly replications?: SameLuck;
}

export interface LayoutResult {
  /** Such as `chain` or `tree-of-2-chains`; names its files. */
  readonly id: string;
  readonly layout: LayoutKind;
  /** How it is drawn up; with what is assumed, if anything is. */
  readonly does: Does;
  /** What is otherwise than in the layouts that are weighed, else `null`. Such a row is shown and not weighed. */
  readonly assuming: Assumption | null;
  /** Whether dividers can make the shares, and every belt can carry its part. */
  readonly feasible: boolean;
  /** Why not, and what would do. Of a feasible one: that it makes less in the long run than another; else `null`. */
  readonly reason: Reason | null;
  /** Long-run output of the plant, and whether it and the settling are proved. */
  readonly settled_per_min: number | null;
  readonly proved: boolean;
  readonly settling_min: number | null;
  readonly to_95_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly hold_up_settled: number | null;
  readonly hold_up_peak: number | null;
  readonly dwell_mean_min: number | null;
  readonly dwell_longest_min: number | null;
  /** Minutes for which more lies there than a limit of the plant allows, and items that lie longer; `null` without one. */
  readonly over_limit_min: number | null;
  readonly over_limit_items: number | null;
  /** As in a comparison, beside the line as it stands today; shares `null` where that is not known, or left to chance. */
  readonly reserve_kept: TacticResult["reserve_kept"];
  readonly bridges_less_min: TacticResult["bridges_less_min"];
  readonly limits_broken: TacticResult["limits_broken"];
  /** Jain's index of the machines' shares of their needs on half the feed, 1/n to 1. */
  readonly evenness_at_half_feed: number | null;
  /** Elements of the line alone. */
  readonly dividers: number | null;
  readonly merges: number | null;
  readonly belts: number | null;
  /** Metres of belt, as far as lengths are stated; `null` where none is. */
  readonly belt_m: number | null;
  /** Whether each belt is as long as its way on the grid, or as stated if that is longer. */
  readonly to_scale: boolean;
  readonly floor_m2: number | null;
  /** Only where the file states costs. */
  readonly money?: LayoutMoney;
  /** Places where one belt must pass over another, on the grid by which the floor is counted. */
  readonly crossings: number | null;
  /** Of the line's belts the one with the least headroom when all has settled. */
  readonly tightest_belt: string | null;
  readonly headroom_per_min: number | null;
  /** With the priming tactic that comes first for this layout; `null` where none is better than doing nothing. */
  readonly primed: LayoutPrimed | null;
  /** What one more machine like the last one costs. */
  readonly one_more: OneMore | null;
  /** From today's number of machines to one more, twice as many, and the number asked for, in rising order. */
  readonly growth: readonly LayoutGrowth[];
  /**
   * No other feasible one is at least as good in everything that is weighed, and better in something. One that comes to a
   * standstill is beaten by any that goes on.
   */
  readonly undominated: boolean;
  readonly beaten_by: string | null;
  /** The layout as a custom scenario that runs as it is. */
  readonly file: string | null;
}

/** `ways` are `null` where they are not to be told, sizes are those of the first groups and then of the others, if unlike. */
export type Does =
  | { readonly as: "chain"; readonly dividers: ChainLine["dividers"] }
  | { readonly as: "tree"; readonly ways: Ways | null }
  | { readonly as: "loop"; readonly ways: Ways | null; readonly returned: Returned | null }
  | {
      readonly as: "tree-of-chains" | "chain-of-trees";
      readonly groups: number;
      readonly size: number;
      readonly otherSize: number | null;
      readonly of: End;
    };

export interface Returned {
  readonly parts: number;
  readonly of: number;
}

/** What a line leads to. */
export type End = "machine" | "outlet";

/** Stated lengths are those of the line as it stands; all else is what it takes to build one that cannot be built without. */
export type Assumption =
  | { readonly what: "stated-lengths" }
  | { readonly what: "faster-belts"; readonly belts: readonly { readonly per_min: Exact; readonly before: Exact }[] }
  | { readonly what: "one-more" | "one-fewer"; readonly of: End }
  | { readonly what: "cut-first"; readonly cut: number; readonly left: number; readonly of: End };

/** Each finding as the file's findings are told; those of a layout that is drawn up all count against it together. */
export type Reason =
  | { readonly why: "drawn-so" | "not-run"; readonly findings: readonly string[] }
  /** Than the best, both per minute; nothing at a standstill. */
  | { readonly why: "makes-less"; readonly makes: number; readonly best: string; readonly best_makes: number };

/** What is weighed. */
export type WeightName =
  | "output"
  | "limits"
  | "settling"
  | "loss"
  | "hold-up"
  | "reserve"
  | "evenness"
  | "junctions"
  | "floor"
  | "torn-out";

/** Exact sums of the figures told; `null`: not known, or not stated. */
export interface LayoutMoney extends LossMoney {
  /** New and whole: belts, dividers, merges and floor, as far as their prices are stated. */
  readonly build: Exact | null;
  /** In place of today's: nothing of that is used again, and its floor is there already. 0 for what stands. */
  readonly change: Exact | null;
  /** Against today's, by the losses of starts alone; `null` also of what makes more or less for good. */
  readonly saved_per_year: Exact | null;
  readonly paid_after_years: number | null;
  /** Years over which it is weighed, and what the change and the losses of so many years come to. */
  readonly years: number;
  readonly over_years: Exact | null;
}

export interface LayoutPrimed {
  readonly tactic: string;
  readonly does: TacticResult["does"];
  readonly settling_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly items_handled: number;
  readonly hold_up_peak: number;
  readonly by_hand: boolean;
}

/** What it takes to have so many machines like the last, fed what all of them need, where the layout stands today. */
export interface LayoutGrowth extends OneMore {
  readonly machines: number;
  /** Belts that would be too slow, of those it would have, and what the busiest of them would carry; `null` where none is. */
  readonly too_slow: number;
  readonly busiest_per_min: number | null;
}

export interface OneMore {
  /** What it is then: a tree grows into a loop where no tree of so many can be drawn up. */
  readonly layout: LayoutKind;
  readonly added: ElementCounts;
  readonly torn_out: ElementCounts;
}

/** What layouts are compared by. */
export type CriterionName =
  | "settling"
  | "loss"
  | "floor"
  | "belt"
  | "junctions"
  | "evenness"
  | "hold-up"
  | "torn-out"
  | "added"
  | "money";

/** As it is weighed, the less the better: of evenness the negative. */
export interface Figured {
  readonly criterion: CriterionName;
  readonly value: number;
}

/** What was asked of all before they were compared. */
export type Asked = "limits" | "most" | "stock";

export type Because =
  | { readonly why: "none-buildable" | "nothing-made" | "none-unbeaten" | "too-few-replications" | "none-leads" }
  | {
      readonly why: "alone";
      readonly id: string;
      readonly asked: readonly Asked[];
      /** Of what is wanted first; `null` where that is not known. */
      readonly figure: number | null;
      readonly priority: Priority;
    }
  | Better
  | { readonly why: "leads"; readonly id: string; readonly priority: Priority; readonly breaksLimits: boolean }
  | NotTold;

/** Than another, as far as the first thing in which they differ. */
export interface Better {
  readonly why: "better";
  readonly id: string;
  readonly asked: readonly Asked[];
  readonly other: string;
  /** What is wanted, and is the same. */
  readonly same: readonly Figured[];
  /** `null` where it is otherwise no worse. */
  readonly less: Decided | null;
}

export interface Decided {
  readonly criterion: CriterionName;
  /** It is what is wanted first. */
  readonly isFirst: boolean;
  readonly own: number;
  /** `null` where that is not known. */
  readonly theirs: number | null;
  /** Dividers and merges of both. */
  readonly built: readonly [own: Junctions, theirs: Junctions];
}

export interface Junctions {
  readonly dividers: number;
  readonly merges: number;
}

/** Under chance. */
export interface NotTold {
  readonly why: "not-told";
  /** Likely the best. */
  readonly id: string;
  readonly priority: Priority;
  /** Whether the line as it stands is the leader, or not told apart from it. */
  readonly today: "leads" | "open" | null;
  readonly open: readonly string[];
  /** Of those the one with the least floor, where that is another. */
  readonly simplest: string | null;
}
