/**
 * Samples for the curves: levels, states and hold-up at evenly spaced ticks. The spacing starts at one tick and doubles
 * whenever the room is used up, so that memory is bounded and the curves are fine wherever the run ends.
 */
import type { Program } from "../network/program.ts";
import type { State } from "./state.ts";
import { STATE_COUNT } from "./states.ts";

export interface Samples {
  /** Ticks between samples; sample i is of tick `(i + 1) * everyTicks`, but for a shorter last one. */
  everyTicks: number;
  nextTick: number;
  count: number;
  readonly room: number;
  readonly tick: Int32Array;
  /** At `sample * buffers + buffer`. */
  readonly level: Int32Array;
  /** Ticks in each state so far, at `(sample * machines + machine) * STATE_COUNT + state`. */
  readonly stateTicks: Int32Array;
  /** Items held, at `sample * items + item`. */
  readonly held: Int32Array;
  /** Items on belts, at `(sample * places + place) * items + item`. */
  readonly onBelts: Int32Array;
}

const MOST_SAMPLES = 1024;
const FEWEST_SAMPLES = 64;
const MOST_MACHINE_SAMPLES = 1 << 20;

export function emptySamples({ machine, buffer, places, itemCount }: Program): Samples {
  const affordable = Math.floor(MOST_MACHINE_SAMPLES / Math.max(1, machine.count) / 2) * 2;
  const room = Math.min(MOST_SAMPLES, Math.max(FEWEST_SAMPLES, affordable));
  return {
    everyTicks: 1,
    nextTick: 1,
    count: 0,
    room,
    tick: new Int32Array(room),
    level: new Int32Array(room * buffer.count),
    stateTicks: new Int32Array(room * machine.count * STATE_COUNT),
    held: new Int32Array(room * itemCount),
    onBelts: new Int32Array(room * places.length * itemCount),
  };
}

/** Called after every tick. */
export function sampleIfDue(samples: Samples, state: State): void {
  if (state.tick < samples.nextTick) return;
  sample(samples, state);
  samples.nextTick = (Math.floor(state.tick / samples.everyTicks) + 1) * samples.everyTicks;
}

/** Takes the last sample, where the last tick has none yet. */
export function sampleLast(samples: Samples, state: State): void {
  if (samples.count === 0 || samples.tick[samples.count - 1] !== state.tick) sample(samples, state);
}

function sample(
  samples: Samples,
  { tick, bufferCount, marks, onPlaces, totals, machineState, stateSince }: State,
): void {
  const i = samples.count++;
  samples.tick[i] = tick;
  write(samples.level, i, bufferCount);
  write(samples.held, i, marks.held);
  write(samples.onBelts, i, onPlaces);
  write(samples.stateTicks, i, totals.stateTicks);
  // The state that a machine is in is not booked yet.
  const first = i * totals.stateTicks.length;
  for (let m = 0; m < machineState.length; m++) {
    samples.stateTicks[first + m * STATE_COUNT + machineState[m]!]! += tick + 1 - stateSince[m]!;
  }
  if (samples.count === samples.room) keepEverySecond(samples);
}

/** Number by number, which for so few takes less time than `set`. */
function write(series: Int32Array, i: number, values: Int32Array | Float64Array): void {
  const first = i * values.length;
  for (let k = 0; k < values.length; k++) series[first + k] = values[k]!;
}

function keepEverySecond(samples: Samples): void {
  const half = samples.room / 2;
  for (const array of [samples.tick, samples.level, samples.stateTicks, samples.held, samples.onBelts]) {
    const width = array.length / samples.room;
    for (let i = 0; i < half; i++) {
      for (let k = 0; k < width; k++) array[i * width + k] = array[(2 * i + 1) * width + k]!;
    }
  }
  samples.count = half;
  samples.everyTicks *= 2;
}
