/**
 * Percentiles of figures by linear interpolation between order statistics: definition 7 of R. J. Hyndman, Y. Fan, "Sample
 * quantiles in statistical packages", The American Statistician 50, 1996 (from memory), the usual one of spreadsheets. Of n
 * figures in order, share q stands at place 1 + (n − 1) q. It never leaves the range of the figures, so that of few figures
 * the 5th and 95th are nearer to the middle than those of the distribution they come from.
 */
import type { Numbers } from "./moments.ts";

/** @param shares 0.05 for the 5th percentile, and so on; @throws RangeError without figures, or for a share outside 0 … 1 */
export function percentiles(figures: Numbers, shares: readonly number[]): number[] {
  const inOrder = Float64Array.from(figures).sort();
  return shares.map((share) => percentileInOrder(inOrder, share));
}

/** Of figures that are in rising order already. */
export function percentileInOrder(inOrder: Numbers, share: number): number {
  if (!(share >= 0 && share <= 1)) throw new RangeError(`not a share: ${share}`);
  if (inOrder.length === 0) throw new RangeError("no figures");
  const place = (inOrder.length - 1) * share;
  const below = Math.floor(place);
  const low = inOrder[below] ?? Number.NaN;
  const high = inOrder[Math.ceil(place)] ?? Number.NaN;
  // Two alike give themselves, whatever the rounding.
  return low === high ? low : low + (place - below) * (high - low);
}
