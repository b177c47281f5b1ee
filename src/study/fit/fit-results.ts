/**
 * Results of a fit: what `fit` prints with `--json` and reports. Times are minutes, counts items; values of unknowns are in
 * the unit that stands beside them.
 */

export interface Fit {
  readonly title: string;
  readonly seed: string;
  readonly tick_s: string;
  readonly unknowns: readonly FittedUnknown[];
  /** Of the estimates, −1 to 1, row by row in the order of the unknowns; `null` where residuals don't tell. */
  readonly correlations: readonly (readonly (number | null)[])[];
  /** Sum of squared residuals, each over its expected error. */
  readonly chi_square: number;
  /** Observations less unknowns. */
  readonly degrees_of_freedom: number;
  /** χ² over them, near 1 where the model fits; `null` where there are none. */
  readonly reduced: number | null;
  /** Standard errors and ranges are widened by this factor: the root of `reduced`, where that is above 1. */
  readonly widened_by: number;
  /** Whether χ² is no more than counting errors would make it, by two standard deviations. */
  readonly fits: boolean;
  /** How many starts the search was made from, and how many led to a fit as good. */
  readonly starts: number;
  readonly agreeing: number;
  readonly runs: number;
  readonly times_min: readonly number[];
  readonly series: readonly FittedSeries[];
}

/**
 * `pinned`: between two ends; `one-sided`: one end; `alone-no-matter`: a change of it alone leaves all that was observed as
 * it is; `combination`: a change of it alone tells, but others make up for it; `untold`: neither, within the bounds.
 */
export type Told = "pinned" | "one-sided" | "alone-no-matter" | "combination" | "untold";

export interface FittedUnknown {
  readonly path: string;
  /** "" for whole counts. */
  readonly unit: string;
  readonly lower: number;
  readonly upper: number;
  /** What the file states; `null` where it states nothing of the kind. */
  readonly own: number | null;
  readonly value: number;
  /** As the file would hold it. */
  readonly text: string;
  /** From the curvature; `null` where the counts don't tell. */
  readonly standard_error: number | null;
  /** Where the fit is not worse than by 95 %; `null` for an end that is not between the bounds. */
  readonly range_95: readonly [number | null, number | null];
  readonly told: Told;
  /** Paths of others that make up for a change of it. */
  readonly with: readonly string[];
  /** How χ² grows as it is moved and the others are fitted again. */
  readonly profile: readonly { readonly value: number; readonly chi_square: number }[];
}

export interface FittedSeries {
  readonly name: string;
  /** Expected of one count, items. */
  readonly error: number;
  readonly observed: readonly (number | null)[];
  readonly fitted: readonly number[];
}

/** The fitted run between the observed times, for pictures; arrays have the length of `timesMin`. */
export interface FitCurves {
  readonly timesMin: readonly number[];
  readonly series: readonly (readonly number[])[];
}

export interface FitDone {
  readonly fit: Fit;
  readonly curves: FitCurves;
  /** The fitted scenario as the text of a file. */
  readonly scenario: string;
}
