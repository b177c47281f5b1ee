/**
 * Results of a sweep: what `sweep` and `gather` print with `--json` and report, and what the parts of a sweep are joined
 * from. Times are minutes, rates per minute; an exact value is a string that fraction.js reads back, a measured one a
 * number that stands beside a `null`; what did not happen is `null`.
 */
import type { Basis, Exact } from "../../analysis/result.ts";

export interface Sweep extends SweepHead {
  /** "2/4": the second of four parts; `null` for the whole sweep. */
  readonly shard: string | null;
  /** In order; fewer than there are in all in a part, and where the sweep was stopped. */
  readonly points: readonly SweepPoint[];
}

/** The same in all parts of a sweep. */
export interface SweepHead {
  /** The program and its version. */
  readonly made_by: string;
  readonly title: string;
  /** The file's name without folder and ending, and the SHA-256 of its bytes. */
  readonly scenario: string;
  readonly scenario_sha256: string;
  /** `null` where they are swept. */
  readonly seed: string | null;
  readonly horizon_min: number | null;
  /** One or two; the first changes slowest. */
  readonly quantities: readonly SweptQuantity[];
  /** How many points there are in all. */
  readonly of_points: number;
}

export interface SweptQuantity {
  /** Where it stands in the file: keys with dots between them, indices of lists counted from 0. */
  readonly path: string;
  /** As the file would hold them. */
  readonly values: readonly string[];
  /** Of the numbers, such as "/min"; "" for counts, `null` where the values are words. */
  readonly unit: string | null;
  readonly numbers: readonly number[] | null;
}

export interface SweepPoint {
  /** From 1. */
  readonly point: number;
  /** One of each quantity. */
  readonly values: readonly string[];
  /** That it settles, or stops. */
  readonly proved: boolean;
  readonly basis: Basis;
  readonly settling_min: number | null;
  /** From here the line stands still for good; it never settles then, and loses against nothing. */
  readonly stops_at_min: number | null;
  readonly within_tolerance_min: number | null;
  readonly ramp_up_loss: number | null;
  readonly full_per_min: Exact;
  readonly settled_per_min: Exact | null;
  readonly measured_per_min?: number;
  readonly made: number;
  readonly hold_up_peak: number;
  readonly hold_up_settled: number;
}
