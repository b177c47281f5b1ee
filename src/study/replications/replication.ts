/** One replication: a run with a seed of its own, brought down to what the figures of many are worked out from. */
import { leastBinMin } from "../../analysis/chance.ts";
import type { StoppedRun } from "../../analysis/chance-results.ts";
import { type Events, eventsOf } from "../../analysis/events.ts";
import { cyclesDone, fullCyclesOf, outputPerCycle } from "../../analysis/makers.ts";
import { stoppedRun } from "../../analysis/stopped-run.ts";
import { type Run, simulate } from "../../engine/simulate.ts";
import { RUNNING, STATE_COUNT } from "../../engine/states.ts";
import type { Prepared } from "../../network/prepare.ts";
import type { CompiledPriming } from "../../network/priming.ts";
import type { Program } from "../../network/program.ts";
import type { StopKind } from "../../network/random-program.ts";
import { inMinutes, TAKEN_PER_TICK } from "../../network/tick.ts";
import { total } from "../../quantity/counts.ts";
import { approximate } from "../../quantity/rational.ts";

/** Sums of whole numbers, so that what is added up over replications is the same in any order. */
export interface Replication {
  /** From 1. */
  readonly replication: number;
  readonly grid: ReplicationGrid;
  /** Products of the plant up to each point, and up to the horizon. */
  readonly made: Float64Array;
  readonly madeInAll: number;
  /** Items of all kinds on belts and in buffers, by point. */
  readonly held: Float64Array;
  /** Minutes in which a machine ran up to each mark, at `mark * machines + machine`. */
  readonly runningMin: Float64Array;
  /** Items in infeed buffers in the order of the network's machines, at `point * buffers + buffer`. */
  readonly levels: Int32Array;
  /** How many there were of each kind in the grid's list. */
  readonly stops: readonly number[];
  /** Where it made nothing any more at its end. */
  readonly stopped: StoppedRun | null;
}

/** When the curves of a replication are sampled: alike in all replications of a plant. */
export interface ReplicationGrid {
  /** Point i is at (i + 1) times this. */
  readonly stepMin: number;
  readonly points: number;
  /** Each so many points there is a mark, the first of them at the start; settled figures are counted from a mark. */
  readonly markEvery: number;
  /** Time in which each final machine makes about ten cycles at full speed. */
  readonly averageMin: number;
  /** Bins by which the end of the ramp-up is told are no shorter: some cycles of the slowest machine. */
  readonly leastBinMin: number;
  /** Products of one cycle of each final machine. */
  readonly oneCycle: number;
  /** What ticks may take off the output at most, as a share. */
  readonly tickTakes: number;
  /** Kinds of stops that the file states. */
  readonly stops: readonly StopKind[];
}

const MOST_MARKS = 64;
const CYCLES_AVERAGED = 10;

/**
 * The seed of a replication: the first has the file's own, so that it is the run made without replications; the others have that
 * and their number as a JSON list, which given as the file's seed repeats the replication by itself.
 */
export function replicationSeed(seed: string, replication: number): string {
  return replication === 1 ? seed : JSON.stringify([seed, replication]);
}

/** @param seed the file's @param priming stock and interventions, if any */
export function playReplication(
  { program, horizonTicks }: Pick<Extract<Prepared, { ok: true }>, "program" | "horizonTicks">,
  seed: string,
  replication: number,
  priming?: CompiledPriming,
): Replication {
  const own = { horizonTicks, seed: replicationSeed(seed, replication), stepAll: true };
  const run = simulate(program, priming === undefined ? own : { ...own, priming });
  const { samples } = run;
  const points = Math.floor(horizonTicks / samples.everyTicks);
  const perCycle = outputPerCycle(program.network);
  const events = eventsOf(run, (machine) => perCycle[machine] ?? 0);
  const made = madeUpToPoints(events, samples.everyTicks, points);
  const grid: ReplicationGrid = {
    stepMin: minutesOf(program, samples.everyTicks),
    points,
    markEvery: Math.max(1, Math.ceil(points / MOST_MARKS)),
    ...gridOf(program),
  };
  const kinds = program.itemCount;
  const done = cyclesDone(program, run.totals);
  return {
    replication,
    grid,
    made,
    madeInAll: total(perCycle.map((products, m) => products * (done[m] ?? 0))),
    held: Float64Array.from({ length: points }, (_, i) => total(samples.holdUp.subarray(i * kinds, (i + 1) * kinds))),
    runningMin: runningAtMarks(program, samples.stateTicks, grid),
    levels: infeedLevels(program, samples.level, points),
    stops: stopsIn(run),
    stopped: stoppedRun(run, events),
  };
}

