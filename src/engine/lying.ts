/** What lies and stands on the line, and is under way in its machines, at one moment. */
import type { Program } from "../network/program.ts";
import { inBuffer, onBelt } from "./belt-items.ts";
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

export function beltHeads(program: Program, state: State): BeltHeads {
  const heads = {
    count: beltField(state.belts, "count"),
    item: new Int32Array(program.belt.count).fill(-1),
    readyTick: new Int32Array(program.belt.count).fill(-1),
  };
  for (let b = program.belt.count - 1; b >= 0; b--) {
    let isHead = true;
    onBelt(program, state, b, (item, ready) => {
      if (isHead) [heads.item[b], heads.readyTick[b]] = [item, ready];
      isHead = false;
    });
  }
  return heads;
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
  for (let b = 0; b < belt.count; b++) onBelt(program, state, b, (item, _, born) => see(item, born));
  for (let b = 0; b < buffer.count; b++) inBuffer(program, state, b, (born) => see(buffer.item[b]!, born));
  return { over, longestTicks };
}

/** By machine: how much of a cycle under way is done, ticks; 0 where chance decides how long it takes. */
export function openCycleTicks({ machine, pace, random }: Program, state: State): Float64Array {
  return Float64Array.from(machine.pace, (cycle, m) => {
    if (state.machineBusy[m] === 0 || (random?.machine.cycle[m] ?? -1) >= 0) return 0;
    const toGo = state.paceDue[cycle]! - state.paceLag[cycle]! / pace.parts[cycle]! - state.tick;
    return pace.whole[cycle]! + pace.rest[cycle]! / pace.parts[cycle]! - Math.max(0, toGo);
  });
}
