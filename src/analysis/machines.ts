/** What every machine does: its rates, its buffers, its time. */
import type { Run } from "../engine/simulate.ts";
import { BLOCKED, DOWN, HELD, RUNNING, STARVED, STATE_COUNT } from "../engine/states.ts";
import { itemsPerCycle, needPerMin } from "../network/needs.ts";
import type { MachineElement } from "../network/network.ts";
import { inTicks } from "../network/tick.ts";
import { approximate, exact, whole } from "../quantity/rational.ts";
import { type Events, eventsByMachine } from "./events.ts";
import type { LongRun } from "./long-run.ts";
import { productsPerCycle } from "./products.ts";
import type { InfeedResult, MachineResult, StateMinutes } from "./result.ts";
import { type Group, settlingOf } from "./settling.ts";
import { type WaitTracing, waitsOf } from "./waits.ts";

/** @param settledTick when the plant's output has settled, or `null` */
export function machineResults(
  run: Run,
  longRun: LongRun,
  settledTick: number | null,
  tracing: WaitTracing,
): MachineResult[] {
  const { network } = run.program;
  const events = eventsByMachine(run);
  return network.machines.map((machine, m) => {
    const { made, ...others } = machineResult(run, longRun, settledTick, machine, m, events[m] ?? NONE);
    return { ...others, waits: waitsOf(run, m, others.minutes, tracing), made };
  });
}

const NONE: Events = { count: 0, tick: new Int32Array(), amount: new Float64Array() };

function machineResult(
  run: Run,
  longRun: LongRun,
  settledTick: number | null,
  machine: MachineElement,
  m: number,
  events: Events,
): Omit<MachineResult, "waits"> {
  const { toMinutes } = longRun;
  const { program, marks } = run;
  const taken = itemsPerCycle(machine);
  const exactCycles = longRun.exactCycles?.[m] ?? null;
  const cycleTicks = approximate(inTicks(machine.cycleMin, program.tickS));
  const firstBuffer = program.machine.infeed[m] ?? 0;
  const bufferTick = (ticks: Int32Array, i: number): number | null => {
    const tick = ticks[firstBuffer + i] ?? -1;
    return tick < 0 ? null : toMinutes(tick);
  };
  const firsts = machine.infeed.flatMap((_, i) => bufferTick(marks.firstItem, i) ?? []);
  const minutes = stateMinutes(run, m, cycleTicks, toMinutes);
  const own = settlingOf(run, longRun, machineGroup(run, longRun, m, productsPerCycle(machine), events));
  return {
    id: machine.id,
    line: machine.line,
    needs_per_min: exact(needPerMin(machine)),
    settled_per_min: exactCycles && exact(exactCycles.mul(whole(taken))),
    ...(exactCycles ? {} : { measured_per_min: (longRun.measuredCycles[m] ?? 0) * taken }),
    first_item_min: firsts.length > 0 ? Math.min(...firsts) : null,
    full_rate_from_min: cycleStartMin(longRun, events, own.settledTick, cycleTicks),
    settling: own.settling,
    ramp_up_loss: own.output.ramp_up_loss,
    infeed: machine.infeed.map(({ item, count }, i): InfeedResult => {
      const buffer = firstBuffer + i;
      return {
        item,
        needs_per_min: exact(whole(machine.takes[i]?.count ?? 0).div(machine.cycleMin)),
        capacity: count,
        full_at_min: bufferTick(marks.fullAt, i),
        settled_low: run.settledLevels?.low[buffer] ?? null,
        settled_high: run.settledLevels?.high[buffer] ?? null,
      };
    }),
    uptime: uptimeByChance(run, longRun, m, minutes) ?? {
      ramp_up:
        settledTick === null || settledTick === 0 ? null : runningTicks(events, cycleTicks, settledTick) / settledTick,
      settled: exactCycles && approximate(exactCycles.mul(machine.cycleMin)),
      horizon: minutes.running / toMinutes(run.horizonTicks),
    },
    minutes,
    made: own.output.made,
  };
}

/** Before and after the sample nearest to the end of the ramp-up; `null` where nothing is left to chance. */
function uptimeByChance(
  { program, samples, horizonTicks }: Run,
  { found, toMinutes }: LongRun,
  m: number,
  { running }: StateMinutes,
): MachineResult["uptime"] | null {
  if (found === null) return null;
  const horizon = running / toMinutes(horizonTicks);
  const sample = Math.round(found.fromTick / samples.everyTicks) - 1;
  if (sample < 0) return { ramp_up: null, settled: horizon, horizon };
  const before = toMinutes(samples.stateTicks[(sample * program.machine.count + m) * STATE_COUNT + RUNNING] ?? 0);
  const [fromMin, endMin] = [toMinutes(samples.tick[sample] ?? 0), toMinutes(horizonTicks)];
  return { ramp_up: before / fromMin, settled: Math.max(0, running - before) / (endMin - fromMin), horizon };
}

function machineGroup(run: Run, longRun: LongRun, m: number, perCycle: number, cycles: Events): Group {
  const products = whole(perCycle);
  const fullCycles = longRun.fullCycles[m] ?? whole(0);
  const measuredCycles = longRun.measuredCycles[m] ?? 0;
  return {
    events: { ...cycles, amount: cycles.amount.map((count) => count * perCycle) },
    fullPerMin: fullCycles.mul(products),
    exactPerMin: longRun.exactCycles?.[m]?.mul(products) ?? null,
    measuredPerMin: measuredCycles * perCycle,
    cyclesPerMin: measuredCycles || approximate(fullCycles),
    machines: 1,
    made: (run.totals.cycles[m] ?? 0) * perCycle,
  };
}

/** A machine's pattern starts with the cycle whose end is the first of the pattern; `null` if it never finishes one. */
function cycleStartMin(
  { toMinutes }: LongRun,
  { tick }: Events,
  patternTick: number | null,
  cycleTicks: number,
): number | null {
  const first = patternTick === null ? undefined : tick.find((end) => end >= patternTick);
  return first === undefined ? null : toMinutes(Math.max(0, Math.round(first - cycleTicks)));
}

/** Ticks spent in cycles from the start up to a tick. */
function runningTicks(events: Events, cycleTicks: number, upToTick: number): number {
  let ticks = 0;
  for (const end of events.tick) {
    if (end - cycleTicks >= upToTick) break;
    ticks += Math.min(end, upToTick) - (end - cycleTicks);
  }
  return ticks;
}

/**
 * The engine counts whole ticks, so a cycle that ends within one counts for a little more than it took where the
 * machine waits afterwards. Running time is the cycles' own; the rest goes to what the machine waited for.
 */
function stateMinutes(run: Run, m: number, cycleTicks: number, toMinutes: (ticks: number) => number): StateMinutes {
  const ticksIn = (state: number): number => run.totals.stateTicks[m * STATE_COUNT + state] ?? 0;
  const cycles = (run.totals.cycles[m] ?? 0) * cycleTicks + (run.openCycleTicks[m] ?? 0);
  // A drawn cycle takes whole ticks, as they are counted.
  const isDrawn = (run.program.random?.machine.cycle[m] ?? -1) >= 0;
  const running = isDrawn ? ticksIn(RUNNING) : Math.min(ticksIn(RUNNING), cycles);
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
