/** A machine's turn: products out, cycles, items in. */
import type { Program } from "../../../src/network/program.ts";
import { readyHead, removeHead } from "./belt.ts";
import { enterInfeed, store, withdraw } from "./buffer.ts";
import { countStay, offer } from "./hand-over.ts";
import { advanceCycle, isDue } from "./pace.ts";
import { BLOCKED, HELD, RUNNING, STARVED, STATE_COUNT, type State } from "./state.ts";

export function turnMachine(program: Program, state: State, m: number): void {
  const { infeed, outfeed, pace } = program.machine;
  const firstInfeed = infeed[m]!;
  const firstOutfeed = outfeed[m]!;
  const end = infeed[m + 1]!;
  const cycle = pace[m]!;

  for (let buffer = firstOutfeed; buffer < end; buffer++) releaseProducts(program, state, buffer, false);
  if (state.machineBusy[m] === 1 && isDue(state, cycle) && productFits(program, state, firstOutfeed, end)) {
    finishCycle(program, state, m, firstOutfeed, end);
    for (let buffer = firstOutfeed; buffer < end; buffer++) releaseProducts(program, state, buffer, true);
  }
  if (
    state.machineBusy[m] === 0 &&
    state.machineHeld[m] === 0 &&
    cycleIsStocked(program, state, firstInfeed, firstOutfeed)
  ) {
    takeForCycle(program, state, firstInfeed, firstOutfeed);
    state.machineBusy[m] = 1;
    advanceCycle(state, cycle);
  }
  // Before the belts are taken from: it starves in this tick, even if they bring what it lacks.
  if (state.machineBusy[m] === 0 && state.machineHeld[m] === 0) countLacking(program, state, firstInfeed, firstOutfeed);
  takeFromBelts(program, state, m);

  const idle = state.machineHeld[m] === 1 ? HELD : STARVED;
  const now = state.machineBusy[m] === 0 ? idle : isDue(state, cycle) ? BLOCKED : RUNNING;
  state.totals.stateTicks[m * STATE_COUNT + now]! += 1;
  if (now === BLOCKED) countFull(program, state, firstOutfeed, end);
}

function countLacking({ buffer: { perCycle } }: Program, state: State, first: number, end: number): void {
  for (let buffer = first; buffer < end; buffer++) {
    if (state.bufferCount[buffer]! < perCycle[buffer]!) state.totals.lackTicks[buffer]! += 1;
  }
}

function countFull({ buffer: { perCycle, capacity } }: Program, state: State, first: number, end: number): void {
  for (let buffer = first; buffer < end; buffer++) {
    if (state.bufferCount[buffer]! + perCycle[buffer]! > capacity[buffer]!) state.totals.lackTicks[buffer]! += 1;
  }
}

/** @param onlyDirectly to what takes items without a belt between */
function releaseProducts(program: Program, state: State, buffer: number, onlyDirectly: boolean): void {
  const { start, values } = program.buffer.outlets;
  const item = program.buffer.item[buffer]!;
  for (let i = start[buffer]!; i < start[buffer + 1]!; i++) {
    if (onlyDirectly && program.connection.belt[values[i]!]! >= 0) break;
    while (state.bufferCount[buffer]! > 0) {
      const born = state.bufferBorn[program.buffer.ring[buffer]! + state.bufferHead[buffer]!]!;
      if (!offer(program, state, values[i]!, item, born)) break;
      withdraw(program, state, buffer);
    }
  }
}

function productFits(program: Program, state: State, first: number, end: number): boolean {
  const { capacity, perCycle } = program.buffer;
  for (let buffer = first; buffer < end; buffer++) {
    if (state.bufferCount[buffer]! + perCycle[buffer]! > capacity[buffer]!) return false;
  }
  return true;
}

function finishCycle(program: Program, state: State, m: number, first: number, end: number): void {
  const { perCycle, item, outlets } = program.buffer;
  for (let buffer = first; buffer < end; buffer++) {
    const count = perCycle[buffer]!;
    const kind = item[buffer]!;
    state.totals.made[kind]! += count;
    if (outlets.start[buffer] === outlets.start[buffer + 1]) {
      state.totals.left[kind]! += count;
      continue;
    }
    for (let n = 0; n < count; n++) store(program, state, buffer, state.tick);
    state.noted.holdUp[kind]! += count;
  }
  state.machineBusy[m] = 0;
  state.totals.cycles[m]! += 1;
  const { completions } = state;
  completions.machine[completions.count] = m;
  completions.tick[completions.count] = state.tick;
  completions.count++;
}

function cycleIsStocked(program: Program, state: State, first: number, end: number): boolean {
  for (let buffer = first; buffer < end; buffer++) {
    if (state.bufferCount[buffer]! < program.buffer.perCycle[buffer]!) return false;
  }
  return true;
}

function takeForCycle(program: Program, state: State, first: number, end: number): void {
  const { perCycle, item } = program.buffer;
  for (let buffer = first; buffer < end; buffer++) {
    const count = perCycle[buffer]!;
    const kind = item[buffer]!;
    for (let n = 0; n < count; n++) {
      const dwell = state.tick - withdraw(program, state, buffer);
      state.totals.dwellTicks[kind]! += dwell;
      countStay(program, state, kind, dwell);
      if (dwell > state.noted.longestDwell) state.noted.longestDwell = dwell;
    }
    state.totals.taken[kind]! += count;
    state.noted.holdUp[kind]! -= count;
  }
}

function takeFromBelts(program: Program, state: State, m: number): void {
  const { start, values } = program.machine.inletBelts;
  for (let i = start[m]!; i < start[m + 1]!; i++) {
    const b = values[i]!;
    const place = readyHead(program, state, b);
    if (place >= 0 && enterInfeed(program, state, m, state.placeItem[place]!, state.placeBorn[place]!)) {
      removeHead(program, state, b);
    }
  }
}