/** Of each kind that the file states, in its order. */
export function stopsIn({ program: { random }, stops }: Run): number[] {
  return (random?.stops ?? []).map(({ what, members }) => total(members.map((member) => stops[what][member] ?? 0)));
}

function minutesOf({ tickS }: Program, ticks: number): number {
  return approximate(inMinutes(ticks, tickS));
}

/** What of a grid comes from the plant. */
export function gridOf(
  program: Program,
): Pick<ReplicationGrid, "averageMin" | "leastBinMin" | "oneCycle" | "tickTakes" | "stops"> {
  const { network, random } = program;
  return {
    averageMin: averageMin(program),
    leastBinMin: leastBinMin(network),
    oneCycle: total(outputPerCycle(network)),
    tickTakes: tickTakes(program),
    stops: random?.stops ?? [],
  };
}

function tickTakes({ network, random, tickS }: Program): number {
  const isRandom = (m: number): boolean =>
    random !== null &&
    [random.machine.upTime, random.machine.cyclesToStop, random.machine.cycle].some((of) => (of[m] ?? -1) >= 0);
  const cyclesS = network.machines.flatMap(({ cycleMin }, m) => (isRandom(m) ? [60 * approximate(cycleMin)] : []));
  return cyclesS.length === 0 ? 0 : (TAKEN_PER_TICK * approximate(tickS)) / Math.min(...cyclesS);
}

/** Time in which each final machine makes about ten cycles at full speed. */
export function averageMin({ network }: Program): number {
  const perCycle = outputPerCycle(network);
  const final = fullCyclesOf(network).filter((_, m) => (perCycle[m] ?? 0) > 0);
  const cyclesPerMin = total(final.map(approximate));
  return (CYCLES_AVERAGED * final.length) / cyclesPerMin;
}

function madeUpToPoints({ count, tick, amount }: Events, everyTicks: number, points: number): Float64Array {
  const made = new Float64Array(points);
  let next = 0;
  let sum = 0;
  for (let i = 0; i < points; i++) {
    for (; next < count && (tick[next] ?? 0) <= (i + 1) * everyTicks; next++) sum += amount[next] ?? 0;
    made[i] = sum;
  }
  return made;
}

function runningAtMarks(
  program: Program,
  stateTicks: Int32Array,
  { points, markEvery }: ReplicationGrid,
): Float64Array {
  const machines = program.machine.count;
  const marks = Math.floor(points / markEvery);
  const running = new Float64Array((marks + 1) * machines);
  for (let mark = 1; mark <= marks; mark++) {
    const point = mark * markEvery - 1;
    for (let m = 0; m < machines; m++) {
      const ticks = stateTicks[(point * machines + m) * STATE_COUNT + RUNNING] ?? 0;
      running[mark * machines + m] = minutesOf(program, ticks);
    }
  }
  return running;
}

function infeedLevels({ machine, buffer }: Program, level: Int32Array, points: number): Int32Array {
  const infeeds: number[] = [];
  for (let m = 0; m < machine.count; m++) {
    for (let b = machine.infeed[m] ?? 0; b < (machine.outfeed[m] ?? 0); b++) infeeds.push(b);
  }
  const levels = new Int32Array(points * infeeds.length);
  for (let i = 0; i < points; i++) {
    for (const [own, b] of infeeds.entries()) levels[i * infeeds.length + own] = level[i * buffer.count + b] ?? 0;
  }
  return levels;
}
