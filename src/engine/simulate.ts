/** The run: tick after tick until the horizon, or until the line is proved to repeat and the rest can be leapt over. */
import type { CompiledPriming } from "../network/priming.ts";
import type { Program } from "../network/program.ts";
import { checkConservation } from "./conservation.ts";
import { intervene, prime } from "./priming.ts";
import { type Recurrence, watchForRecurrence } from "./recurrence.ts";
import { emptySamples, type Samples, sampleIfDue, sampleLast } from "./samples.ts";
import {
  type Completions,
  copyTotals,
  initialState,
  type Marks,
  reserveCompletions,
  resetExtremes,
  type State,
  type Totals,
} from "./state.ts";
import { advanceOneTick } from "./tick.ts";

export interface SimulationOptions {
  readonly horizonTicks: number;
  /** Stock and interventions; none if left out. */
  readonly priming?: CompiledPriming;
  /** Recounts every item after every tick. */
  readonly check?: boolean;
  /** Steps through the whole horizon, without a look for recurrences: the reference that the tests compare with. */
  readonly stepAll?: boolean;
  /** Called now and then with the share of the horizon done. */
  readonly onProgress?: (share: number) => void;
}

export interface Run {
  readonly program: Program;
  readonly horizonTicks: number;
  readonly recurrence: Recurrence | null;
  /** One settled period, after the recurrence and after all that was held then has left; `null` if the run ends before. */
  readonly settledPeriod: SettledPeriod | null;
  /** At the horizon. */
  readonly totals: Totals;
  readonly marks: Marks;
  /**
   * Added since `fromTick`, the beginning of the horizon's last quarter, or of somewhat more where that makes it whole
   * intervals between vehicles; `null` where it was leapt over.
   */
  readonly lastQuarter: { readonly fromTick: number; readonly totals: Totals } | null;
  /** Ticks done one by one; completions and samples cover these, and repeat with the period afterwards. */
  readonly steppedTicks: number;
  readonly completions: Completions;
  readonly samples: Samples;
  /** When the stepping ended. */
  readonly heads: BeltHeads;
  /** What lies on the line at the horizon. */
  readonly lying: Lying;
  /** By machine: how much of a cycle under way at the horizon is done, ticks. */
  readonly openCycleTicks: Float64Array;
}

/** By kind: items that have lain for longer than their limit, and for how long the oldest has lain, ticks. */
export interface Lying {
  readonly over: Float64Array;
  readonly longestTicks: Float64Array;
}

/** By belt: its items, the kind at its head and the tick from which that could have left; -1 where it is empty. */
export interface BeltHeads {
  readonly count: Int32Array;
  readonly item: Int32Array;
  readonly readyTick: Int32Array;
}

export interface SettledPeriod {
  readonly totals: Totals;
  /** Lowest and highest level in the period, by buffer. */
  readonly low: Int32Array;
  readonly high: Int32Array;
  /** Fewest and most items in the period, by belt. */
  readonly beltLow: Int32Array;
  readonly beltHigh: Int32Array;
}

const NO_PRIMING: CompiledPriming = { stock: [], loaded: [], interventions: [] };
/** Elements that act between two reports of progress, some tenths of a second. */
const PROGRESS_WORK = 1e7;

