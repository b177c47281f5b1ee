/**
 * When the output of some machines has settled, what it settles at, and what the ramp-up cost: told by what is made, so
 * that neither the phase of cycles nor the horizon nor the tick moves it.
 */
import type { Run } from "../engine/simulate.ts";
import { vehicleIntervalTicks } from "../engine/vehicles.ts";
import { offeredPerMin } from "../network/feeds.ts";
import type { Network } from "../network/network.ts";
import { ticksWithin } from "../network/tick.ts";
import { total } from "../quantity/counts.ts";
import { approximate, exact, type Rational, smaller, sum, whole, ZERO } from "../quantity/rational.ts";
import type { Feed } from "../scenario/scenario.ts";
import { type Events, eventsByMaker, eventsOf, repeatsFrom } from "./events.ts";
import type { LongRun } from "./long-run.ts";
import { curveUpTo, type MadeCurve, type Maker, madeCurve, type RunningTime, runningTimes } from "./made-curve.ts";
import { cyclesDone, eachPerCycle } from "./makers.ts";
import type { Output, Settling } from "./result.ts";
import { type Grain, type Known, type SettledPattern, type Stretch, settledPattern } from "./settled-pattern.ts";
import { countsFrom, type FirstCycle, NEVER, type Times, timesOf } from "./settled-times.ts";

export const TOLERANCE = 0.05;

/** Whose output it is: all final machines', a line's or one machine's. */
export interface Group {
  readonly grain: Grain;
  readonly makers: readonly Maker[];
  /** Its products, as they come. */
  readonly events: Events;
}

export interface GroupSettling {
  /** What counts as full output: see `SettledPattern`. */
  readonly fullShare: number;
  readonly settling: Settling;
  readonly output: Output;
}

/** What all groups of a run are judged by. */
export interface Judged {
  readonly run: Run;
  readonly longRun: LongRun;
  readonly running: readonly RunningTime[];
  /** When a feed's profile changes, the start first, ticks. */
  readonly changes: readonly number[];
  /** From the last change of a feed's profile to the end of what was stepped. */
  readonly stretch: Stretch;
  readonly intervalTicks: number;
}

/** @param feeds whose profiles say from when on nothing changes any more */
export function judgedBy(run: Run, longRun: LongRun, feeds: readonly Pick<Feed, "profile">[]): Judged {
  const { program, horizonTicks, steppedTicks } = run;
  const steps = feeds.flatMap(({ profile }) => profile.map(({ fromMin }) => ticksWithin(fromMin, program.tickS)));
  const changes = [...new Set([0, ...steps.filter((tick) => tick < horizonTicks)])].toSorted((a, b) => a - b);
  const fromTick = changes.at(-1) ?? 0;
  return {
    run,
    longRun,
    running: runningTimes(run),
    changes,
    stretch: { fromTick, toTick: steppedTicks },
    intervalTicks: vehicleIntervalTicks(program),
  };
}

/** Of several together. @param byMachine what `settlingByMaker` gives */
export function settlingTogether(
  judged: Judged,
  perCycle: readonly number[],
  byMachine: readonly GroupSettling[],
): GroupSettling & { readonly events: Events } {
  const makers = makersOf(perCycle);
  const { run } = judged;
  const events = eventsOf(run, (machine) => perCycle[machine] ?? 0);
  const alone = aloneOf(judged, makers, byMachine);
  return { ...settlingOf(judged, { grain: "together", makers, events }, alone), events };
}

/** What the machines of a group by themselves tell of it, in ticks. */
interface Alone {
  /** From when all that run in the long run have settled; `null`: unknown. */
  readonly settledTick: number | null;
  /** From when those have that never wait in the long run and make a part that counts. */
  readonly saturatedTick: number;
}

function aloneOf({ longRun, stretch }: Judged, makers: readonly Maker[], byMachine: readonly GroupSettling[]): Alone {
  const { fullCycles, exactCycles } = longRun;
  const running = makers.flatMap(({ machine, perCycle }) => {
    const perMin = cyclesOf(longRun, machine) * perCycle;
    const min = byMachine[machine]?.settling.time_min ?? null;
    const tick = min === null ? null : stretch.fromTick + min / longRun.toMinutes(1);
    const isSaturated = exactCycles !== null && exactCycles[machine]?.equals(fullCycles[machine] ?? ZERO) === true;
    return perMin > 0 ? [{ perMin, tick, isSaturated }] : [];
  });
  const counts = countsFrom(running);
  const latest = (ticks: readonly number[]): number => Math.max(stretch.fromTick, ...ticks);
  const settled = running.flatMap(({ tick, ...one }) => (tick === null ? [] : [{ ...one, tick }]));
  const isKnown = running.length > 0 && settled.length === running.length;
  return {
    settledTick: isKnown ? latest(settled.map(({ tick }) => tick)) : null,
    saturatedTick: latest(
      settled.flatMap(({ perMin, tick, isSaturated }) => (isSaturated && perMin >= counts ? [tick] : [])),
    ),
  };
}

