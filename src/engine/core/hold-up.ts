/**
 * What the line holds, and how long machines and buffers are in their states. The sum of a level over ticks 1 … T is
 * (T + 1) · level − Σ change · tick, so that only changes are booked as they come, as moments (../over-time.ts works the sums
 * out); a machine's state is booked when it ends.
 */

import { STATE_COUNT } from "../states";
import {
  dwellLimit,
  dwellTicks,
  holdUp,
  holdUpMoment,
  lackSince,
  lackTicks,
  longestStay,
  machineState,
  overDwell,
  overDwellTicks,
  stateSince,
  stateTicks,
} from "./memory";
import { tick } from "./schedule";

/** Items on the line now, of all kinds; the most so far, and since when. */
export let holdUpInAll: i32 = 0;
export let peakHoldUp: i32 = 0;
export let peakTick: i32 = 0;

/** Items of a kind come onto the line (or leave it, where fewer than none). */
export function changeHoldUp(item: i32, by: i32): void {
  holdUp[item] = holdUp[item] + by;
  holdUpInAll += by;
  holdUpMoment[item] = holdUpMoment[item] + <f64>by * <f64>tick;
}

/** The fewest and the most since the last reset; a settled period resets them. */
export let lowHoldUp: i32 = 0;
export let highHoldUp: i32 = 0;

export function resetHoldUp(): void {
  lowHoldUp = holdUpInAll;
  highHoldUp = holdUpInAll;
}

/** At the end of a tick. */
export function noteExtremes(): void {
  if (holdUpInAll < lowHoldUp) lowHoldUp = holdUpInAll;
  if (holdUpInAll <= highHoldUp) return;
  highHoldUp = holdUpInAll;
  if (holdUpInAll <= peakHoldUp) return;
  peakHoldUp = holdUpInAll;
  peakTick = tick;
}

/** @param ticks between feed or make and now, when a machine or an outlet takes it */
export function countStay(item: i32, ticks: i32): void {
  if (ticks > dwellLimit[item]) {
    overDwell[item] = overDwell[item] + 1;
    overDwellTicks[item] = overDwellTicks[item] + (<f64>ticks - <f64>dwellLimit[item]);
  }
  if (ticks > longestStay[item]) longestStay[item] = ticks;
}

/** Of an item that has reached who it was for: a cycle that takes it, or an outlet where there are no machines. */
export function countDwell(item: i32, ticks: i32): void {
  dwellTicks[item] = dwellTicks[item] + ticks;
  if (ticks > longestDwell) longestDwell = ticks;
}

/** Of such an item. */
export let longestDwell: i32 = 0;

export function enterState(m: i32, now: i32): void {
  const before = machineState[m];
  if (now === before) return;
  const at = m * STATE_COUNT + before;
  stateTicks[at] = stateTicks[at] + (tick - stateSince[m]);
  machineState[m] = now;
  stateSince[m] = tick;
}

/** @param from the first tick for which it holds */
export function noteLack(buffer: i32, isLacking: bool, from: i32): void {
  const since = lackSince[buffer];
  if (isLacking === since >= 0) return;
  if (!isLacking) lackTicks[buffer] = lackTicks[buffer] + (from - since);
  lackSince[buffer] = isLacking ? from : -1;
}
