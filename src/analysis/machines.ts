/** What every machine does: its rates, its buffers, its time. */
import type { Run } from "../engine/simulate.ts";
import { BLOCKED, DOWN, HELD, RUNNING, STARVED, STATE_COUNT } from "../engine/states.ts";
import { feedingLines } from "../network/feeding-lines.ts";
import { countedPerCycle } from "../network/needs.ts";
import type { MachineElement } from "../network/network.ts";
import { inTicks } from "../network/tick.ts";
import { approximate, exact, type Rational, whole } from "../quantity/rational.ts";
import type { Causes } from "./causes.ts";
import type { LongRun } from "./long-run.ts";
import type { Wait } from "./plant-results.ts";
import type { InfeedResult, MachineResult, Rates, Settling, StateMinutes } from "./result.ts";
import { eachBuffer, type SettledView } from "./settled-view.ts";
import type { GroupSettling, Judged } from "./settling.ts";

/**
 * @param plant when its output has settled
 * @param slowed the speeds of machines that the file sets below 100 %
 */
export function machineResults(
  judged: Judged,
  byMachine: readonly GroupSettling[],
  plant: Settling,
  tracing: WaitTracing,
  slowed: ReadonlyMap<string, Rational>,
): MachineResult[] {
  const { run } = judged;
  const linesTo = feedingLines(run.program.network);
  return byMachine.flatMap((own, m) => {
    const machine = run.program.network.machines[m];
    if (machine === undefined) return [];
    const place = { machine, m, lines: linesTo(machine.id), speed: slowed.get(machine.id) };
    const { made, ...others } = machineResult(judged, own, plant, place);
    return { ...others, waits: waitsOf(run, m, others.minutes, tracing), made };
  });
}

interface Place {
  readonly machine: MachineElement;
  readonly m: number;
  readonly lines: readonly string[];
  readonly speed: Rational | undefined;
}

function machineResult(
  judged: Judged,
  own: GroupSettling,
  plant: Settling,
  { machine, m, lines, speed }: Place,
): Omit<MachineResult, "waits"> {
  const { run, longRun } = judged;
  const { id, line, needs_per_min, infeed, products, minutes, ...settled } = machineOutline(run, longRun, machine, m);
  const { toMinutes } = longRun;
  const { program, noted } = run;
  const exactCycles = longRun.exactCycles?.[m] ?? null;
  const cycleTicks = approximate(inTicks(machine.cycleMin, program.tickS));
  const firstBuffer = program.machine.infeed[m] ?? 0;
  const bufferTick = (ticks: Int32Array, i: number): number | null => {
    const tick = ticks[firstBuffer + i] ?? -1;
    return tick < 0 ? null : toMinutes(tick);
  };
  const firsts = machine.infeed.flatMap((_, i) => bufferTick(noted.firstItem, i) ?? []);
  return {
    id,
    line,
    lines,
    needs_per_min,
    ...(speed && { speed: exact(speed) }),
    ...settled,
    cycles: timesIn(machine, m, longRun)(1),
    products,
    first_item_min: firsts.length > 0 ? Math.min(...firsts) : null,
    full_rate_from_min: own.settling.time_min,
    settling: own.settling,
    ramp_up_loss: own.output.ramp_up_loss,
    infeed: infeed.map((rates, i): InfeedResult => {
      const buffer = firstBuffer + i;
      return {
        ...rates,
        capacity: machine.infeed[i]?.count ?? 0,
        full_at_min: bufferTick(noted.fullAt, i),
        settled_low: run.settledLevels?.low[buffer] ?? null,
        settled_high: run.settledLevels?.high[buffer] ?? null,
      };
    }),
    uptime: uptimeByChance(run, longRun, m, cycleTicks) ?? {
      ramp_up: runningShare(judged, m, plant.time_min),
      settled: exactCycles && approximate(exactCycles.mul(machine.cycleMin)),
      horizon: minutes.running / toMinutes(run.horizonTicks),
    },
    minutes,
    made: own.output.made,
  };
}

/** How often a minute what a machine takes or makes so many times a cycle. */
function timesIn(
  { cycleMin }: MachineElement,
  m: number,
  { exactCycles, measuredCycles }: LongRun,
): (perCycle: number) => Rates {
  const exactly = exactCycles?.[m] ?? null;
  return (perCycle) => ({
    full_per_min: exact(whole(perCycle).div(cycleMin)),
    settled_per_min: exactly && exact(exactly.mul(whole(perCycle))),
    ...(exactly ? {} : { measured_per_min: (measuredCycles[m] ?? 0) * perCycle }),
  });
}

/** Rates and time alone. */
export interface MachineOutline
  extends Pick<
    MachineResult,
    "id" | "line" | "needs_per_min" | "settled_per_min" | "measured_per_min" | "products" | "minutes"
  > {
  readonly infeed: readonly Pick<InfeedResult, "item" | "needs_per_min" | "settled_per_min" | "measured_per_min">[];
}

