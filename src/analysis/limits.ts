/** What lay on the line, and for how long, against the plant's limits. */
import type { Run } from "../engine/simulate.ts";
import { inTicks } from "../network/tick.ts";
import { total } from "../quantity/counts.ts";
import { approximate } from "../quantity/rational.ts";
import type { DwellLimit } from "../scenario/scenario.ts";
import type { LongRun } from "./long-run.ts";
import type { LimitResult } from "./plant-results.ts";

export function limitResults(run: Run, longRun: LongRun): LimitResult[] {
  const { network } = run.program;
  return [
    ...network.holdUpLimits.map((_, i) => holdUpLimit(run, longRun, i)),
    ...network.dwellLimits.map((limit) => dwellLimit(run, longRun, limit)),
  ];
}

/** Minutes for which any limit on hold-up is exceeded. */
export function overAnyMin({ totals }: Run, { toMinutes }: LongRun): number {
  return toMinutes(totals.overAnyTicks[0] ?? 0);
}

/** Items taken after longer than their kind's limit, and those that lie for longer at the end of the horizon. */
export function overDwellItems({ totals, lying }: Run): number {
  return total(totals.overDwell) + total(lying.over);
}

function holdUpLimit({ program, totals, noted, recurrence }: Run, { toMinutes }: LongRun, i: number): LimitResult {
  const limit = program.network.holdUpLimits[i];
  const period = recurrence && { over: recurrence.period.overLimitTicks[i] ?? 0, ticks: recurrence.periodTicks };
  return {
    what: "hold-up",
    place: limit?.place ?? null,
    item: limit?.item ?? null,
    limit: limit?.most ?? 0,
    peak: noted.limitPeak[i] ?? 0,
    peak_at_min: toMinutes(noted.limitPeakTick[i] ?? 0),
    over_min: toMinutes(totals.overLimitTicks[i] ?? 0),
    settled_over_share: period && period.over / period.ticks,
    over_items: null,
    lying_over: null,
  };
}

function dwellLimit(run: Run, { toMinutes }: LongRun, limit: DwellLimit): LimitResult {
  const { totals, noted, lying } = run;
  const kinds = kindsUnder(run, limit);
  const ofKinds = (counts: Float64Array): number => total(kinds.map((item) => counts[item] ?? 0));
  const longest = kinds.map((item) => Math.max(noted.longestStay[item] ?? 0, lying.longestTicks[item] ?? 0));
  return {
    what: "dwell",
    place: null,
    item: limit.item,
    limit: approximate(limit.limitMin),
    peak: toMinutes(Math.max(0, ...longest)),
    peak_at_min: null,
    over_min: null,
    settled_over_share: null,
    over_items: ofKinds(totals.overDwell),
    lying_over: ofKinds(lying.over),
  };
}

/** Kinds for which no other limit is shorter. */
function kindsUnder(
  { program: { network, tickS, dwellLimit: shortest } }: Run,
  { item, limitMin }: DwellLimit,
): number[] {
  const ticks = approximate(inTicks(limitMin, tickS));
  return network.items.flatMap((name, i) =>
    (item === null || item === name) && Math.floor(ticks) <= (shortest[i] ?? Infinity) ? [i] : [],
  );
}
