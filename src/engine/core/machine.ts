/** A machine's turn: products out, cycles, items in. */
import { BLOCKED, DOWN, HELD, RUNNING, STARVED } from "../states";
import { headLeavesAt, removeHead } from "./belt";
import { enterInfeed, oldest, put, withdraw } from "./buffer";
import { breakOrRepair, endRandomCycle, isDown, nextChange, startRandomCycle } from "./chance";
import { finished } from "./completions";
import { offer } from "./hand-over";
import { changeHoldUp, countDwell, countStay, enterState, noteLack } from "./hold-up";
import {
  bufferCapacity,
  bufferCount,
  bufferItem,
  bufferOutlets,
  bufferOutletsStart,
  bufferPerCycle,
  cycles,
  hasChance,
  left,
  machineBelts,
  machineBeltsStart,
  machineBusy,
  machineHeld,
  machineInfeed,
  machineOutfeed,
  machinePace,
  machineState,
  made,
  paceDue,
  taken,
} from "./memory";
import { advanceCycle, isDue } from "./pace";
import { opensAt } from "./refusal";
import { NEVER, tick } from "./schedule";

/** @returns the next tick at which it may be able to act */
export function turnMachine(m: i32): i32 {
  const firstInfeed = machineInfeed[m];
  const firstOutfeed = machineOutfeed[m];
  const end = machineInfeed[m + 1];
  const cycle = machinePace[m];
  if (hasChance) breakOrRepair(m);
  const isStopped = hasChance && isDown(m);
  let next = NEVER;

  for (let buffer = firstOutfeed; buffer < end; buffer++) {
    if (bufferCount[buffer] > 0) next = min(next, releaseProducts(buffer));
  }
  if (machineBusy[m] && isDue(cycle, tick) && !isStopped && productFits(firstOutfeed, end)) {
    finishCycle(m, firstOutfeed, end);
    if (hasChance) endRandomCycle(m);
    // What it made goes at once where it is handed over directly, and is offered to belts in its next turn.
    for (let buffer = firstOutfeed; buffer < end; buffer++) {
      if (bufferCount[buffer] > 0) handOverProducts(buffer);
      if (bufferCount[buffer] > 0) next = tick + 1;
    }
  }
  if (!machineBusy[m] && !machineHeld[m] && !isStopped && cycleIsStocked(firstInfeed, firstOutfeed)) {
    takeForCycle(firstInfeed, firstOutfeed);
    machineBusy[m] = 1;
    if (hasChance) startRandomCycle(m);
    else advanceCycle(cycle, tick);
  }
  const now = stateOf(m, cycle);
  // Before the belts are taken from: it starves in this tick, even if they bring what it lacks.
  if (now !== RUNNING || machineState[m] !== RUNNING) {
    noteWaiting(m, now, tick);
    enterState(m, now);
  }
  next = min(next, takeFromBelts(m));
  if (hasChance) next = min(next, nextChange(m));
  if (now === RUNNING) return min(next, paceDue[cycle]);
  if (now === STARVED) {
    noteWaiting(m, now, tick + 1);
    if (cycleIsStocked(firstInfeed, firstOutfeed)) return tick + 1;
  }
  return next;
}

function stateOf(m: i32, cycle: i32): i32 {
  if (hasChance && isDown(m)) return DOWN;
  if (!machineBusy[m]) return machineHeld[m] ? HELD : STARVED;
  return isDue(cycle, tick) ? BLOCKED : RUNNING;
}

/** Which buffers a machine that starves or is blocked waits for. @param from the first tick for which it does */
function noteWaiting(m: i32, now: i32, from: i32): void {
  for (let buffer = machineInfeed[m]; buffer < machineOutfeed[m]; buffer++) {
    noteLack(buffer, now === STARVED && bufferCount[buffer] < bufferPerCycle[buffer], from);
  }
  for (let buffer = machineOutfeed[m]; buffer < machineInfeed[m + 1]; buffer++) {
    const isFull = bufferCount[buffer] + bufferPerCycle[buffer] > bufferCapacity[buffer];
    noteLack(buffer, now === BLOCKED && isFull, from);
  }
}

/** @returns the next tick at which what is left may go */
function releaseProducts(buffer: i32): i32 {
  const item = bufferItem[buffer];
  let next = NEVER;
  for (let i = bufferOutletsStart[buffer]; i < bufferOutletsStart[buffer + 1]; i++) {
    while (bufferCount[buffer] > 0) {
      if (!offer(bufferOutlets[i], item, oldest(buffer), tick)) {
        next = min(next, opensAt(bufferOutlets[i], item, tick));
        break;
      }
      withdraw(buffer);
    }
  }
  return next;
}

/** To what takes items without a belt between, up to the first belt, which has its turn next. */
function handOverProducts(buffer: i32): void {
  const item = bufferItem[buffer];
  for (let i = bufferOutletsStart[buffer]; i < bufferOutletsStart[buffer + 1]; i++) {
    const connection = bufferOutlets[i];
    if (connection.belt !== null) break;
    while (bufferCount[buffer] > 0 && offer(connection, item, oldest(buffer), tick)) withdraw(buffer);
  }
}

function productFits(first: i32, end: i32): bool {
  for (let buffer = first; buffer < end; buffer++) {
    if (bufferCount[buffer] + bufferPerCycle[buffer] > bufferCapacity[buffer]) return false;
  }
  return true;
}

function finishCycle(m: i32, first: i32, end: i32): void {
  for (let buffer = first; buffer < end; buffer++) {
    const count = bufferPerCycle[buffer];
    const item = bufferItem[buffer];
    made[item] = made[item] + count;
    if (bufferOutletsStart[buffer] === bufferOutletsStart[buffer + 1]) {
      left[item] = left[item] + count;
      continue;
    }
    for (let n = 0; n < count; n++) put(buffer, tick);
    changeHoldUp(item, count);
  }
  machineBusy[m] = 0;
  cycles[m] = cycles[m] + 1;
  finished(m);
}

function cycleIsStocked(first: i32, end: i32): bool {
  for (let buffer = first; buffer < end; buffer++) if (bufferCount[buffer] < bufferPerCycle[buffer]) return false;
  return true;
}

function takeForCycle(first: i32, end: i32): void {
  for (let buffer = first; buffer < end; buffer++) {
    const count = bufferPerCycle[buffer];
    const item = bufferItem[buffer];
    for (let n = 0; n < count; n++) {
      const dwell = tick - withdraw(buffer);
      countDwell(item, dwell);
      countStay(item, dwell);
    }
    taken[item] = taken[item] + count;
    changeHoldUp(item, -count);
  }
}

/** @returns the next tick at which an item may come; one that finds no room waits for the next cycle */
function takeFromBelts(m: i32): i32 {
  let next = NEVER;
  for (let i = machineBeltsStart[m]; i < machineBeltsStart[m + 1]; i++) {
    const belt = machineBelts[i];
    if (headLeavesAt(belt) <= tick) {
      if (!enterInfeed(m, belt.head.item, belt.head.born)) continue;
      removeHead(belt, tick);
    }
    next = min(next, headLeavesAt(belt));
  }
  return next;
}
