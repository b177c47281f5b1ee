/** Time for which more lies on the line than its limits allow. */
import type { Program } from "../../../src/network/program.ts";
import type { State } from "./state.ts";

/** At the end of a tick. */
export function countOverLimits(program: Program, state: State): void {
  const { limits } = program;
  if (limits.length === 0) return;
  const { totals, noted } = state;
  let isOver = false;
  for (let i = 0; i < limits.length; i++) {
    const { item, most, isPlant, place, buffers } = limits[i]!;
    let held = isPlant ? noted.holdUp[item]! : 0;
    if (place >= 0) held += state.onPlaces[place * program.itemCount + item]!;
    for (let b = 0; b < buffers.length; b++) held += state.bufferCount[buffers[b]!]!;
    if (held > most) {
      totals.overLimitTicks[i]! += 1;
      totals.overLimitItemTicks[i]! += held - most;
      isOver = true;
    }
    if (held > noted.limitPeak[i]!) {
      noted.limitPeak[i] = held;
      noted.limitPeakTick[i] = state.tick;
    }
  }
  if (isOver) totals.overAnyTicks[0]! += 1;
}
