/** Output and products over time, means over replications on the same luck. */
import { movingAverage } from "../../analysis/statistics/welch.ts";
import type { ReplicationGrid } from "../replications/replication.ts";
import { perMinOf } from "../replications/replications-figures.ts";
import type { TacticCurve } from "../results.ts";

/** What is shown after the common end. */
const SHOWN_AFTER = 1.25;
const LEAST_SHOWN = 60;

/** @param fromMin the common end of the ramp-up */
export function meanCurves(
  variants: readonly { readonly id: string }[],
  meanMade: readonly Float64Array[],
  { stepMin, points, averageMin }: ReplicationGrid,
  fromMin: number,
): TacticCurve[] {
  const shown = Math.min(points, Math.max(LEAST_SHOWN, Math.ceil((fromMin * SHOWN_AFTER) / stepMin)));
  const window = Math.max(1, Math.round(averageMin / stepMin / 2));
  return variants.map(({ id }, v) => {
    const made = meanMade[v] ?? new Float64Array();
    return {
      id,
      timesMin: Array.from({ length: shown }, (_, i) => (i + 1) * stepMin),
      made: Array.from(made.subarray(0, shown)),
      outputPerMin: Array.from(movingAverage(perMinOf(made, stepMin), window).slice(0, shown)),
    };
  });
}
