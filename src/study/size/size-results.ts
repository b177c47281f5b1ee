/** What working out a plant's size comes to. Rates are items per minute, exact strings; shares are 1 for 100 %. */
import type { Exact } from "../../analysis/result.ts";

export interface PlantSize {
  readonly title: string;
  readonly wanted: readonly ItemRate[];
  /** Stage by stage, from the feeds on; groups that are not needed have a count of 0. */
  readonly machines: readonly SizedMachines[];
  readonly feeds: readonly SizedFeed[];
  /** Every stretch of every line. */
  readonly belts: readonly SizedBelt[];
  /** Kinds made by several groups: of all plans, this one has the fewest machines. */
  readonly choices: readonly Choice[];
  /** `false` where the search for fewer machines was broken off. */
  readonly fewest_proved: boolean;
  /** The share of what is wanted for which all that the file states is enough; `null` where all of it is. */
  readonly enough_for: Exact | null;
  /** Kinds that machines give back to machines before them: lines lead onward, so that a feed stands for the way back. */
  readonly returns: readonly { readonly item: string; readonly feed: string; readonly per_min: Exact }[];
  /** Groups that run at the speed that fits, since at full speed they would take what others need. */
  readonly slowed: readonly string[];
  /** The written scenario, run. */
  readonly run: SizedRun;
  readonly under_chance: SizedByChance | null;
  /** The scenario, as the text of a file. */
  readonly scenario: string;
}

export interface ItemRate {
  readonly item: string;
  readonly per_min: Exact;
}

export interface SizedMachines {
  readonly group: string;
  /** From 1; one more than the latest stage that makes something for it. */
  readonly stage: number;
  readonly count: number;
  /** As the file has it; `null` where it leaves that open. */
  readonly stated_count: number | null;
  /** Before rounding up. */
  readonly needs: Exact;
  /** Share of the time that each runs. */
  readonly busy: Exact;
  /** At which each would run all the time; of the cycle as stated. */
  readonly speed_to_fit: Exact;
  readonly takes: readonly ItemRate[];
  readonly makes: readonly ItemRate[];
  /** Only where the stated count is too small: the share of what is wanted that it is enough for. */
  readonly enough_for: Exact | null;
}

export interface SizedFeed {
  readonly feed: string;
  readonly items: readonly string[];
  /** What it must give. */
  readonly rate_per_min: Exact;
  readonly stated_per_min: Exact | null;
  readonly enough_for: Exact | null;
}

export interface SizedBelt {
  readonly id: string;
  readonly line: string;
  /** With every group equally busy; `null` where the flow on it is not known beforehand. */
  readonly needs_per_min: Exact | null;
  /** What it carries as stated; `null` where the file leaves that open. */
  readonly stated_per_min: Exact | null;
  readonly enough_for: Exact | null;
}

export interface Choice {
  readonly item: string;
  readonly groups: readonly string[];
}

export interface SizedRun {
  /** Whether it makes at least what is wanted of each kind. */
  readonly reached: boolean;
  /** By recurrence, as in any result. */
  readonly proved: boolean;
  readonly settling_min: number | null;
  readonly settled: readonly { readonly item: string; readonly per_min: Exact | number }[];
}

export interface SizedByChance {
  readonly replications: number;
  /** Machines added to those that would do without chance, by group. */
  readonly added: readonly { readonly group: string; readonly count: number }[];
  readonly reached: boolean;
  /** The mean of the later half of the replications, and its interval of 95 %. */
  readonly settled: readonly {
    readonly item: string;
    readonly mean: number;
    readonly ci95: readonly [number, number] | null;
  }[];
}
