/** From where on a curve stays within a tolerance of a level. */
import type { Numbers } from "./moments.ts";

/** The first place from which the curve is within ± `tolerance` of the level up to its end, bounds included; `null` if it ends outside. */
export function staysWithinFrom(curve: Numbers, level: number, tolerance: number): number | null {
  let from = curve.length;
  while (from > 0 && Math.abs((curve[from - 1] ?? Number.NaN) - level) <= tolerance) from--;
  return from === curve.length ? null : from;
}