export function machineOutline(run: Run, longRun: LongRun, machine: MachineElement, m: number): MachineOutline {
  const times = timesIn(machine, m, longRun);
  const needed = (perCycle: number): Omit<Rates, "full_per_min"> & Pick<MachineResult, "needs_per_min"> => {
    const { full_per_min: full, ...settled } = times(perCycle);
    return { needs_per_min: full, ...settled };
  };
  return {
    id: machine.id,
    line: machine.line,
    ...needed(countedPerCycle(machine)),
    products: machine.makes.map(({ item, count }) => ({ item, ...times(count) })),
    infeed: machine.infeed.map(({ item }, i) => ({ item, ...needed(machine.takes[i]?.count ?? 0) })),
    minutes: stateMinutes(run, m, approximate(inTicks(machine.cycleMin, run.program.tickS)), longRun.toMinutes),
  };
}

/** Before and after the sample nearest to the end of the ramp-up; `null` where nothing is left to chance. In ticks, so that no share passes 1. */
function uptimeByChance(run: Run, { found }: LongRun, m: number, cycleTicks: number): MachineResult["uptime"] | null {
  if (found === null) return null;
  const { program, samples, horizonTicks } = run;
  const running = runningTicks(run, m, cycleTicks);
  const horizon = running / horizonTicks;
  const sample = Math.round(found.fromTick / samples.everyTicks) - 1;
  if (sample < 0) return { ramp_up: null, settled: horizon, horizon };
  const before = samples.stateTicks[(sample * program.machine.count + m) * STATE_COUNT + RUNNING] ?? 0;
  const fromTick = samples.tick[sample] ?? 0;
  const settled = Math.max(0, running - before) / (horizonTicks - fromTick);
  return { ramp_up: before / fromTick, settled, horizon };
}

/** From when times are counted until full output. */
function runningShare({ running, stretch, longRun }: Judged, m: number, untilMin: number | null): number | null {
  if (untilMin === null || untilMin === 0) return null;
  const { fromTick } = stretch;
  const untilTick = fromTick + untilMin / longRun.toMinutes(1);
  const within = (tick: number): number => Math.min(Math.max(tick, fromTick), untilTick);
  const ticks = running[m]?.ticks ?? [];
  const ran = ticks.reduce((total, tick, i) => total + (i % 2 === 0 ? -within(tick) : within(tick)), 0);
  return ran / (untilTick - fromTick);
}

/**
 * The engine counts whole ticks, so a cycle that ends within one counts for a little more than it took where the
 * machine waits afterwards. Running time is the cycles' own; the rest goes to what the machine waited for.
 */
function runningTicks(run: Run, m: number, cycleTicks: number): number {
  const counted = stateTicks(run, m, RUNNING);
  // A drawn cycle takes whole ticks, as they are counted.
  if ((run.program.random?.machine.cycle[m] ?? -1) >= 0) return counted;
  return Math.min(counted, (run.totals.cycles[m] ?? 0) * cycleTicks + (run.openCycleTicks[m] ?? 0));
}

function stateTicks({ totals }: Run, m: number, state: number): number {
  return totals.stateTicks[m * STATE_COUNT + state] ?? 0;
}

function stateMinutes(run: Run, m: number, cycleTicks: number, toMinutes: (ticks: number) => number): StateMinutes {
  const ticksIn = (state: number): number => stateTicks(run, m, state);
  const running = runningTicks(run, m, cycleTicks);
  const rounding = ticksIn(RUNNING) - running;
  const mostlyBlocked = ticksIn(BLOCKED) > ticksIn(STARVED);
  return {
    running: toMinutes(running),
    starved: toMinutes(ticksIn(STARVED) + (mostlyBlocked ? 0 : rounding)),
    blocked: toMinutes(ticksIn(BLOCKED) + (mostlyBlocked ? rounding : 0)),
    down: toMinutes(ticksIn(DOWN)),
    held: toMinutes(ticksIn(HELD)),
  };
}

/** @param view `null` where the long-run rates are only measured, and so no cause is known */
export interface WaitTracing {
  readonly view: SettledView | null;
  readonly causes: Causes | null;
}

/** @param minutes of the machine's states, so that its waits agree with them */
export function waitsOf(run: Run, m: number, minutes: StateMinutes, { view, causes }: WaitTracing): Wait[] {
  const { program, totals, recurrence } = run;
  const id = program.network.machines[m]?.id ?? "";
  const settled = view?.waits[m] ?? [];
  return eachBuffer(program, m, (buffer, state, item): Wait[] => {
    const inState = totals.stateTicks[m * STATE_COUNT + (state === "starved" ? STARVED : BLOCKED)] ?? 0;
    const lacked = totals.lackTicks[buffer] ?? 0;
    if (lacked === 0) return [];
    const now = settled.find((wait) => wait.state === state && wait.item === item);
    return [
      {
        state,
        item,
        minutes: (minutes[state] * lacked) / inState,
        settled_share: recurrence && (now?.share ?? 0),
        cause: now === undefined ? null : (causes?.of(id, state, item) ?? null),
      },
    ];
  });
}
