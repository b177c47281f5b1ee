/** A machine's turn: products out, cycles, items in. */
import type { Program } from "../network/program.ts";
import { readyHead, removeHead } from "./belt.ts";
import { enterInfeed, store, withdraw } from "./buffer.ts";
import { NEVER } from "./calendar.ts";
import { countStay, offer } from "./hand-over.ts";
import { changeHeld, enterState, noteLack } from "./over-time.ts";
import { advanceCycle, isDue } from "./pace.ts";
import { opensAt } from "./refusal.ts";
import { headLeavesAt } from "./schedule.ts";
import { BLOCKED, HELD, RUNNING, STARVED, type State } from "./state.ts";

/** @returns the next tick at which it may be able to act */
export function turnMachine(program: Program, state: State, m: number): number {
  const { infeed, outfeed, pace } = program.machine;
  const firstInfeed = infeed[m]!;
  const firstOutfeed = outfeed[m]!;
  const end = infeed[m + 1]!;
  const cycle = pace[m]!;
  let next = NEVER;

  for (let buffer = firstOutfeed; buffer < end; buffer++) {
    if (state.bufferCount[buffer]! > 0) next = Math.min(next, releaseProducts(program, state, buffer));
  }
  if (state.machineBusy[m] === 1 && isDue(state, cycle) && productFits(program, state, firstOutfeed, end)) {
    finishCycle(program, state, m, firstOutfeed, end);
    // What it made is offered in its next turn.
    for (let buffer = firstOutfeed; buffer < end; buffer++) if (state.bufferCount[buffer]! > 0) next = state.tick + 1;
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
  const idle = state.machineHeld[m] === 1 ? HELD : STARVED;
  const now = state.machineBusy[m] === 0 ? idle : isDue(state, cycle) ? BLOCKED : RUNNING;
  // Before the belts are taken from: it starves in this tick, even if they bring what it lacks.
  if (now !== RUNNING || state.machineState[m] !== RUNNING) {
    noteWaiting(program, state, m, now, state.tick);
    enterState(state, m, now);
  }
  next = Math.min(next, takeFromBelts(program, state, m));
  if (now === RUNNING) return Math.min(next, state.paceDue[cycle]!);
  if (now === STARVED) {
    noteWaiting(program, state, m, now, state.tick + 1);
    if (cycleIsStocked(program, state, firstInfeed, firstOutfeed)) return state.tick + 1;
  }
  return next;
}

/** Which buffers a machine that starves or is blocked waits for. @param from the first tick for which it does */
function noteWaiting(program: Program, state: State, m: number, now: number, from: number): void {
  const { infeed, outfeed } = program.machine;
  const { perCycle, capacity } = program.buffer;
  for (let buffer = infeed[m]!; buffer < outfeed[m]!; buffer++) {
    noteLack(state, buffer, now === STARVED && state.bufferCount[buffer]! < perCycle[buffer]!, from);
  }
  for (let buffer = outfeed[m]!; buffer < infeed[m + 1]!; buffer++) {
    const isFull = state.bufferCount[buffer]! + perCycle[buffer]! > capacity[buffer]!;
    noteLack(state, buffer, now === BLOCKED && isFull, from);
  }
}

/** @returns the next tick at which what is left may go */
function releaseProducts(program: Program, state: State, buffer: number): number {
  const { start, values } = program.buffer.outlets;
  const item = program.buffer.item[buffer]!;
  let next = NEVER;
  for (let i = start[buffer]!; i < start[buffer + 1]!; i++) {
    while (state.bufferCount[buffer]! > 0) {
      const born = state.bufferBorn[program.buffer.ring[buffer]! + state.bufferHead[buffer]!]!;
      if (!offer(program, state, values[i]!, item, born)) {
        next = Math.min(next, opensAt(program, state, values[i]!, item));
        break;
      }
      withdraw(program, state, buffer);
    }
  }
  return next;
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
    changeHeld(state, kind, count);
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
      if (dwell > state.marks.longestDwell) state.marks.longestDwell = dwell;
    }
    state.totals.taken[kind]! += count;
    changeHeld(state, kind, -count);
  }
}

/** @returns the next tick at which an item may come; one that finds no room waits for the next cycle */
function takeFromBelts(program: Program, state: State, m: number): number {
  const { start, values } = program.machine.inletBelts;
  let next = NEVER;
  for (let i = start[m]!; i < start[m + 1]!; i++) {
    const b = values[i]!;
    const place = readyHead(program, state, b);
    if (place >= 0) {
      if (!enterInfeed(program, state, m, state.placeItem[place]!, state.placeBorn[place]!)) continue;
      removeHead(program, state, b);
    }
    next = Math.min(next, headLeavesAt(program, state, b));
  }
  return next;
}