/** @throws ConservationError under `check`, if the engine lost or made up an item */
export function simulate(program: Program, options: SimulationOptions): Run {
  const { horizonTicks, priming = NO_PRIMING, check = false, stepAll = false, onProgress } = options;
  const { interventions } = priming;
  const state = initialState(program, interventions.length);
  prime(program, state, priming);
  const samples = emptySamples(program);
  const quarterTick = horizonTicks - lastPart(program, horizonTicks);
  const progressTicks = Math.ceil(PROGRESS_WORK / program.sweepKind.length);
  let beforeLastQuarter: Totals | null = null;

  const stepTo = (tick: number): void => {
    while (state.tick < tick) {
      reserveCompletions(state.completions, program.machine.count);
      advanceOneTick(program, state);
      intervene(program, state, interventions);
      sampleIfDue(samples, state);
      if (state.tick === quarterTick) beforeLastQuarter = copyTotals(program, state.totals);
      if (check) checkConservation(program, state);
      if (onProgress && state.tick % progressTicks === 0) onProgress(state.tick / horizonTicks);
    }
  };

  const recurrence = stepAll ? null : findRecurrence(program, state, horizonTicks, stepTo);
  const settledPeriod = recurrence && findSettledPeriod(program, state, recurrence, horizonTicks, stepTo);
  if (settledPeriod === null) stepTo(horizonTicks);
  sampleLast(samples, state);
  const heads = beltHeads(program, state);
  const steppedTicks = state.tick;
  const completions = { ...state.completions };
  if (recurrence && settledPeriod) {
    const periods = Math.floor((horizonTicks - state.tick) / recurrence.periodTicks);
    leap(program, state, periods, recurrence.periodTicks, settledPeriod.totals);
    while (state.tick < horizonTicks) {
      reserveCompletions(state.completions, program.machine.count);
      advanceOneTick(program, state);
    }
  }

  return {
    program,
    horizonTicks,
    recurrence,
    settledPeriod,
    totals: state.totals,
    marks: state.marks,
    lastQuarter: beforeLastQuarter && {
      fromTick: quarterTick,
      totals: copyTotals(program, state.totals, beforeLastQuarter),
    },
    steppedTicks,
    completions,
    samples,
    heads,
    lying: lyingNow(program, state),
    openCycleTicks: openCycleTicks(program, state),
  };
}

function lastPart({ feed, pace }: Program, horizonTicks: number): number {
  const quarter = Math.max(1, Math.floor(horizonTicks / 4));
  let common = 1;
  for (let f = 0; f < feed.count; f++) {
    if (feed.batchItems[f] === 0) continue;
    const vehicle = feed.count + f;
    // As many intervals as make whole ticks.
    const ticks = pace.whole[vehicle]! * pace.parts[vehicle]! + pace.rest[vehicle]!;
    common *= ticks / greatestCommonDivisor(common, ticks);
    if (common > horizonTicks / 2) return quarter;
  }
  const whole = Math.ceil(quarter / common) * common;
  return whole <= horizonTicks / 2 ? whole : quarter;
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}

function findRecurrence(
  program: Program,
  state: State,
  horizonTicks: number,
  stepTo: (tick: number) => void,
): Recurrence | null {
  const watch = watchForRecurrence(program, state);
  while (state.tick < horizonTicks) {
    stepTo(state.tick + 1);
    const recurrence = watch.observe(state);
    if (recurrence) return recurrence;
  }
  return null;
}

/**
 * Until all that was held at the recurrence has left, dwell times are still those of the ramp-up. (Where some of it
 * circulates in a return loop for ever, they never repeat, and every tick is stepped.)
 */
function findSettledPeriod(
  program: Program,
  state: State,
  { atTick, periodTicks, period }: Recurrence,
  horizonTicks: number,
  stepTo: (tick: number) => void,
): SettledPeriod | null {
  const mostTick = horizonTicks - periodTicks;
  while (holdsOlder(program, state, atTick, period)) {
    if (state.tick >= mostTick) return null;
    stepTo(Math.min(state.tick + periodTicks, mostTick));
  }
  return state.tick <= mostTick ? observePeriod(program, state, periodTicks, stepTo) : null;
}

function beltHeads({ belt }: Program, state: State): BeltHeads {
  const head = (b: number, of: Int32Array | Uint8Array): number =>
    state.beltCount[b] === 0 ? -1 : of[belt.ring[b]! + state.beltHead[b]!]!;
  return {
    count: state.beltCount.slice(),
    item: belt.ring.map((_, b) => head(b, state.placeItem)),
    readyTick: belt.ring.map((_, b) => head(b, state.placeReady)),
  };
}

function lyingNow(program: Program, state: State): Lying {
  const { belt, buffer, itemCount, dwellLimit } = program;
  const over = new Float64Array(itemCount);
  const longestTicks = new Float64Array(itemCount);
  const see = (item: number, born: number): void => {
    const ticks = state.tick - born;
    if (ticks > dwellLimit[item]!) over[item]! += 1;
    longestTicks[item] = Math.max(longestTicks[item]!, ticks);
  };
  for (let b = 0; b < belt.count; b++) {
    for (let n = 0; n < state.beltCount[b]!; n++) {
      const place = belt.ring[b]! + ((state.beltHead[b]! + n) % belt.capacity[b]!);
      see(state.placeItem[place]!, state.placeBorn[place]!);
    }
  }
  for (let b = 0; b < buffer.count; b++) {
    for (let n = 0; n < state.bufferCount[b]!; n++) {
      const place = buffer.ring[b]! + ((state.bufferHead[b]! + n) % buffer.capacity[b]!);
      see(buffer.item[b]!, state.bufferBorn[place]!);
    }
  }
  return { over, longestTicks };
}

