/** Buffers at machines: first-in-first-out, each for one kind of item. */
import type { Program } from "../../../src/network/program.ts";
import type { State } from "./state.ts";

export function enterInfeed(program: Program, state: State, m: number, item: number, born: number): boolean {
  const buffer = program.machine.bufferFor[m * program.itemCount + item]!;
  if (buffer < 0 || state.bufferCount[buffer]! >= state.bufferLimit[buffer]!) return false;
  store(program, state, buffer, born);
  return true;
}

export function store(program: Program, state: State, buffer: number, born: number): void {
  const room = program.buffer.capacity[buffer]!;
  const count = state.bufferCount[buffer]!;
  let offset = state.bufferHead[buffer]! + count;
  if (offset >= room) offset -= room;
  state.bufferBorn[program.buffer.ring[buffer]! + offset] = born;
  state.bufferCount[buffer] = count + 1;
  const { firstItem, fullAt, high } = state.noted;
  if (count + 1 > high[buffer]!) high[buffer] = count + 1;
  if (firstItem[buffer] === -1) firstItem[buffer] = state.tick;
  if (count + 1 === room && fullAt[buffer] === -1) fullAt[buffer] = state.tick;
}

/** Takes the oldest item out and returns the tick at which it was fed or made. */
export function withdraw(program: Program, state: State, buffer: number): number {
  const head = state.bufferHead[buffer]!;
  const count = state.bufferCount[buffer]! - 1;
  state.bufferHead[buffer] = head + 1 === program.buffer.capacity[buffer] ? 0 : head + 1;
  state.bufferCount[buffer] = count;
  if (count < state.noted.low[buffer]!) state.noted.low[buffer] = count;
  return state.bufferBorn[program.buffer.ring[buffer]! + head]!;
}
