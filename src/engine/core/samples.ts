/** Samples for the curves, taken here and handed to the host (../samples.ts) so many at a time. */
import { STATE_COUNT } from "../states";
import {
  bufferCount,
  buffers,
  holdUp,
  itemCount,
  linePlaces,
  machineState,
  machines,
  onPlaces,
  sampleHoldUp,
  sampleLevel,
  sampleOnBelts,
  sampleStateTicks,
  sampleTick,
  stateSince,
  stateTicks,
} from "./memory";
import { NEVER, tick } from "./schedule";

/** Samples that the host has not taken over yet. */
export let sampled: i32 = 0;
/** How many there may be. */
let most: i32 = 1;
/** The tick after which the next is taken, and the ticks from one to the next. */
export let nextSample: i32 = NEVER;
let everyTicks: i32 = 1;

/** The host has taken over all, and wants so many more; none from NEVER on. */
export function sampleFrom(next: i32, every: i32, count: i32): void {
  sampled = 0;
  nextSample = next;
  everyTicks = every;
  most = count;
}

export function hasRoomForSample(): bool {
  return sampled < most;
}

export function takeSample(): void {
  const i = sampled;
  sampled = i + 1;
  nextSample += everyTicks;
  sampleTick[i] = tick;
  for (let b = 0; b < buffers; b++) sampleLevel[i * buffers + b] = bufferCount[b];
  const onBelts = linePlaces * itemCount;
  for (let p = 0; p < onBelts; p++) sampleOnBelts[i * onBelts + p] = onPlaces[p];
  for (let item = 0; item < itemCount; item++) sampleHoldUp[i * itemCount + item] = <i32>holdUp[item];
  const first = i * machines * STATE_COUNT;
  for (let s = 0; s < machines * STATE_COUNT; s++) sampleStateTicks[first + s] = <i32>stateTicks[s];
  // The state that a machine is in is not booked yet.
  for (let m = 0; m < machines; m++) {
    const at = first + m * STATE_COUNT + machineState[m];
    sampleStateTicks[at] = sampleStateTicks[at] + tick + 1 - stateSince[m];
  }
}
