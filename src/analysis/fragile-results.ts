/** Results: what hangs on a tie. */
import type { Exact } from "./exact.ts";
import type { LimitResult } from "./plant-results.ts";

/**
 * Items taken per minute in the long run: as found, and as it would be with the kinds of every mix in the opposite order, with a
 * place more or less in buffers and on belts, or with a finer tick. What hangs on the tick is not exact, and stands as measured.
 */
export interface FragileShare {
  readonly machine: string;
  readonly hangs_on: "order" | "room" | "tick";
  readonly settled_per_min: Exact;
  /** A number where it is measured. */
  readonly turned_per_min: Exact | number;
}

/** What turns with the split: least and most over all ticks looked at. */
export interface HangsOnTick {
  /** Finer than the run's own; empty where they would have taken long. */
  readonly ticks_s: readonly Exact[];
  readonly hold_up_settled: readonly [number, number];
  readonly dwell_mean_min: readonly [number, number] | null;
  /** Kept at one tick and broken at another. */
  readonly limits: readonly Pick<LimitResult, "what" | "place" | "item">[];
}
