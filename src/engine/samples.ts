/**
 * Samples for the curves: levels, states and hold-up at evenly spaced ticks. The spacing starts at one tick and doubles
 * whenever the room is used up, so that memory is bounded and the curves are fine wherever the run ends. Whoever draws none
 * asks for those of the horizon's last quarter alone.
 */
import type { Program } from "../network/program.ts";
import type { Lengths } from "./core-arrays.ts";
import type { SampleArrays, State } from "./state.ts";
import { STATE_COUNT } from "./states.ts";

/** Throughout the run, for curves, or in the horizon's last quarter alone, in less time. */
export type Sampling = "throughout" | "late";

export interface Samples extends Mutable<SampleArrays> {
  /** Ticks between samples; of all that there are, sample i is of tick `(i + 1) * everyTicks`, but for a shorter last one. */
  everyTicks: number;
  count: number;
  /** The most that there may be; the arrays grow up to that. */
  readonly room: number;
  places: number;
  /** How many the core takes before they are taken over. */
  wanted: number;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

const MOST_SAMPLES = 1024;
const FIRST_SAMPLES = 128;
const FEWEST_SAMPLES = 64;
const MOST_MACHINE_SAMPLES = 1 << 20;
/** The same of those that the core keeps. */
const MOST_IN_BATCH = 64;
const FEWEST_IN_BATCH = 4;
const MOST_MACHINES_IN_BATCH = 1 << 16;
/** Beyond the ticks of any run. */
const NEVER = 2 ** 31 - 1;

/** Room in the core's memory. */
export function batchLengths(program: Program): Lengths<"samples"> {
  const { tick, level, holdUp, onBelts, stateTicks } = widths(program);
  const room = batchRoom(program);
  return {
    sampleTick: room * tick,
    sampleLevel: room * level,
    sampleHoldUp: room * holdUp,
    sampleOnBelts: room * onBelts,
    sampleStateTicks: room * stateTicks,
  };
}

function batchRoom({ machine }: Program): number {
  const affordable = Math.floor(MOST_MACHINES_IN_BATCH / Math.max(1, machine.count));
  return Math.min(MOST_IN_BATCH, Math.max(FEWEST_IN_BATCH, affordable));
}

/** Numbers in one sample. */
function widths({ machine, buffer, places, itemCount }: Program) {
  return {
    tick: 1,
    level: buffer.count,
    holdUp: itemCount,
    onBelts: places.length * itemCount,
    stateTicks: machine.count * STATE_COUNT,
  };
}

/** @returns the first tick of the horizon's last quarter, in which samples show what a run that does not recur comes to */
export function lateFrom(horizonTicks: number): number {
  return Math.ceil(0.75 * horizonTicks);
}

/** From now on the core takes samples. @param lateOnly of so long a horizon: as they would be spaced at its end */
export function startSamples(program: Program, state: State, lateOnly: number | null): Samples {
  const affordable = Math.floor(MOST_MACHINE_SAMPLES / Math.max(1, program.machine.count) / 2) * 2;
  const room = Math.min(MOST_SAMPLES, Math.max(FEWEST_SAMPLES, affordable));
  const { level, holdUp, onBelts, stateTicks } = widths(program);
  const places = Math.min(room, FIRST_SAMPLES);
  let everyTicks = 1;
  if (lateOnly !== null) while (Math.ceil(lateOnly / everyTicks) >= room) everyTicks *= 2;
  const samples = {
    everyTicks,
    count: 0,
    room,
    places,
    wanted: batchRoom(program),
    tick: new Int32Array(places),
    level: new Int32Array(places * level),
    holdUp: new Int32Array(places * holdUp),
    onBelts: new Int32Array(places * onBelts),
    stateTicks: new Int32Array(places * stateTicks),
  };
  const first = lateOnly === null ? 1 : Math.ceil(lateFrom(lateOnly) / everyTicks) * everyTicks;
  state.core.sampleFrom(first, everyTicks, samples.wanted);
  return samples;
}

/** After the core has done ticks: takes over its samples once there are as many as wanted. */
export function takeSamplesOver(samples: Samples, state: State): void {
  if (state.core.sampled.value < samples.wanted) return;
  takeAllOver(samples, state);
  const next = (Math.floor(state.tick / samples.everyTicks) + 1) * samples.everyTicks;
  samples.wanted = Math.min(state.batch.tick.length, samples.room - samples.count);
  state.core.sampleFrom(next, samples.everyTicks, samples.wanted);
}

/** Takes the last sample, where the last tick has none yet; the core takes none any more. */
export function sampleLast(samples: Samples, state: State): void {
  takeAllOver(samples, state);
  if (samples.count === 0 || samples.tick[samples.count - 1] !== state.tick) {
    state.core.takeSample();
    takeAllOver(samples, state);
  }
  state.core.sampleFrom(NEVER, 1, 1);
}

function takeAllOver(samples: Samples, { core, batch }: State): void {
  const added = core.sampled.value;
  if (samples.count + added > samples.places) growTo(samples, Math.min(samples.room, 2 * samples.places));
  const move = (into: Int32Array, from: Int32Array): void => {
    const width = into.length / samples.places;
    into.set(from.subarray(0, added * width), samples.count * width);
  };
  move(samples.tick, batch.tick);
  move(samples.level, batch.level);
  move(samples.holdUp, batch.holdUp);
  move(samples.onBelts, batch.onBelts);
  move(samples.stateTicks, batch.stateTicks);
  samples.count += added;
  if (samples.count === samples.room) keepEverySecond(samples);
  core.sampled.value = 0;
}

function growTo(samples: Samples, places: number): void {
  const grown = (array: Int32Array): Int32Array => {
    const longer = new Int32Array((array.length / samples.places) * places);
    longer.set(array);
    return longer;
  };
  samples.tick = grown(samples.tick);
  samples.level = grown(samples.level);
  samples.holdUp = grown(samples.holdUp);
  samples.onBelts = grown(samples.onBelts);
  samples.stateTicks = grown(samples.stateTicks);
  samples.places = places;
}

function keepEverySecond(samples: Samples): void {
  const half = samples.room / 2;
  for (const array of [samples.tick, samples.level, samples.stateTicks, samples.holdUp, samples.onBelts]) {
    const width = array.length / samples.places;
    for (let i = 0; i < half; i++) {
      const from = (2 * i + 1) * width;
      array.copyWithin(i * width, from, from + width);
    }
  }
  samples.count = half;
  samples.everyTicks *= 2;
}
