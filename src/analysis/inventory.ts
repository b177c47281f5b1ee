/** How much lies on the line, and for how long. */
import { lateFrom } from "../engine/samples.ts";
import type { Run } from "../engine/simulate.ts";
import type { Totals } from "../engine/totals.ts";
import { total } from "../quantity/counts.ts";
import { overAnyMin, overDwellItems } from "./limits.ts";
import type { LongRun } from "./long-run.ts";
import { hasMachines } from "./makers.ts";
import type { HoldUpPlace } from "./plant-results.ts";
import type { Dwell, HoldUp } from "./result.ts";

export function holdUpOf(run: Run, longRun: LongRun): HoldUp {
  const { program, recurrence, noted } = run;
  const levels = recurrence
    ? Array.from(recurrence.period.holdUpTicks, (sum) => sum / recurrence.periodTicks)
    : Array.from(noted.holdUp);
  return {
    peak: noted.peakHoldUp,
    peak_at_min: longRun.toMinutes(noted.peakTick),
    settled: total(levels),
    ...rangeOf(run),
    by_item: Object.fromEntries(program.network.items.map((item, i) => [item, levels[i] ?? 0])),
    by_place: holdUpPlaces(run),
    over_limit_min: overAnyMin(run, longRun),
  };
}

function rangeOf({ settledLevels, samples, program, horizonTicks }: Run): Pick<HoldUp, "settled_low" | "settled_high"> {
  if (settledLevels) return { settled_low: settledLevels.holdUpLow, settled_high: settledLevels.holdUpHigh };
  const from = samples.tick.subarray(0, samples.count).findIndex((tick) => tick >= lateFrom(horizonTicks));
  let [low, high] = [Infinity, -Infinity];
  for (let sample = Math.max(0, from); sample < samples.count; sample++) {
    const held = total(samples.holdUp.subarray(sample * program.itemCount, (sample + 1) * program.itemCount));
    low = Math.min(low, held);
    high = Math.max(high, held);
  }
  return { settled_low: low, settled_high: high };
}

/**
 * Over an observed settled period, item by item. Where the run ended before one could be observed, by Little's law from
 * the hold-up of one period (J. D. C. Little, Operations Research 9(3), 1961); without a recurrence, over the run.
 */
export function dwellOf(run: Run, { toMinutes }: LongRun): Dwell {
  const { program, noted } = run;
  const { ticks, taken } = dwellCounts(run);
  const items = total(taken);
  return {
    mean_min: items > 0 ? toMinutes(total(ticks) / items) : null,
    longest_min: total(reached(run, run.totals)) > 0 ? toMinutes(noted.longestDwell) : null,
    by_item_min: Object.fromEntries(
      program.network.items.flatMap((item, i) => {
        const count = taken[i] ?? 0;
        return count > 0 ? [[item, toMinutes((ticks[i] ?? 0) / count)]] : [];
      }),
    ),
    over_limit_items: overDwellItems(run),
  };
}

/** By kind: ticks of dwell, and items taken, over the same time. */
function dwellCounts(run: Run): { ticks: Float64Array; taken: Float64Array } {
  const { settledPeriod, recurrence, totals } = run;
  const stepped = settledPeriod?.totals ?? (recurrence ? null : totals);
  if (stepped !== null) return { ticks: stepped.dwellTicks, taken: reached(run, stepped) };
  const { holdUpTicks } = recurrence?.period ?? totals;
  const taken = reached(run, recurrence?.period ?? totals);
  return { ticks: holdUpTicks.map((sum, i) => (taken[i] === 0 ? 0 : sum)), taken };
}

/** By kind: items that cycles took, or, in a plant without machines, that left. */
function reached({ program }: Run, { taken, left }: Totals): Float64Array {
  return hasMachines(program.network) ? taken : left;
}

/** Level summed over the ticks of one period, and in the last sample. */
interface Held {
  readonly periodTicks: number;
  readonly last: number;
}

/** Places where nothing ever lies are left out. */
function holdUpPlaces(run: Run): HoldUpPlace[] {
  return [...onBelts(run), ...inBuffers(run)].filter(({ settled, peak }) => settled > 0 || peak > 0);
}

function onBelts(run: Run): HoldUpPlace[] {
  const { places, network } = run.program;
  const width = places.length * network.items.length;
  return places.flatMap(({ id, isSurge }, p) =>
    network.items.map((item, i): HoldUpPlace => {
      const at = p * network.items.length + i;
      const held = {
        periodTicks: run.recurrence?.period.placeTicks[at] ?? 0,
        last: run.samples.onBelts[(run.samples.count - 1) * width + at] ?? 0,
      };
      return { place: id, part: isSurge ? "surge" : "belts", item, ...figures(run, at, held) };
    }),
  );
}

function inBuffers({ program, recurrence, samples, noted }: Run): HoldUpPlace[] {
  const { places, network, buffer } = program;
  const held = buffer.groups.map(() => ({ periodTicks: 0, last: 0 }));
  for (const [b, g] of buffer.group.entries()) {
    const own = held[g];
    if (own === undefined) continue;
    own.periodTicks += recurrence?.period.bufferTicks[b] ?? 0;
    own.last += samples.level[(samples.count - 1) * buffer.count + b] ?? 0;
  }
  return buffer.groups.map((group, g): HoldUpPlace => {
    const at = places.length * network.items.length + g;
    return { ...group, ...figures({ recurrence, noted }, at, held[g] ?? { periodTicks: 0, last: 0 }) };
  });
}

function figures({ recurrence, noted }: Pick<Run, "recurrence" | "noted">, at: number, { periodTicks, last }: Held) {
  return { settled: recurrence ? periodTicks / recurrence.periodTicks : last, peak: noted.placePeak[at] ?? 0 };
}
