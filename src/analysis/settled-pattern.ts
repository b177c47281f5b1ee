/** The pattern that an output has settled to, if it has: at which rate, how it swings about it, how far behind it is. */
import { keepsUpFrom } from "./keeping-up.ts";
import { type Ahead, aheadOf, type MadeCurve, madeBy } from "./made-curve.ts";

export interface SettledPattern {
  /** Products a tick in the long run. */
  readonly perTick: number;
  /** What may be lacking, or too much, in any stretch of a line that keeps up. */
  readonly leeway: number;
  /** Products ahead of the rate since the beginning of what is judged, on average; negative: behind. `null`: still moving. */
  readonly meanAhead: number | null;
  /** What counts as full output: all of the rate, from above and from below, or (below 1) at least this share. */
  readonly fullShare: number;
}

/** A part of a run whose feeds don't change: what is judged, in ticks. */
export interface Stretch {
  readonly fromTick: number;
  readonly toTick: number;
}

/** What is known of an output in the long run. */
export interface Known {
  /** Products a tick; `null` where it has to be measured. */
  readonly perTick: number | null;
  /** Where none is known, what it can be seen to have settled at: no machine waits, or nothing fed stays behind. */
  readonly balancedPerTick: number;
  /** Products of one cycle of each machine that runs in the long run. */
  readonly oneCycle: number;
  /** A period of the whole line, proved, that ends with the stretch; `null`: none. */
  readonly periodTicks: number | null;
  /** From when the flow solution has it settled; `null` without one. */
  readonly flowTick: number | null;
  /** From when each of the machines by itself has settled; `null`: unknown. */
  readonly machinesTick: number | null;
  /** Means are taken over whole multiples of this, since vehicles come at it. */
  readonly intervalTicks: number;
}

/**
 * Together, an eighth of a cycle of each machine is as nothing; a single machine's output comes cycle by cycle, and of a
 * swing by less than half a cycle one can't tell whether it is one.
 */
export type Grain = "together" | "alone";

/** The highest and the lowest go on growing apart as one looks for longer, ... */
const BEYOND_SEEN = 1.1;
/** ... the root of the mean square hardly does: of a steady sawtooth this many are twice the swing. */
const DEVIATIONS = 7;

function leewayOf({ low, high, deviation }: Ahead, oneCycle: number, grain: Grain): number {
  const swing = high - low;
  const leeway =
    grain === "together"
      ? Math.max(BEYOND_SEEN * swing, DEVIATIONS * deviation) + oneCycle / 8
      : Math.max(swing, oneCycle / 2) + oneCycle / 4;
  return leeway * ROUNDING;
}

/** Eight machines have a leeway of just one product, and lack whole ones: sums of many pieces must not decide that. */
const ROUNDING = 1 + 1e-6;

/** Where buffers fill or drain for hours, a line that makes this share has settled for whoever waits for its products. */
const FULL_WHILE_BUFFERS_MOVE = 0.999;
/** A rate that is only measured is not known any better. */
const FULL_AS_MEASURED = 0.99;
/** Beyond when its machines have settled, so that the last of the ramp-up is no part of the swing. */
const AFTER_MACHINES = 1.25;

