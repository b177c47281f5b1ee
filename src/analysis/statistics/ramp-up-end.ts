/**
 * The end of a ramp-up by MSER-5, told by a rule that bins alone cannot sway: bins of at least a given width are joined by 2, 4,
 * 8, …, as long as a hundred are left, until two widths in a row give the same end, to within a batch of the wider; where none do, the
 * latest end counts, and where none finds any, the series is too short. (Bins of a fraction of a cycle are mostly noise, beside which no ramp-up stands out: then MSER-5 cuts
 * nothing.)
 */
import { meansOfBatches } from "./batches.ts";
import type { Numbers } from "./moments.ts";

/** Why no end is found: a longer series is wanted. */
export type NoEnd = "too few values" | "beyond half";

export type RampUpEnd =
  | { readonly found: true /** Values to leave out at the beginning. */; readonly cut: number }
  | { readonly found: false; readonly why: NoEnd };

/** With fewer than this, of which MSER-5 leaves a quarter, it could hardly answer that the end lies beyond half. */
export const LEAST_BINS = 100;

/** @param least values in a bin, at least; from 1 */
export function rampUpEnd(series: Numbers, least: number): RampUpEnd {
  const answers: { readonly size: number; readonly cut: number | null }[] = [];
  for (let size = least; Math.floor(series.length / size) >= LEAST_BINS; size *= 2) {
    const found = mser5(meansOfBatches(series, size));
    answers.push({ size, cut: found.found ? found.cut * size : null });
  }
  if (answers.length === 0) return { found: false, why: "too few values" };
  for (const [i, { cut }] of answers.entries()) {
    const wider = answers[i + 1]?.cut ?? null;
    if (cut === null || wider === null) continue;
    if (Math.abs(cut - wider) <= 2 * MSER_BATCH * (answers[i]?.size ?? 0))
      return { found: true, cut: Math.max(cut, wider) };
  }
  const cuts = answers.flatMap(({ cut }) => cut ?? []);
  return cuts.length > 0 ? { found: true, cut: Math.max(...cuts) } : { found: false, why: "beyond half" };
}

/**
 * MSER-5: where to cut off the warm-up of a single series, or of the mean of several (K. P. White, "An effective truncation
 * heuristic for bias reduction in simulation output", Simulation 69, 1997; with batches of five: K. P. White, M. J. Cobb, S. C.
 * Spratt, Winter Simulation Conference 2000; both from memory).
 *
 * Of the means Z of batches of five, cut off d so that Σ (Z − mean)² / (k − d)² over the k − d that are left is least: the
 * squared standard error of their mean, but for a factor. The cuts that leave fewer than five batches are not tried, since few
 * may be alike by chance, and a cut beyond half of the batches is refused as a sign of too short a series (K. Hoad, S.
 * Robinson, R. Davies, "Automating warm-up length estimation", J. Operational Research Society 61, 2010; from memory). The
 * least of equals is taken, and what is left over at the end of the series is not looked at.
 */
const MSER_BATCH = 5;
const LEAST_LEFT = 5;
/** Fewer batches say nothing. */
const LEAST_BATCHES = 2 * LEAST_LEFT;

export type MserCut =
  | {
      readonly found: true;
      /** How many values to leave out at the beginning, a multiple of five. */
      readonly cut: number;
      /** What was made least; the same factor left out throughout. */
      readonly statistic: number;
    }
  | {
      readonly found: false;
      /** `too few values`: fewer than 50. `beyond half`: the least lies where less than half would be left. */
      readonly why: "too few values" | "beyond half";
    };

export function mser5(series: Numbers): MserCut {
  const batches = meansOfBatches(series, MSER_BATCH);
  if (batches.length < LEAST_BATCHES) return { found: false, why: "too few values" };
  const { cut, statistic } = leastError(batches);
  if (cut > batches.length / 2) return { found: false, why: "beyond half" };
  return { found: true, cut: cut * MSER_BATCH, statistic };
}

/** Walks from the end, so that each cut takes one batch more into mean and squares. */
function leastError(batches: Float64Array): { cut: number; statistic: number } {
  let mean = 0;
  let squares = 0;
  let best = { cut: 0, statistic: Number.POSITIVE_INFINITY };
  for (let cut = batches.length - 1; cut >= 0; cut--) {
    const left = batches.length - cut;
    const batch = batches[cut] ?? 0;
    const fromMean = batch - mean;
    mean += fromMean / left;
    squares += fromMean * (batch - mean);
    const statistic = squares / left ** 2;
    if (left >= LEAST_LEFT && statistic <= best.statistic) best = { cut, statistic };
  }
  return best;
}