/** Of each maker by itself (makers.ts). */
export function settlingByMaker(judged: Judged): GroupSettling[] {
  const events = eventsByMaker(judged.run);
  return eachPerCycle(judged.run.program.network).map((perCycle, m) => {
    const makers = [{ machine: m, perCycle }];
    const own = events[m] ?? { count: 0, tick: new Int32Array(), amount: new Float64Array() };
    return settlingOf(judged, { grain: "alone", makers, events: own }, { settledTick: null, saturatedTick: 0 });
  });
}

function settlingOf(judged: Judged, group: Group, { settledTick, saturatedTick }: Alone): GroupSettling {
  const { run, longRun, stretch } = judged;
  const { toMinutes } = longRun;
  const { events, makers } = group;
  const curve = madeCurve(judged.running, makers, stretch.toTick);
  const rates = ratesOf(longRun, makers);
  const known = knownOf(judged, group, rates, settledTick);
  const found = run.program.random === null ? settledPattern(curve, stretch, known, group.grain) : null;
  // What stops for good may have done so before the feed's last change.
  const counted = found?.perTick === 0 && group.grain === "together" ? 0 : stretch.fromTick;
  const judgedFrom = { ...stretch, fromTick: counted };
  const firsts = firstCycles(judged, makers);
  const timesIn = (made: MadeCurve, pattern: SettledPattern): Times =>
    timesOf(made, pattern, judgedFrom, firsts, saturatedTick);
  const seen = found === null ? NEVER : timesIn(curve, found);
  const isSeenAlike = (): boolean =>
    SHORTER_LOOKS.every((share) => {
      const toTick = stretch.fromTick + share * (stretch.toTick - stretch.fromTick);
      const shorter = curveUpTo(curve, toTick);
      const pattern = settledPattern(shorter, { ...stretch, toTick }, known, group.grain);
      return pattern === null || isAlike(seen, timesIn(shorter, pattern), stretch.fromTick, toMinutes(1));
    });
  const isProved = group.grain === "alone" || known.periodTicks !== null || found?.perTick === 0;
  const isSettled =
    found !== null && (isProved || (isRateKnown(known) && isSeenLongEnough(seen, stretch, known) && isSeenAlike()));
  const [pattern, times] = isSettled ? [found, seen] : [null, NEVER];
  const since = (tick: number | null): number | null => (tick === null ? null : toMinutes(tick - counted));
  const to95 = since(times.to95);
  const { exactPerMin } = rates;
  const perMin = pattern === null ? 0 : pattern.perTick / toMinutes(1);
  const ahead = perMin === 0 ? null : (pattern?.meanAhead ?? null);
  const lost = ahead === null ? null : -ahead;
  const done = cyclesDone(run.program, run.totals);
  return {
    fullShare: times.fullShare,
    settling: {
      time_min: since(times.full),
      tolerance: TOLERANCE,
      within_tolerance_min: to95,
      to_50_min: since(times.to50),
      to_90_min: since(times.to90),
      to_95_min: to95,
      to_99_min: since(times.to99),
      counted_from_min: toMinutes(counted),
      pattern_from_min: run.recurrence && toMinutes(repeatsFrom(events, run.recurrence.periodTicks, run.steppedTicks)),
      first_product_min: events.count === 0 ? null : toMinutes(events.tick[0] ?? 0),
    },
    output: {
      full_per_min: exact(rates.fullPerMin),
      settled_per_min: exactPerMin && exact(exactPerMin),
      ...(exactPerMin ? {} : { measured_per_min: pattern === null ? rates.measuredPerMin : perMin }),
      made: makers.reduce((total, one) => total + one.perCycle * (done[one.machine] ?? 0), 0),
      ramp_up_loss: lost,
      ramp_up_loss_min: lost === null ? null : lost / perMin,
    },
  };
}

/**
 * Without a proof, full output that comes long after the flow's may be a gap that returns after hours: it is told only if
 * three times as long has been seen since.
 */
