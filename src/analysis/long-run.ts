/** The long-run rates, and on what they rest. */
import type { Run } from "../engine/simulate.ts";
import type { Totals } from "../engine/totals.ts";
import { inMinutes } from "../network/tick.ts";
import { total } from "../quantity/counts.ts";
import { approximate, type Rational, sum, whole, ZERO } from "../quantity/rational.ts";
import { chanceOf, type FoundChance } from "./chance.ts";
import { type FlowSolution, runningMinutesNearly } from "./flow/flow.ts";
import { cyclesDone, fullCyclesOf, hasMachines, makerCount } from "./makers.ts";
import type { Basis } from "./result.ts";

export interface LongRun {
  readonly basis: Basis;
  readonly toMinutes: (ticks: number) => number;
  /** When the flow solution has the output settled; `null` without one. */
  readonly flowSettledMin: number | null;
  /** What the run is worth where something is left to chance, else `null`. */
  readonly found: FoundChance | null;
  /** Cycles per minute, by maker (makers.ts): if it never waited; in the long run, where known exactly; as measured. */
  readonly fullCycles: readonly Rational[];
  readonly exactCycles: readonly Rational[] | null;
  readonly measuredCycles: readonly number[];
  /** Items per minute by connection and by feed, likewise. */
  readonly exactPassed: readonly Rational[] | null;
  readonly measuredPassed: readonly number[];
  readonly exactFed: readonly Rational[] | null;
  readonly measuredFed: readonly number[];
}

/** Fewer cycles a machine in the last quarter tell too little to agree or not. */
const LEAST_CYCLES = 10;

/** A machine may be this many cycles off the flow solution over the last quarter, and this share. */
const CYCLES_APART = 2;
const SHARE_APART = 0.005;

export function longRunOf(run: Run, flow: FlowSolution | null): LongRun {
  const { program, recurrence } = run;
  const toMinutes = minutesOf(program.tickS);
  const fullCycles = fullCyclesOf(program.network);
  const period = recurrence
    ? { totals: recurrence.period, ticks: recurrence.periodTicks }
    : { totals: run.lastQuarter?.totals ?? run.totals, ticks: run.horizonTicks - (run.lastQuarter?.fromTick ?? 0) };
  const minutes = toMinutes(period.ticks);
  const found = chanceOf(run, toMinutes);
  const measured = {
    fullCycles,
    toMinutes,
    flowSettledMin: flow && approximate(flow.settlingMin),
    found,
    measuredCycles:
      found === null
        ? Array.from(cyclesDone(program, period.totals), (count) => count / minutes)
        : cyclesAfter(run, found.fromTick, toMinutes),
    measuredPassed: Array.from(period.totals.passed, (count) => count / minutes),
    measuredFed: Array.from(period.totals.fed, (count) => count / minutes),
  };
  if (recurrence) {
    const periodMin = inMinutes(recurrence.periodTicks, program.tickS);
    const rates = (counts: Float64Array): Rational[] => Array.from(counts, (count) => whole(count).div(periodMin));
    const { passed, fed } = recurrence.period;
    return {
      ...measured,
      basis: "recurrence",
      exactCycles: rates(cyclesDone(program, recurrence.period)),
      exactPassed: rates(passed),
      exactFed: rates(fed),
    };
  }
  // Flows know means only, and under chance the long run is not that of the means.
  if (flow && program.random === null && run.lastQuarter && agrees(run, run.lastQuarter, flow)) {
    return { ...measured, basis: "flow", ...settledFlow(run, flow) };
  }
  return { ...measured, basis: "measured", exactCycles: null, exactPassed: null, exactFed: null };
}

/** Under chance all of the run counts that comes after the ramp-up, not only its last quarter. */
function cyclesAfter(
  { completions, program, horizonTicks }: Run,
  fromTick: number,
  toMinutes: (ticks: number) => number,
) {
  const cycles = new Array<number>(makerCount(program)).fill(0);
  for (let i = 0; i < completions.count; i++) {
    const machine = completions.machine[i] ?? 0;
    if ((completions.tick[i] ?? 0) > fromTick) cycles[machine] = (cycles[machine] ?? 0) + 1;
  }
  return cycles.map((count) => count / toMinutes(horizonTicks - fromTick));
}

/** Divides last, so that a tick count gives the nearest number of minutes and no rounding noise. */
function minutesOf(tickS: Rational): (ticks: number) => number {
  const perTick = tickS.div(60n);
  const [numerator, denominator] = [Number(perTick.n), Number(perTick.d)];
  return (ticks) => (ticks * numerator) / denominator;
}

function settledFlow({ program }: Pick<Run, "program">, flow: FlowSolution) {
  const settled = flow.settled();
  const { machines, connections, feeds, outlets } = program.network;
  const passed = (id: string): Rational => settled.connections.get(id) ?? ZERO;
  return {
    exactCycles: hasMachines(program.network)
      ? machines.map(({ id, cycleMin }) => (settled.machines.get(id) ?? ZERO).div(cycleMin))
      : outlets.map((outlet) => sum(connections.filter(({ to }) => to === outlet.id).map(({ id }) => passed(id)))),
    exactPassed: connections.map(({ id }) => passed(id)),
    exactFed: feeds.map(({ id }) => settled.feeds.get(id) ?? ZERO),
  };
}

/** Whether every machine runs in the last quarter of the horizon as long as the flow solution says it should. */
function agrees(run: Run, last: { readonly fromTick: number; readonly totals: Totals }, flow: FlowSolution): boolean {
  const { program, horizonTicks } = run;
  if (!hasMachines(program.network)) return leavesAsFlows(run, last, flow);
  const { cycles } = last.totals;
  const finished = total(cycles);
  if (finished < LEAST_CYCLES * cycles.length) return false;
  const fromMin = inMinutes(last.fromTick, program.tickS);
  const running = runningMinutesNearly(flow, inMinutes(horizonTicks, program.tickS), fromMin);
  return program.network.machines.every(({ id, cycleMin }, m) => {
    const expected = (running.get(id) ?? 0) / approximate(cycleMin);
    const found = cycles[m] ?? 0;
    return Math.abs(found - expected) <= CYCLES_APART + SHARE_APART * expected;
  });
}

/** The same of a plant without machines, whose flows have long been constant: what has left by each outlet. */
function leavesAsFlows(
  { program, horizonTicks }: Run,
  last: { readonly fromTick: number; readonly totals: Totals },
  flow: FlowSolution,
): boolean {
  const minutes = approximate(inMinutes(horizonTicks - last.fromTick, program.tickS));
  const left = cyclesDone(program, last.totals);
  if (total(left) < LEAST_CYCLES * left.length) return false;
  if (flow.settlingMin.compare(inMinutes(last.fromTick, program.tickS)) > 0) return false;
  return settledFlow({ program }, flow).exactCycles.every((perMin, o) => {
    const expected = approximate(perMin) * minutes;
    return Math.abs((left[o] ?? 0) - expected) <= CYCLES_APART + SHARE_APART * expected;
  });
}
