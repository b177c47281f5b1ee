/**
 * From when a line keeps up with a rate for good: from there on every stretch, however long, makes at least the rate times
 * its length, less a fixed leeway. Such a guarantee is a rate-latency service curve (J.-Y. Le Boudec, P. Thiran, Network
 * Calculus, Springer, 2001, section 1.3); a moving average, which has to be given a width, is not needed.
 */
import type { MadeCurve } from "./made-curve.ts";

export interface Leeway {
  /** A stretch may make this much less than the rate times its length, in products, ... */
  readonly short: number;
  /** ... and this much more. */
  readonly over: number;
}

/**
 * The earliest tick T so that, for all t and u of the curve with T <= t <= u,
 * -short <= made(u) - made(t) - perTick (u - t) <= over. One pass backwards.
 */
export function keepsUpFrom({ tick, made }: MadeCurve, perTick: number, { short, over }: Leeway): number {
  const last = tick.length - 1;
  const ahead = (i: number): number => (made[i] ?? 0) - perTick * (tick[i] ?? 0);
  // The least and the most that comes later, as seen from the knots.
  let low = ahead(last);
  let high = low;
  for (let i = last - 1; i >= 0; i--) {
    const here = ahead(i);
    const excess = Math.max(here - (low + short), high - over - here);
    if (excess > 0) {
      const next = ahead(i + 1);
      // Towards the next knot it comes within the leeway, at the latest there.
      const share = Math.min(1, excess / Math.abs(next - here));
      return (tick[i] ?? 0) + share * ((tick[i + 1] ?? 0) - (tick[i] ?? 0));
    }
    low = Math.min(low, here);
    high = Math.max(high, here);
  }
  return tick[0] ?? 0;
}