function isSeenLongEnough({ full }: Times, { fromTick, toTick }: Stretch, { flowTick }: Known): boolean {
  if (full === null) return true;
  const latest = Math.max(2 * ((flowTick ?? fromTick) - fromTick), (toTick - fromTick) / 4);
  return full - fromTick <= latest;
}

/** A rate that is only measured is no rate to keep up with while machines are still on the move. */
function isRateKnown({ perTick, machinesTick }: Known): boolean {
  return perTick !== null || machinesTick !== null;
}

/** Without a proof, what is told must not have been otherwise when a half, a third and a sixth of it had been seen. */
const SHORTER_LOOKS = [1 / 2, 1 / 3, 1 / 6];
const ALIKE = { share: 0.02, minutes: 0.2 };

function isAlike(times: Times, shorter: Times, fromTick: number, tickMin: number): boolean {
  const alike = (one: number | null, other: number | null): boolean =>
    one === null ||
    other === null ||
    Math.abs(one - other) <= Math.max(ALIKE.minutes / tickMin, ALIKE.share * (Math.max(one, other) - fromTick));
  return alike(times.to95, shorter.to95) && alike(times.full, shorter.full);
}

function cyclesOf({ exactCycles, measuredCycles }: LongRun, m: number): number {
  const known = exactCycles?.[m];
  return known ? approximate(known) : (measuredCycles[m] ?? 0);
}

interface Rates {
  /** Products per minute: if no machine ever waited; in the long run, where known exactly; as measured. */
  readonly fullPerMin: Rational;
  readonly exactPerMin: Rational | null;
  readonly measuredPerMin: number;
  /** Products of one cycle of each that runs in the long run. */
  readonly oneCycle: number;
}

function firstCycles({ running, longRun }: Judged, makers: readonly Maker[]): FirstCycle[] {
  return makers.flatMap(({ machine, perCycle }) => {
    const perMin = cyclesOf(longRun, machine) * perCycle;
    return perMin > 0 ? { tick: running[machine]?.ticks[0] ?? 0, perMin } : [];
  });
}

export function makersOf(perCycle: readonly number[]): Maker[] {
  return perCycle.flatMap((count, machine) => (count > 0 ? { machine, perCycle: count } : []));
}

function ratesOf(longRun: LongRun, makers: readonly Maker[]): Rates {
  const { fullCycles, exactCycles, measuredCycles } = longRun;
  const weighted = (cycles: readonly Rational[]): Rational =>
    sum(makers.map(({ machine, perCycle }) => (cycles[machine] ?? ZERO).mul(whole(perCycle))));
  return {
    fullPerMin: weighted(fullCycles),
    exactPerMin: exactCycles && weighted(exactCycles),
    measuredPerMin: makers.reduce((total, one) => total + (measuredCycles[one.machine] ?? 0) * one.perCycle, 0),
    oneCycle: makers.reduce((total, one) => total + (cyclesOf(longRun, one.machine) > 0 ? one.perCycle : 0), 0),
  };
}

function knownOf(
  { run, longRun, intervalTicks }: Judged,
  { makers }: Group,
  { fullPerMin, exactPerMin, oneCycle }: Rates,
  machinesTick: number | null,
): Known {
  const { toMinutes, flowSettledMin } = longRun;
  const perTick = (perMin: Rational): number => approximate(perMin) * toMinutes(1);
  const ofAllFed = exactPerMin === null ? madeOfAllFed(run.program.network, makers) : null;
  return {
    perTick: exactPerMin && perTick(exactPerMin),
    balancedPerTick: perTick(ofAllFed === null ? fullPerMin : smaller(fullPerMin, ofAllFed)),
    oneCycle,
    periodTicks: run.recurrence?.periodTicks ?? null,
    flowTick: flowSettledMin === null ? null : flowSettledMin / toMinutes(1),
    machinesTick,
    intervalTicks,
  };
}

/** What is fed becomes products, if every machine takes from the feeds and makes as many of each item. Products/min. */
function madeOfAllFed({ feeds, machines, outlets }: Network, makers: readonly Maker[]): Rational | null {
  if (outlets.length > 0 || makers.length < machines.length) return null;
  const made = new Map(makers.map(({ machine, perCycle }) => [machine, perCycle]));
  const [ratio, ...others] = machines.map(({ takes }, m) => {
    return whole(made.get(m) ?? 0).div(whole(total(takes.map(({ count }) => count))));
  });
  if (ratio === undefined || others.some((other) => !other.equals(ratio))) return null;
  return sum(feeds.map(offeredPerMin)).mul(ratio);
}
