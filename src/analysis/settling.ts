/**
 * When the output of some machines has settled, what it settles at, and what the ramp-up cost: told by what is made, so
 * that neither the phase of cycles nor the horizon nor the tick moves it.
 */
import type { Run } from "../engine/simulate.ts";
import { vehicleIntervalTicks } from "../engine/vehicles.ts";
import { ticksWithin } from "../network/tick.ts";
import { approximate, exact, type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import type { Feed } from "../scenario/scenario.ts";
import { type Events, eventsByMachine, eventsOf, repeatsFrom } from "./events.ts";
import { keepsUpFrom, type Leeway } from "./keeping-up.ts";
import type { LongRun } from "./long-run.ts";
import { type MadeCurve, madeCurve, type RunningTime, runningTimes } from "./made-curve.ts";
import { productsPerCycle } from "./products.ts";
import type { Output, Settling } from "./result.ts";
import { type Grain, type Known, type SettledPattern, type Stretch, settledPattern } from "./settled-pattern.ts";

export const TOLERANCE = 0.05;

/** Whose output it is: all final machines', a line's or one machine's. */
export interface Group {
  readonly grain: Grain;
  /** Products of one cycle, by machine; 0 for those of others. */
  readonly perCycle: readonly number[];
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
  /** From the last change of a feed's profile to the end of what was stepped. */
  readonly stretch: Stretch;
  readonly intervalTicks: number;
}

/** @param feeds whose profiles say from when on nothing changes any more */
export function judgedBy(run: Run, longRun: LongRun, feeds: readonly Pick<Feed, "profile">[]): Judged {
  const { program, horizonTicks, steppedTicks } = run;
  const changes = feeds.flatMap(({ profile }) => profile.map(({ fromMin }) => ticksWithin(fromMin, program.tickS)));
  const fromTick = Math.max(0, ...changes.filter((tick) => tick < horizonTicks));
  return {
    run,
    longRun,
    running: runningTimes(run),
    stretch: { fromTick, toTick: steppedTicks },
    intervalTicks: vehicleIntervalTicks(program),
  };
}

/** Of several together. @param byMachine what `settlingByMachine` gives */
export function settlingTogether(
  judged: Judged,
  perCycle: readonly number[],
  byMachine: readonly GroupSettling[],
): GroupSettling & { readonly events: Events } {
  const { run, longRun, stretch } = judged;
  const members = byMachine.filter((_, m) => (perCycle[m] ?? 0) > 0 && cyclesOf(longRun, m) > 0);
  const times = members.map(({ settling }) => settling.time_min);
  const latest = times.includes(null) ? null : Math.max(0, ...times.map((min) => min ?? 0));
  const machinesTick = latest === null ? null : stretch.fromTick + latest / longRun.toMinutes(1);
  const events = eventsOf(run, (machine) => perCycle[machine] ?? 0);
  return { ...settlingOf(judged, { grain: "together", perCycle, events }, machinesTick), events };
}

/** Of each machine by itself. */
export function settlingByMachine(judged: Judged): GroupSettling[] {
  const events = eventsByMachine(judged.run);
  return judged.run.program.network.machines.map((machine, m) => {
    const count = productsPerCycle(machine);
    const perCycle: number[] = [];
    perCycle[m] = count;
    const own = events[m] ?? { count: 0, tick: new Int32Array(), amount: new Float64Array() };
    return settlingOf(judged, { grain: "alone", perCycle, events: own }, null);
  });
}

/** @param machinesTick from when each of its machines by itself has settled, seen from the start; `null`: unknown */
export function settlingOf(judged: Judged, group: Group, machinesTick: number | null): GroupSettling {
  const { run, longRun, stretch } = judged;
  const { toMinutes } = longRun;
  const { events, perCycle } = group;
  const curve = madeCurve(judged.running, perCycle, stretch.toTick);
  const rates = ratesOf(longRun, perCycle);
  const pattern =
    run.program.random === null
      ? settledPattern(curve, stretch, knownOf(judged, rates, machinesTick), group.grain)
      : null;
  const times = pattern === null ? NEVER : timesOf(judged, group, curve, pattern);
  const since = (tick: number | null): number | null => (tick === null ? null : toMinutes(tick - stretch.fromTick));
  const to95 = since(times.to95);
  const { exactPerMin } = rates;
  const perMin = pattern === null ? 0 : pattern.perTick / toMinutes(1);
  const lost = pattern === null || perMin === 0 ? null : -pattern.meanAhead;
  return {
    fullShare: pattern?.fullShare ?? 1,
    settling: {
      time_min: since(times.full),
      tolerance: TOLERANCE,
      within_tolerance_min: to95,
      to_50_min: since(times.to50),
      to_90_min: since(times.to90),
      to_95_min: to95,
      to_99_min: since(times.to99),
      counted_from_min: toMinutes(stretch.fromTick),
      pattern_from_min: run.recurrence && toMinutes(repeatsFrom(events, run.recurrence.periodTicks, run.steppedTicks)),
      first_product_min: events.count === 0 ? null : toMinutes(events.tick[0] ?? 0),
    },
    output: {
      full_per_min: exact(rates.fullPerMin),
      settled_per_min: exactPerMin && exact(exactPerMin),
      ...(exactPerMin ? {} : { measured_per_min: pattern === null ? rates.measuredPerMin : perMin }),
      made: perCycle.reduce((total, count, m) => total + (count === 0 ? 0 : count * (run.totals.cycles[m] ?? 0)), 0),
      ramp_up_loss: lost,
      ramp_up_loss_min: lost === null ? null : lost / perMin,
    },
  };
}

/** In ticks from the start. */
interface Times {
  readonly to50: number | null;
  readonly to90: number | null;
  readonly to95: number | null;
  readonly to99: number | null;
  readonly full: number | null;
}

const NEVER: Times = { to50: null, to90: null, to95: null, to99: null, full: null };

function timesOf(judged: Judged, group: Group, curve: MadeCurve, pattern: SettledPattern): Times {
  const { perTick, leeway, fullShare } = pattern;
  const { fromTick } = judged.stretch;
  const from = (share: number, most: Leeway, earliest: number): number =>
    Math.max(fromTick, earliest, keepsUpFrom(curve, share * perTick, most));
  const atLeast = { short: leeway, over: Infinity };
  const neither = { short: leeway, over: leeway };
  if (perTick === 0) return { ...NEVER, full: from(1, neither, 0) };
  const begun = begunOf(judged, group);
  const to = (share: number): number => from(share, atLeast, begun.share(share));
  const to99 = to(0.99);
  const full = from(fullShare, fullShare < 1 ? atLeast : neither, begun.allButSmall);
  return { to50: to(0.5), to90: to(0.9), to95: to(0.95), to99, full: Math.max(to99, full) };
}

/** A machine that makes less than this part of an equal share may begin after full output. */
const SMALL = 1 / 4;

/** When machines have begun their first cycle that together make a share of the output, and all but those of small parts. */
function begunOf({ running, longRun }: Judged, { perCycle }: Group) {
  const makers = running.flatMap(({ ticks }, m) => {
    const perMin = cyclesOf(longRun, m) * (perCycle[m] ?? 0);
    return perMin > 0 ? { from: ticks[0] ?? 0, perMin } : [];
  });
  const inAll = makers.reduce((total, { perMin }) => total + perMin, 0);
  const inOrder = makers.toSorted((a, b) => a.from - b.from);
  const share = (part: number): number => {
    let made = 0;
    for (const { from, perMin } of inOrder) {
      made += perMin;
      if (made >= part * inAll * (1 - 1e-9)) return from;
    }
    return 0;
  };
  const least = (SMALL * inAll) / Math.max(1, makers.length);
  const allButSmall = inOrder.reduce(
    (latest, { from, perMin }) => (perMin >= least ? Math.max(latest, from) : latest),
    0,
  );
  return { share, allButSmall };
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

function ratesOf(longRun: LongRun, perCycle: readonly number[]): Rates {
  const { fullCycles, exactCycles, measuredCycles } = longRun;
  const members = perCycle.flatMap((count, m) => (count > 0 ? [{ m, count }] : []));
  const weighted = (cycles: readonly Rational[]): Rational =>
    sum(members.map(({ m, count }) => (cycles[m] ?? ZERO).mul(whole(count))));
  return {
    fullPerMin: weighted(fullCycles),
    exactPerMin: exactCycles && weighted(exactCycles),
    measuredPerMin: members.reduce((total, { m, count }) => total + (measuredCycles[m] ?? 0) * count, 0),
    oneCycle: members.reduce((total, { m, count }) => total + (cyclesOf(longRun, m) > 0 ? count : 0), 0),
  };
}

function knownOf(
  { run, longRun, intervalTicks }: Judged,
  { exactPerMin, oneCycle }: Rates,
  machinesTick: number | null,
): Known {
  const { toMinutes, flowSettledMin } = longRun;
  return {
    perTick: exactPerMin && approximate(exactPerMin) * toMinutes(1),
    oneCycle,
    periodTicks: run.recurrence?.periodTicks ?? null,
    flowTick: flowSettledMin === null ? null : flowSettledMin / toMinutes(1),
    machinesTick,
    intervalTicks,
  };
}
