/** What is kept of a variant that was played with the luck of one replication. */
import type { TacticOutcome } from "./outcome.ts";
import type { MadeUpTo } from "./results.ts";

/** Times count from the moment at which the feed could have started, whatever the variant. */
export interface VariantRun {
  /** Products up to each point of the grid. */
  readonly made: Float64Array;
  /** Items on belts and in buffers, mean over the points up to each mark from the one before. */
  readonly held: Float64Array;
  /** How many there were of each kind that the file states. */
  readonly stops: readonly number[];
  readonly outcome: VariantOutcome;
  /** Where the feed is cut to half too: Jain's index then. */
  readonly evenness: number | null;
}

export interface VariantOutcome
  extends Pick<
    TacticOutcome,
    "items_handled" | "first_product_min" | "hold_up_peak" | "over_limit_min" | "over_limit_items"
  > {
  readonly tick_s: string;
  /** No feed offers anything in the end. */
  readonly feed_ends: boolean;
  readonly made: MadeUpTo;
  readonly dwell_mean_min: number | null;
  readonly dwell_longest_min: number | null;
}
