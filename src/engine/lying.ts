/** What lies and stands on the line, and is under way in its machines, at one moment. */
import type { Program } from "../network/program.ts";
import { beltField } from "./records.ts";
import type { State } from "./state.ts";

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

export function beltHeads({ belt }: Program, state: State): BeltHeads {
  const [heads, counts] = [beltField(state.belts, "head"), beltField(state.belts, "count")];
  const head = (b: number, of: Int32Array | Uint8Array): number =>
    counts[b] === 0 ? -1 : of[belt.ring[b]! + heads[b]!]!;
  return {
    count: counts,
    item: belt.ring.map((_, b) => head(b, state.placeItem)),
    readyTick: belt.ring.map((_, b) => head(b, state.placeReady)),
  };
}

export function lyingNow(program: Program, state: State): Lying {
  const { belt, buffer, itemCount, dwellLimit } = program;
  const over = new Float64Array(itemCount);
  const longestTicks = new Float64Array(itemCount);
  const see = (item: number, born: number): void => {
    const ticks = state.tick - born;
    if (ticks > dwellLimit[item]!) over[item]! += 1;
    longestTicks[item] = Math.max(longestTicks[item]!, ticks);
  };
  const [heads, counts] = [beltField(state.belts, "head"), beltField(state.belts, "count")];
  for (let b = 0; b < belt.count; b++) {
    for (let n = 0; n < counts[b]!; n++) {
      const place = belt.ring[b]! + ((heads[b]! + n) % belt.capacity[b]!);
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

/** By machine: how much of a cycle under way is done, ticks. */
export function openCycleTicks({ machine, pace }: Program, state: State): Float64Array {
  return Float64Array.from(machine.pace, (cycle, m) => {
    if (state.machineBusy[m] === 0) return 0;
    const toGo = state.paceDue[cycle]! - state.paceLag[cycle]! / pace.parts[cycle]! - state.tick;
    return pace.whole[cycle]! + pace.rest[cycle]! / pace.parts[cycle]! - Math.max(0, toGo);
  });
}
