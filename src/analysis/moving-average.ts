/** The centred moving average of a train of events: a curve for the eye, nothing is judged by it. */
import type { Run } from "../engine/simulate.ts";
import { approximate, ZERO } from "../quantity/rational.ts";
import { amountUpTo, type Train } from "./events.ts";
import type { LongRun } from "./long-run.ts";
import { outputPerCycle } from "./makers.ts";

/** It spans about this many cycles of each machine, so that whole items hardly show in it. */
const CYCLES_AVERAGED = 10;
/** Up to this many spans it is stretched to whole periods, which makes a settled average constant. */
const LONGEST_STRETCH = 4;

/** About ten cycles of each machine, in ticks. */
export function tenCycles({ program }: Run, { measuredCycles, fullCycles, toMinutes }: LongRun): number {
  const members = outputPerCycle(program.network).flatMap((count, m) => (count > 0 ? [m] : []));
  const running = members.flatMap((m) => measuredCycles[m] || []);
  const counted = running.length > 0 ? running : members.map((m) => approximate(fullCycles[m] ?? ZERO));
  const perTick = counted.reduce((total, cycles) => total + cycles, 0) * toMinutes(1);
  return Math.ceil((CYCLES_AVERAGED * counted.length) / perTick);
}

/** Its width, in ticks: even, and whole periods where these are not too long. */
export function averageTicks(run: Run, longRun: LongRun): number {
  const { recurrence, steppedTicks } = run;
  const plain = tenCycles(run, longRun);
  const period = recurrence !== null && recurrence.periodTicks <= LONGEST_STRETCH * plain ? recurrence.periodTicks : 1;
  const step = period % 2 === 0 ? period : 2 * period;
  const window = Math.ceil(plain / step) * step;
  return window <= steppedTicks ? window : Math.max(2, steppedTicks - (steppedTicks % 2));
}

/** Products per tick over `windowTicks` ticks around `tick`; nothing comes before tick 0, and what comes after `endTick` is left out of the mean. */
export function averageAt(made: Train, windowTicks: number, tick: number, endTick: number): number {
  const half = Math.floor(windowTicks / 2);
  const from = tick - half;
  const to = Math.min(tick + half, endTick);
  return (amountUpTo(made, to) - amountUpTo(made, from)) / (to - from);
}
