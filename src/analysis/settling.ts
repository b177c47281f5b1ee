/** When the output of some machines has settled, what it settles at, and what the ramp-up cost. */
import type { Run } from "../engine/simulate.ts";
import { inMinutes } from "../network/tick.ts";
import { approximate, exact, type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import { amountUpTo, carriedOn, type Events, eventsOf, repeatsFrom } from "./events.ts";
import type { LongRun } from "./long-run.ts";
import { staysFrom } from "./moving-average.ts";
import type { Output, Settling } from "./result.ts";

export const TOLERANCE = 0.05;

/** The moving average spans about this many cycles of each machine, so that whole items hardly show in it. */
const CYCLES_AVERAGED = 10;
/** Up to this many spans it is stretched to whole periods, which makes a settled average constant. */
const LONGEST_STRETCH = 4;

/** Whose output it is: all final machines', a line's or one machine's. */
export interface Group {
  readonly events: Events;
  /** Products per minute: if no machine ever waited; in the long run, where known exactly; as measured. */
  readonly fullPerMin: Rational;
  readonly exactPerMin: Rational | null;
  readonly measuredPerMin: number;
  /** Cycles per minute of those machines that run in the long run, or, if none does, of all at full speed. */
  readonly cyclesPerMin: number;
  readonly machines: number;
  /** Products up to the horizon. */
  readonly made: number;
}

export interface GroupSettling {
  readonly settling: Settling;
  readonly output: Output;
  /** `null`: not settled within the horizon. */
  readonly settledTick: number | null;
  readonly events: Events;
  readonly windowTicks: number;
}

/** @param productsPerCycle by machine; 0 leaves a machine out */
export function groupOf(run: Run, longRun: LongRun, productsPerCycle: readonly number[]): Group {
  const { exactCycles, measuredCycles, fullCycles } = longRun;
  const members = productsPerCycle.flatMap((count, m) => (count > 0 ? [m] : []));
  const running = members.flatMap((m) => measuredCycles[m] || []);
  const counted = running.length > 0 ? running : members.map((m) => approximate(fullCycles[m] ?? ZERO));
  return {
    events: eventsOf(run, (machine) => productsPerCycle[machine] ?? 0),
    fullPerMin: weighted(fullCycles, productsPerCycle),
    exactPerMin: exactCycles && weighted(exactCycles, productsPerCycle),
    measuredPerMin: members.reduce((total, m) => total + (measuredCycles[m] ?? 0) * (productsPerCycle[m] ?? 0), 0),
    cyclesPerMin: counted.reduce((total, cycles) => total + cycles, 0),
    machines: counted.length,
    made: members.reduce((total, m) => total + (run.totals.cycles[m] ?? 0) * (productsPerCycle[m] ?? 0), 0),
  };
}

export function settlingOf(run: Run, longRun: LongRun, group: Group): GroupSettling {
  const { toMinutes } = longRun;
  const { events, fullPerMin, exactPerMin, measuredPerMin, made } = group;
  const perTick = (exactPerMin ? approximate(exactPerMin) : measuredPerMin) * toMinutes(1);
  const windowTicks = windowFor(run, longRun, group);
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
      full_per_min: exact(fullPerMin),
      settled_per_min: exactPerMin ? exact(exactPerMin) : null,
      ...(exactPerMin ? {} : { measured_per_min: measuredPerMin }),
      made,
      ramp_up_loss:
        settledTick === null || exactPerMin === null ? null : lossUpTo(run, group, exactPerMin, settledTick),
    },
    settledTick,
    events,
    windowTicks,
  };
}

function lossUpTo({ program }: Run, { events }: Group, settledPerMin: Rational, settledTick: number): number {
  const settledMin = inMinutes(settledTick, program.tickS);
  return approximate(settledPerMin.mul(settledMin).sub(whole(amountUpTo(events, settledTick))));
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
  const { recurrence, steppedTicks } = run;
  const repeats = recurrence !== null && settledTick !== null;
  // The average of a settled line repeats as well, so a whole period of it shows whether it stays.
  const endTick = repeats ? Math.max(steppedTicks, settledTick + recurrence.periodTicks + windowTicks) : steppedTicks;
  const known = repeats ? carriedOn(events, recurrence.periodTicks, steppedTicks, endTick) : events;
  // It looks half a window back, so it may come to its level that much after the output itself has settled.
  const latestTick = repeats ? settledTick + Math.floor(windowTicks / 2) : Infinity;
  const [within = null, to50 = null, to90 = null, to95 = null] = staysFrom(known, windowTicks, endTick, ranges).map(
    (tick) => minutes(tick !== null && tick > latestTick ? null : tick),
  );
  return { within_tolerance_min: within, to_50_min: to50, to_90_min: to90, to_95_min: to95 };
}

function weighted(cyclesPerMin: readonly Rational[], productsPerCycle: readonly number[]): Rational {
  return sum(cyclesPerMin.map((cycles, m) => cycles.mul(whole(productsPerCycle[m] ?? 0))));
}

/** About ten cycles of each machine, in ticks. */
export function plainWindow({ toMinutes }: LongRun, { cyclesPerMin, machines }: Group): number {
  return Math.ceil((CYCLES_AVERAGED * machines) / (cyclesPerMin * toMinutes(1)));
}

/** Even; whole periods where these are not too long, since the average of a settled line is constant then. */
function windowFor(run: Run, longRun: LongRun, group: Group): number {
  const { recurrence, steppedTicks } = run;
  const plain = plainWindow(longRun, group);
  const isShort = recurrence !== null && recurrence.periodTicks <= LONGEST_STRETCH * plain;
  const step = isShort ? evenMultiple(recurrence.periodTicks) : 2;
  const window = Math.ceil(plain / step) * step;
  return window <= steppedTicks ? window : Math.max(2, steppedTicks - (steppedTicks % 2));
}

function evenMultiple(ticks: number): number {
  return ticks % 2 === 0 ? ticks : 2 * ticks;
}

/** The first tick from which a train of events keeps to its long-run pattern, of `perTick` on average, for good. */
export function patternFrom(run: Run, longRun: LongRun, events: Events, perTick: number): number | null {
  const { basis, toMinutes, flowSettledMin } = longRun;
  switch (basis) {
    case "recurrence":
      return run.recurrence && repeatsFrom(events, run.recurrence.periodTicks, run.steppedTicks);
    case "flow":
      // The last quarter shows how an output that has settled swings, if it had settled by then.
      return run.lastQuarter && (flowSettledMin ?? Infinity) <= toMinutes(run.lastQuarter.fromTick)
        ? keepsPaceFrom(events, perTick, run.lastQuarter.fromTick, run.steppedTicks)
        : null;
    case "measured":
      return null;
  }
}

/**
 * Without a recurrence, but with an exact rate: the first tick from which the products made keep as close to that rate
 * as they do in the last quarter of the run.
 */
function keepsPaceFrom(events: Events, perTick: number, lastQuarterTick: number, endTick: number): number | null {
  const { count, tick, amount } = events;
  // Swings without a period outdo themselves now and then, by a small part of a cycle.
  const leeway = amount.reduce((least, one) => Math.min(least, one), Infinity) / 4;
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
    if ((tick[i] ?? 0) >= lastQuarterTick) spread = high - low;
    else if (high - low > spread + leeway) return from;
    from = tick[i] ?? 0;
  }
  return from;
}
