/**
 * Welch's procedure: the end of the warm-up from the moving average of the mean over replications (P. D. Welch, "The statistical
 * analysis of simulation results", in S. S. Lavenberg (ed.), Computer Performance Modeling Handbook, 1983; A. M. Law,
 * Simulation Modeling and Analysis, section 9.5.1; both from memory). Welch and Law choose window and cut by eye; here are
 * the rules that stand in for the eye:
 *
 * 1. The m points of all replications are averaged, point by point. The *later level* is the mean of their second half.
 * 2. At a window w, point i (from 0) becomes the mean of the 2w + 1 points around it, or of the 2i + 1 where fewer than w stand
 *    before it. The last w points have none.
 * 3. Where none is asked for, the window is the least of 1, 2, 4, … up to a quarter of m at which the smoothed curve stays
 *    within half of the tolerance of the later level throughout the second half of the points, so that noise alone does
 *    not leave the tolerance; where none does, the widest.
 * 4. The cut is the first point from which the smoothed curve stays within the tolerance of the later level. If it lies beyond
 *    half of the points, or the curve never stays, there is none: what served as later level was not reached in time.
 */
import { meanCurve } from "./band.ts";
import { mean, type Numbers } from "./moments.ts";

/** Of the later level. */
const USUAL_TOLERANCE = 0.05;

export interface WelchOptions {
  /** Share of the later level; 5 % unless told otherwise. */
  readonly tolerance?: number;
  /** Points on each side; at least 1, at most a quarter of all points. */
  readonly window?: number;
}

export interface Welch {
  /** Points to leave out at the beginning, or `null` with the reason in `why`. */
  readonly cut: number | null;
  /**
   * `too few points`: fewer than eight. `still moving`: the third quarter of the points differs from the last by more than the
   * tolerance, so that a longer run is wanted. `too rough`: it doesn't, but no window smooths the curve enough, so that more
   * replications are.
   */
  readonly why: "too few points" | "still moving" | "too rough" | null;
  readonly window: number;
  readonly laterLevel: number;
  readonly tolerance: number;
  readonly smoothed: readonly number[];
}

const LEAST_POINTS = 8;

/** @throws RangeError without replications, for ones of unlike lengths, or for a window out of range */
export function welch(replications: readonly Numbers[], options: WelchOptions = {}): Welch {
  const { tolerance = USUAL_TOLERANCE } = options;
  const points = meanCurve(replications);
  if (points.length < LEAST_POINTS) {
    return { cut: null, why: "too few points", window: 0, laterLevel: mean(points), tolerance, smoothed: points };
  }
  const half = Math.floor(points.length / 2);
  const laterLevel = mean(points.slice(half));
  const allowed = tolerance * Math.abs(laterLevel);
  const tried = windowsFor(points.length, options.window).map((window) => {
    const smoothed = movingAverage(points, window);
    return { window, smoothed, calmFrom: staysWithinFrom(smoothed, laterLevel, allowed / 2) };
  });
  const chosen = tried.find(({ calmFrom }) => isBy(half, calmFrom)) ?? tried.at(-1);
  if (chosen === undefined) throw new RangeError("no window");
  const { window, smoothed } = chosen;
  const from = staysWithinFrom(smoothed, laterLevel, allowed);
  const cut = isBy(half, from) ? from : null;
  const threeQuarters = Math.floor((points.length * 3) / 4);
  const moved = Math.abs(mean(points.slice(half, threeQuarters)) - mean(points.slice(threeQuarters)));
  const why = cut !== null ? null : moved > allowed ? "still moving" : "too rough";
  return { cut, why, window, laterLevel, tolerance, smoothed };
}

function isBy(latest: number, from: number | null): boolean {
  return from !== null && from <= latest;
}

function windowsFor(points: number, asked: number | undefined): number[] {
  const most = Math.floor(points / 4);
  if (asked !== undefined) {
    if (!(Number.isInteger(asked) && asked >= 1 && asked <= most)) {
      throw new RangeError(`a window of ${asked} is not within 1 and ${most}`);
    }
    return [asked];
  }
  const windows: number[] = [];
  for (let window = 1; window <= most; window *= 2) windows.push(window);
  return windows;
}

/** As in rule 2. */
export function movingAverage(points: Numbers, window: number): number[] {
  const from = points[0] ?? 0;
  // Sums of the differences from the first point, so that a level stretch is averaged without loss of digits.
  const sumBefore = new Float64Array(points.length + 1);
  for (const [i, point] of points.entries()) sumBefore[i + 1] = (sumBefore[i] ?? 0) + (point - from);
  return Array.from({ length: Math.max(0, points.length - window) }, (_, i) => {
    const each = Math.min(i, window);
    const sum = (sumBefore[i + each + 1] ?? 0) - (sumBefore[i - each] ?? 0);
    return from + sum / (2 * each + 1);
  });
}

/** The first place from which the curve is within ± `tolerance` of the level up to its end, bounds included; `null` if it ends outside. */
export function staysWithinFrom(curve: Numbers, level: number, tolerance: number): number | null {
  let from = curve.length;
  while (from > 0 && Math.abs((curve[from - 1] ?? Number.NaN) - level) <= tolerance) from--;
  return from === curve.length ? null : from;
}
