/** When the output of some machines has settled, what it settles at, and what the ramp-up cost. */
import type { Run } from "../engine/simulate.ts";
import { approximate, exact, type Rational, sum, whole } from "../quantity/rational.ts";
import { amountUpTo, type Events, eventsOf, repeatsFrom } from "./events.ts";
import type { LongRun } from "./long-run.ts";
import { staysFrom } from "./moving-average.ts";
import type { Output, Settling } from "./result.ts";

export const TOLERANCE = 0.05;

/** The moving average spans about this many cycles of each machine, so that whole items hardly show in it. */
const CYCLES_AVERAGED = 10;
/** Up to this many spans it is stretched to whole periods, which makes a settled average constant. */
const LONGEST_STRETCH = 4;

const ROUNDING_ITEMS = 1e-6;

export interface GroupSettling {
  readonly settling: Settling;
  readonly output: Output;
  /** `null`: not settled within the horizon. */
  readonly settledTick: number | null;
  readonly events: Events;
  readonly windowTicks: number;
}

/** @param productsPerCycle by machine; 0 leaves a machine out */
export function settlingOf(run: Run, longRun: LongRun, productsPerCycle: readonly number[]): GroupSettling {
  const { toMinutes } = longRun;
  const events = eventsOf(run, (machine) => productsPerCycle[machine] ?? 0);
  const settledPerMin = longRun.exactCycles && weighted(longRun.exactCycles, productsPerCycle);
  const measuredPerMin = longRun.measuredCycles.reduce(
    (total, cycles, m) => total + cycles * (productsPerCycle[m] ?? 0),
    0,
  );
  const perTick = (settledPerMin ? approximate(settledPerMin) : measuredPerMin) * toMinutes(1);
  const windowTicks = windowFor(run, longRun, productsPerCycle);
  const settledTick = patternFrom(run, longRun, events, perTick);
  const minutes = (tick: number | null): number | null => (tick === null ? null : toMinutes(tick));

  return {
    settling: {
      time_min: minutes(settledTick),
      tolerance: TOLERANCE,
      ...averageSettling(run, events, perTick, windowTicks, settledTick, minutes),
      first_product_min: minutes(events.tick[0] ?? null),
    },
    output: {
      full_per_min: exact(weighted(longRun.fullCycles, productsPerCycle)),
      settled_per_min: settledPerMin ? exact(settledPerMin) : null,
      ...(settledPerMin ? {} : { measured_per_min: measuredPerMin }),
      made: run.totals.cycles.reduce((total, cycles, m) => total + cycles * (productsPerCycle[m] ?? 0), 0),
      ramp_up_loss: settledTick === null ? null : perTick * settledTick - amountUpTo(events, settledTick),
    },
    settledTick,
    events,
    windowTicks,
  };
}

/** From when the moving average stays within the band, and at or above shares of the settled output. */
function averageSettling(
  run: Run,
  events: Events,
  perTick: number,
  windowTicks: number,
  settledTick: number | null,
  minutes: (tick: number | null) => number | null,
): Pick<Settling, "within_tolerance_min" | "to_50_min" | "to_90_min" | "to_95_min"> {
  const band = { low: perTick * (1 - TOLERANCE), high: perTick * (1 + TOLERANCE) };
  const atLeast = (share: number) => ({ low: perTick * share, high: Infinity });
  const ranges = perTick > 0 ? [band, atLeast(0.5), atLeast(0.9), atLeast(0.95)] : [];
  const found = staysFrom(events, windowTicks, run.steppedTicks, ranges);
  // The average looks half a window back, so it comes to its level a little after the output itself has settled.
  const [within = null, to50 = null, to90 = null, to95 = null] = found.map((tick) =>
    minutes(tick === null || settledTick === null ? tick : Math.min(tick, settledTick)),
  );
  return { within_tolerance_min: within, to_50_min: to50, to_90_min: to90, to_95_min: to95 };
}

function weighted(cyclesPerMin: readonly Rational[], productsPerCycle: readonly number[]): Rational {
  return sum(cyclesPerMin.map((cycles, m) => cycles.mul(whole(productsPerCycle[m] ?? 0))));
}

/** Whole periods where that is not too long, since the average of a settled line is constant then; always even. */
function windowFor(run: Run, { measuredCycles, toMinutes }: LongRun, productsPerCycle: readonly number[]): number {
  const { recurrence, steppedTicks } = run;
  const running = measuredCycles.filter((cycles, m) => cycles > 0 && (productsPerCycle[m] ?? 0) > 0);
  const cyclesPerTick = running.reduce((total, cycles) => total + cycles, 0) * toMinutes(1);
  const plain = running.length > 0 ? Math.ceil((CYCLES_AVERAGED * running.length) / cyclesPerTick) : steppedTicks;
  const isShort = recurrence !== null && recurrence.periodTicks <= LONGEST_STRETCH * plain;
  const step = isShort ? evenMultiple(recurrence.periodTicks) : 2;
  return Math.max(2, Math.min(Math.ceil(plain / step) * step, steppedTicks));
}

function evenMultiple(ticks: number): number {
  return ticks % 2 === 0 ? ticks : 2 * ticks;
}

/** The first tick from which a train of events keeps to its long-run pattern, of `perTick` on average, for good. */
export function patternFrom(run: Run, { basis }: LongRun, events: Events, perTick: number): number | null {
  switch (basis) {
    case "recurrence":
      return run.recurrence && repeatsFrom(events, run.recurrence.periodTicks, run.steppedTicks);
    case "flow":
      return keepsPaceFrom(events, perTick, run.steppedTicks);
    case "measured":
      return null;
  }
}

/**
 * Without a recurrence, but with an exact rate: the first tick from which the products made keep as close to that rate
 * as they do in the last quarter of the run.
 */
function keepsPaceFrom(events: Events, perTick: number, endTick: number): number | null {
  const { count, tick, amount } = events;
  let ahead = 0;
  let low = Infinity;
  let high = -Infinity;
  let spread = 0;
  let from: number | null = null;
  for (let i = count - 1; i >= 0; i--) {
    // How far the products made, seen from the end, are ahead of or behind the rate: just after and just before event i.
    const due = perTick * (endTick - (tick[i] ?? 0));
    const after = ahead - due;
    ahead += amount[i] ?? 0;
    const before = ahead - due;
    low = Math.min(low, after, before);
    high = Math.max(high, after, before);
    if ((tick[i] ?? 0) >= endTick * 0.75) spread = high - low;
    else if (high - low > spread + ROUNDING_ITEMS) return from;
    from = tick[i] ?? 0;
  }
  return from;
}
