/**
 * The end of a ramp-up by MSER-5, told by a rule that bins alone cannot sway: bins of at least a given width are joined by 2, 4,
 * 8, …, as long as a hundred are left, until two widths in a row give the same end, to within a batch of the wider; where none do, the
 * latest end counts, and where none finds any, the series is too short. (Bins of a fraction of a cycle are mostly noise, beside which no ramp-up stands out: then MSER-5 cuts
 * nothing.)
 */
import { meansOfBatches } from "./batches.ts";
import type { Numbers } from "./moments.ts";
import { MSER_BATCH, mser5 } from "./mser.ts";

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
