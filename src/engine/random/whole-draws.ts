/**
 * Whole numbers from draws that are none. What rounding takes from one draw or adds to it the next one gets back or gives
 * up, so that n whole numbers add up to within a half of what the n draws add up to: rounding never adds up, and long-run
 * means are kept whatever the tick. Draws that are whole stay as they are.
 */
import type { Sampler } from "./distributions.ts";

/** A greater draw is cut to this: longer than the longest run, and small enough for 32 bits. */
export const MOST_DRAWN = 2 ** 30;

export interface WholeDraws {
  /** Never negative; the draw times `scale`, as a whole number. */
  next(scale: number): number;
  /** Puts the next draws of scale 1 into `ring[start] … ring[end - 1]`. */
  fill(ring: Int32Array, start: number, end: number): void;
}

export function wholeDraws(sample: Sampler): WholeDraws {
  /** What the draws so far add up to beyond the whole numbers given, from -1/2 up to but not including 1/2. */
  let owed = 0;

  function next(scale: number): number {
    const wanted = owed + sample() * scale;
    if (wanted >= MOST_DRAWN) {
      owed = 0;
      return MOST_DRAWN;
    }
    const given = Math.floor(wanted + 0.5);
    owed = wanted - given;
    return given;
  }

  return {
    next,
    fill(ring, start, end) {
      for (let i = start; i < end; i++) ring[i] = next(1);
    },
  };
}
