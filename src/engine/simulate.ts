/** The run: tick after tick until the horizon, or until the line is proved to repeat and the rest can be leapt over. */
import type { CompiledPriming } from "../network/priming.ts";
import type { Program } from "../network/program.ts";
import type { StopWhat } from "../network/random-program.ts";
import { checkConservation } from "./conservation.ts";
import { type BeltHeads, beltHeads, type Lying, lyingNow, openCycleTicks } from "./lying.ts";
import { bookTotals, totalsNow } from "./over-time.ts";
import { intervene, nextIntervention, prime } from "./priming.ts";
import { type Recurrence, type RecurrenceWatch, watchForRecurrence } from "./recurrence.ts";
import { type Samples, type Sampling, sampleLast, startSamples } from "./samples.ts";
import { findSettledPeriod, type Levels, leap, observeLast, type SettledPeriod } from "./settled-period.ts";
import { initialState } from "./start-state.ts";
import { type Completions, type Noted, type NotedOfBelts, notedNow } from "./state.ts";
import { advance } from "./tick.ts";
import { copyTotals, type Totals } from "./totals.ts";
import { vehicleIntervalTicks } from "./vehicles.ts";

export interface SimulationOptions {
  readonly horizonTicks: number;
  /** Stock and interventions; none if left out. */
  readonly priming?: CompiledPriming;
  /** Of what is left to chance: the same seed, the same run. */
  readonly seed?: string;
  /** Throughout if left out. */
  readonly sampling?: Sampling;
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
  /** Over that period; where there is none, since items circulate for ever, over one that ends at the horizon. */
  readonly settledLevels: Levels | null;
  /** At the horizon. */
  readonly totals: Totals;
  readonly noted: Noted & NotedOfBelts;
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
  /** How many there were by the horizon, by machine, and outages by feed. */
  readonly stops: Readonly<Record<StopWhat, Int32Array>>;
  /** By feed: items that wait at its gate at the horizon, the most that ever did, and their sum over ticks. */
  readonly gates: { readonly waiting: Int32Array; readonly most: Int32Array; readonly ticks: Float64Array };
  /** What lies on the line at the horizon. */
  readonly lying: Lying;
  /** By machine: how much of a cycle under way at the horizon is done, ticks. */
  readonly openCycleTicks: Float64Array;
}

const NO_PRIMING: CompiledPriming = { stock: [], loaded: [], interventions: [] };
/** Elements that act between two reports of progress, some tenths of a second. */
const PROGRESS_WORK = 1e7;

/** @throws ConservationError under `check`, if the engine lost or made up an item */
export function simulate(program: Program, options: SimulationOptions): Run {
  const { horizonTicks, priming = NO_PRIMING, seed = "1", sampling, check = false, onProgress } = options;
  const { interventions } = priming;
  const state = initialState(program, interventions.length, seed);
  prime(program, state, priming);
  const samples = startSamples(program, state, sampling === "late" ? horizonTicks : null);
  const lastPartTick = horizonTicks - lastPart(program, horizonTicks);
  const progressTicks = Math.ceil(PROGRESS_WORK / program.sweepKind.length);
  let beforeLastPart: Totals | null = null;

  /** How far the core may go by itself: up to the next tick after which there is something to do here. */
  const nextStop = (tick: number, watch?: RecurrenceWatch): number => {
    if (check) return state.tick + 1;
    let stop = Math.min(tick, nextIntervention(state, interventions));
    if (state.tick < lastPartTick) stop = Math.min(stop, lastPartTick);
    if (onProgress) stop = Math.min(stop, (Math.floor(state.tick / progressTicks) + 1) * progressTicks);
    return watch ? Math.min(stop, Math.max(watch.nextTick(state), state.tick + 1)) : stop;
  };
  const stepTo = (tick: number, watch?: RecurrenceWatch): Recurrence | null => {
    while (state.tick < tick) {
      const found = advance(state, nextStop(tick, watch), watch?.isLooking(state) ?? false, samples);
      intervene(program, state, interventions);
      if (state.tick === lastPartTick) beforeLastPart = totalsNow(program, state);
      if (check) checkConservation(program, state);
      if (onProgress && state.tick % progressTicks === 0) onProgress(state.tick / horizonTicks);
      const recurrence = watch?.observe(state, found);
      if (recurrence) return recurrence;
    }
    return null;
  };

  // A state that recurs by chance proves nothing.
  const stepAll = options.stepAll === true || program.random !== null;
  const recurrence = stepAll ? null : stepTo(horizonTicks, watchForRecurrence(program, state));
  const settledPeriod = recurrence && findSettledPeriod(program, state, recurrence, horizonTicks, stepTo);
  const settledLevels = settledPeriod ?? (recurrence && observeLast(program, state, recurrence, horizonTicks, stepTo));
  if (settledPeriod === null) stepTo(horizonTicks);
  sampleLast(samples, state);
  const heads = beltHeads(program, state);
  const steppedTicks = state.tick;
  const completions = { ...state.completions };
  if (recurrence && settledPeriod) {
    const periods = Math.floor((horizonTicks - state.tick) / recurrence.periodTicks);
    leap(program, state, periods, recurrence.periodTicks, settledPeriod.totals);
    // What has not come within a period never will.
    state.bufferAwaited.fill(0);
    advance(state, horizonTicks, false);
  }

  bookTotals(state);
  const run = {
    program,
    horizonTicks,
    recurrence,
    settledPeriod,
    settledLevels,
    // Copies here and below, since the core's memory goes to the next run.
    totals: copyTotals(program, state.totals),
    noted: notedNow(state),
    lastQuarter: beforeLastPart && {
      fromTick: lastPartTick,
      totals: totalsNow(program, state, beforeLastPart),
    },
    steppedTicks,
    completions,
    samples,
    heads,
    stops: {
      breakdowns: state.stops.breakdowns.slice(),
      "micro-stops": state.stops["micro-stops"].slice(),
      outages: state.stops.outages.slice(),
    },
    gates: { waiting: state.atGate.slice(), most: state.mostAtGate.slice(), ticks: state.gateTicks.slice() },
    lying: lyingNow(program, state),
    openCycleTicks: openCycleTicks(program, state),
  };
  state.release();
  return run;
}

/** A quarter of the horizon, or somewhat more if that makes it whole intervals between the vehicles of every feed. */
function lastPart(program: Program, horizonTicks: number): number {
  const quarter = Math.max(1, Math.floor(horizonTicks / 4));
  const interval = vehicleIntervalTicks(program);
  const whole = Math.ceil(quarter / interval) * interval;
  return whole <= horizonTicks / 2 ? whole : quarter;
}