function openCycleTicks({ machine, pace }: Program, state: State): Float64Array {
  return Float64Array.from(machine.pace, (cycle, m) => {
    if (state.machineBusy[m] === 0) return 0;
    const toGo = state.paceDue[cycle]! - state.paceLag[cycle]! / pace.parts[cycle]! - state.tick;
    return pace.whole[cycle]! + pace.rest[cycle]! / pace.parts[cycle]! - Math.max(0, toGo);
  });
}

function observePeriod(
  program: Program,
  state: State,
  periodTicks: number,
  stepTo: (tick: number) => void,
): SettledPeriod {
  const beltHigh = state.marks.beltHigh.slice();
  resetExtremes(state);
  const before = copyTotals(program, state.totals);
  stepTo(state.tick + periodTicks);
  const settled = {
    totals: copyTotals(program, state.totals, before),
    low: state.marks.low.slice(),
    high: state.marks.high.slice(),
    beltLow: state.marks.beltLow.slice(),
    beltHigh: state.marks.beltHigh.slice(),
  };
  for (const [b, high] of beltHigh.entries()) state.marks.beltHigh[b] = Math.max(high, state.marks.beltHigh[b]!);
  return settled;
}

/** Whether an item that was there at a tick still is, but for those that nothing in a whole period moves. */
function holdsOlder({ belt, machine, buffer }: Program, state: State, thanTick: number, period: Totals): boolean {
  const holds = (born: Int32Array, ring: number, head: number, count: number, room: number): boolean => {
    for (let n = 0; n < count; n++) if (born[ring + ((head + n) % room)]! <= thanTick) return true;
    return false;
  };
  for (let b = 0; b < belt.count; b++) {
    if (period.passed[belt.connection[b]!] === 0) continue;
    if (holds(state.placeBorn, belt.ring[b]!, state.beltHead[b]!, state.beltCount[b]!, belt.capacity[b]!)) return true;
  }
  for (let m = 0; m < machine.count; m++) {
    if (period.cycles[m] === 0) continue;
    for (let b = machine.infeed[m]!; b < machine.infeed[m + 1]!; b++) {
      const { ring, capacity } = buffer;
      if (holds(state.bufferBorn, ring[b]!, state.bufferHead[b]!, state.bufferCount[b]!, capacity[b]!)) return true;
    }
  }
  return false;
}

/**
 * Skips whole periods: totals grow by as many periods, and every time in the state moves on with the clock, but for when
 * that was fed or made which lies still.
 */
function leap(program: Program, state: State, periods: number, periodTicks: number, period: Totals): void {
  const { belt, machine, buffer } = program;
  const ticks = periods * periodTicks;
  const moveOn = (times: Int32Array, from: number, count: number): void => {
    for (let i = from; i < from + count; i++) times[i]! += ticks;
  };
  state.tick += ticks;
  moveOn(state.paceDue, 0, state.paceDue.length);
  moveOn(state.placeReady, 0, state.placeReady.length);
  for (let b = 0; b < belt.count; b++) {
    if (period.passed[belt.connection[b]!] === 0) continue;
    moveOn(state.placeBorn, belt.ring[b]!, belt.capacity[b]!);
    state.marks.beltLeftAt[b]! += ticks;
  }
  for (let m = 0; m < machine.count; m++) {
    if (period.cycles[m] === 0) continue;
    for (let b = machine.infeed[m]!; b < machine.infeed[m + 1]!; b++) {
      moveOn(state.bufferBorn, buffer.ring[b]!, buffer.capacity[b]!);
    }
  }
  for (let i = 0; i < state.totals.all.length; i++) state.totals.all[i]! += periods * period.all[i]!;
}
