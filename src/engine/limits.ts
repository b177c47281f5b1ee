/** Time for which more lies on the line than its limits allow. */
import type { Program } from "../network/program.ts";
import type { State } from "./state.ts";

/** At the end of a tick. */
export function countOverLimits(program: Program, state: State): void {
  const { limits } = program;
  for (let i = 0; i < limits.length; i++) {
    const { item, most, isPlant, belts, buffers } = limits[i]!;
    const held = isPlant ? state.marks.held[item]! : countAt(program, state, item, belts, buffers);
    if (held > most) state.totals.overLimitTicks[i]! += 1;
    if (held > state.marks.limitPeak[i]!) {
      state.marks.limitPeak[i] = held;
      state.marks.limitPeakTick[i] = state.tick;
    }
  }
}

function countAt(program: Program, state: State, item: number, belts: Int32Array, buffers: Int32Array): number {
  let held = 0;
  for (let i = 0; i < belts.length; i++) held += countOnBelt(program, state, belts[i]!, item);
  for (let i = 0; i < buffers.length; i++) held += state.bufferCount[buffers[i]!]!;
  return held;
}

export function countOnBelt({ belt }: Program, state: State, b: number, item: number): number {
  const ring = belt.ring[b]!;
  const capacity = belt.capacity[b]!;
  let held = 0;
  let offset = state.beltHead[b]!;
  for (let n = state.beltCount[b]!; n > 0; n--) {
    if (state.placeItem[ring + offset] === item) held++;
    offset = offset + 1 === capacity ? 0 : offset + 1;
  }
  return held;
}
