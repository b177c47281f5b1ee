/** How much lies on the line, and for how long. */
import type { Run } from "../engine/simulate.ts";
import type { LongRun } from "./long-run.ts";
import type { Dwell, HoldUp } from "./result.ts";

export function holdUpOf({ program, recurrence, marks }: Run, { toMinutes }: LongRun): HoldUp {
  const levels = recurrence
    ? Array.from(recurrence.period.heldTicks, (sum) => sum / recurrence.periodTicks)
    : Array.from(marks.held);
  return {
    peak: marks.peakHeld,
    peak_at_min: toMinutes(marks.peakTick),
    settled: total(levels),
    by_item: Object.fromEntries(program.network.items.map((item, i) => [item, levels[i] ?? 0])),
    over_limit_min: 0,
  };
}

/**
 * Over an observed settled period, item by item. Where the run ended before one could be observed, by Little's law from
 * the hold-up of one period (J. D. C. Little, Operations Research 9(3), 1961); without a recurrence, over the run.
 */
export function dwellOf({ settledPeriod, recurrence, totals, marks }: Run, { toMinutes }: LongRun): Dwell {
  const [ticks, items] = settledPeriod
    ? [total(settledPeriod.totals.dwellTicks), total(settledPeriod.totals.taken)]
    : recurrence
      ? [
          total(recurrence.period.heldTicks.map((sum, i) => (recurrence.period.taken[i] === 0 ? 0 : sum))),
          total(recurrence.period.taken),
        ]
      : [total(totals.dwellTicks), total(totals.taken)];
  const everTaken = total(totals.taken) > 0;
  return {
    mean_min: items > 0 ? toMinutes(ticks / items) : null,
    longest_min: everTaken ? toMinutes(marks.longestDwell) : null,
    over_limit_items: 0,
  };
}

function total(values: Iterable<number>): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum;
}