/** @returns `null`: not settled as far as the stretch shows */
export function settledPattern(curve: MadeCurve, stretch: Stretch, known: Known, grain: Grain): SettledPattern | null {
  const { perTick, periodTicks, flowTick, machinesTick } = known;
  const { toTick } = stretch;
  const pattern = (
    rate: number,
    seen: Stretch,
    fullShare: number,
    swingOf = (own: Ahead): Ahead => own,
  ): SettledPattern => {
    const own = aheadIn(curve, rate, seen);
    const mean = meanOnArrival(curve, rate, seen, known.intervalTicks) ?? own.mean;
    return {
      perTick: rate,
      leeway: leewayOf(swingOf(own), known.oneCycle, grain),
      meanAhead: mean - aheadAt(curve, rate, stretch.fromTick),
      fullShare,
    };
  };
  const quarter = wholeIntervals((toTick - stretch.fromTick) / 4, known.intervalTicks);
  const last = { fromTick: toTick - quarter, toTick };
  const sinceMachines = (latest: number): Stretch => {
    const after =
      machinesTick === null ? Infinity : stretch.fromTick + AFTER_MACHINES * (machinesTick - stretch.fromTick);
    return { fromTick: Math.min(latest, after), toTick };
  };
  if (perTick !== null && periodTicks !== null) {
    const period = { fromTick: toTick - periodTicks, toTick };
    const longer = sinceMachines(period.fromTick);
    return pattern(perTick, period, 1, ({ deviation }) => ({ ...aheadIn(curve, perTick, longer), deviation }));
  }
  if (quarter === 0) return null;
  if (perTick === null) {
    // With a flow solution that the run does not agree with there is nothing to measure yet.
    const measured = flowTick === null ? measuredPerTick(curve, toTick, quarter, known.oneCycle) : null;
    if (measured === null) return null;
    const isBalanced = Math.abs(known.balancedPerTick - measured) * quarter <= known.oneCycle / 4;
    const rate = isBalanced ? known.balancedPerTick : measured;
    if (!halvesAgree(curve, last, rate, known.oneCycle)) return null;
    if (isBalanced) return pattern(rate, sinceMachines(last.fromTick), 1);
    return pattern(rate, { fromTick: toTick - 2 * quarter, toTick }, FULL_AS_MEASURED);
  }
  if (flowTick !== null && flowTick > last.fromTick) {
    const now = (madeBy(curve, toTick) - madeBy(curve, last.fromTick)) / quarter;
    const moving = pattern(perTick, last, FULL_WHILE_BUFFERS_MOVE, () => aheadIn(curve, now, last));
    const middle = (stretch.fromTick + toTick) / 2;
    const keptFrom = keepsUpFrom(curve, moving.fullShare * perTick, { short: moving.leeway, over: Infinity });
    if (keptFrom > middle) return null;
    // What drains goes on being made, and what is gained by it is not known yet.
    return halvesAgree(curve, last, perTick, known.oneCycle) ? moving : { ...moving, meanAhead: null };
  }
  if (!halvesAgree(curve, last, perTick, known.oneCycle)) return null;
  return pattern(perTick, sinceMachines(last.fromTick), 1);
}

/** Over the last half, if its quarters (of the whole) agree to a cycle of each machine. */
function measuredPerTick(curve: MadeCurve, toTick: number, quarterTicks: number, oneCycle: number): number | null {
  const [first, middle, last] = [2, 1, 0].map((quarters) => madeBy(curve, toTick - quarters * quarterTicks));
  if (first === undefined || middle === undefined || last === undefined) return null;
  if (Math.abs(last - middle - (middle - first)) > oneCycle) return null;
  // From mean to mean, which swings move less than the ends.
  const meanOf = (quarters: number): number =>
    aheadOf(curve, 0, toTick - (quarters + 1) * quarterTicks, toTick - quarters * quarterTicks).mean;
  return (meanOf(0) - meanOf(1)) / quarterTicks;
}

function aheadIn(curve: MadeCurve, perTick: number, { fromTick, toTick }: Stretch): Ahead {
  return aheadOf(curve, perTick, fromTick, toTick);
}

function aheadAt(curve: MadeCurve, perTick: number, tick: number): number {
  return madeBy(curve, tick) - perTick * tick;
}

/** With vehicles the line is ahead after each, and behind before the next: it is compared each time as one comes, if any does. */
function meanOnArrival(
  curve: MadeCurve,
  perTick: number,
  { fromTick, toTick }: Stretch,
  intervalTicks: number,
): number | null {
  if (intervalTicks === 1) return null;
  let total = 0;
  let count = 0;
  for (let tick = toTick - (toTick % intervalTicks); tick > fromTick; tick -= intervalTicks) {
    total += aheadAt(curve, perTick, tick);
    count++;
  }
  return count === 0 ? null : total / count;
}

/** Swings without a period outdo themselves now and then, by a small part of a cycle. */
function halvesAgree(curve: MadeCurve, { fromTick, toTick }: Stretch, perTick: number, oneCycle: number): boolean {
  const middle = (fromTick + toTick) / 2;
  const first = aheadOf(curve, perTick, fromTick, middle);
  const second = aheadOf(curve, perTick, middle, toTick);
  const [swing, other] = [first.high - first.low, second.high - second.low];
  const apart = Math.max(swing, other) / 4 + oneCycle / 16;
  return Math.abs(first.mean - second.mean) <= apart && Math.abs(swing - other) <= apart;
}

function wholeIntervals(ticks: number, interval: number): number {
  return Math.floor(ticks / interval) * interval;
}
