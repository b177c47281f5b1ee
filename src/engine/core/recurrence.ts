/**
 * Earlier states, and whether one of them is the present one again (../recurrence.ts). All that decides the future lies in
 * one stretch of memory; a kept state is a copy of it, so many bytes further on.
 *
 * States are compared as the future sees them: times count from the present, and all that is due by now is due alike.
 */

import { after } from "./belt";
import {
  beltNumber,
  belts,
  decidingAt,
  decidingBytes,
  dividerNumber,
  dividers,
  feedBatchItems,
  feedCount,
  machinePace,
  machines,
  paceDue,
  paceLag,
  paceWhole,
  sameAt,
  sameBytes,
} from "./memory";
import { Belt, Divider, Place } from "./records";
import { tick } from "./schedule";

/** When each of the two was kept. */
let firstTick: i32 = 0;
let secondTick: i32 = 0;

/**
 * Of each the pace that then had longest to go, and how long; 0 where nothing was under way. Whenever it has not as long to go,
 * the state is another, so that most ticks need no closer look.
 */
let firstPace: i32 = 0;
let firstToGo: i32 = 0;
let secondPace: i32 = 0;
let secondToGo: i32 = 0;

/** @param which of the two kept states is replaced by the present one */
export function keep(which: i32): void {
  memory.copy(decidingAt + shiftOf(which), decidingAt, decidingBytes);
  const pace = longestToGo();
  const toGo = max(paceDue[pace] - tick, 0);
  if (which === 0) {
    firstTick = tick;
    firstPace = pace;
    firstToGo = toGo;
  } else {
    secondTick = tick;
    secondPace = pace;
    secondToGo = toGo;
  }
}

/** Of those that never move on before they are due. (Where a vehicle comes, the feed's schedule begins anew.) */
function longestToGo(): i32 {
  let longest = feedCount;
  for (let f = 0; f < feedCount; f++) {
    const pace = feedBatchItems[f] === 0 ? f : feedCount + f;
    if (paceDue[pace] > paceDue[longest]) longest = pace;
  }
  for (let m = 0; m < machines; m++) if (paceDue[machinePace[m]] > paceDue[longest]) longest = machinePace[m];
  return longest;
}

/** The next tick after which a closer look may be worth while. */
export function nextLook(): i32 {
  return max(tick + 1, min(looksSame(firstPace, firstToGo), looksSame(secondPace, secondToGo)));
}

/** The earliest tick after the present one from which a pace may have as long to go: if not before it is due, then after. */
function looksSame(pace: i32, toGo: i32): i32 {
  const due = paceDue[pace];
  return toGo === 0 ? 0 : due - tick > toGo ? due - toGo : due;
}

/** @returns which kept state the present one is, or -1 */
export function whichIsSame(): i32 {
  if ((firstToGo === 0 || paceDue[firstPace] - tick === firstToGo) && isSame(0)) return 0;
  if ((secondToGo === 0 || paceDue[secondPace] - tick === secondToGo) && isSame(1)) return 1;
  return -1;
}

/** Whether the present state is the kept one again. */
export function isSame(which: i32): bool {
  const shift = shiftOf(which);
  const ticks = tick - (which === 0 ? firstTick : secondTick);
  return samePaces(shift, ticks) && sameCounts(shift) && sameDividers(shift) && sameBelts(shift, ticks);
}

function shiftOf(which: i32): usize {
  return decidingBytes * <usize>(which + 1);
}

/** What was kept of an array or a record. */
function kept<T>(part: T, shift: usize): T {
  return changetype<T>(changetype<usize>(part) + shift);
}

/** @param ticks since the state was kept */
function samePaces(shift: usize, ticks: i32): bool {
  for (let i = 0; i < 2 * feedCount; i++) if (!samePace(i, -paceWhole[i], shift, ticks)) return false;
  for (let m = 0; m < machines; m++) if (!samePace(machinePace[m], 0, shift, ticks)) return false;
  return true;
}

/** @param restartsFrom ticks to go at which a new schedule is sure to start: for a feed or vehicle only after an interval */
function samePace(i: i32, restartsFrom: i32, shift: usize, ticks: i32): bool {
  const lag = kept(paceLag, shift)[i];
  return sameTime(paceDue[i], paceLag[i], kept(paceDue, shift)[i] + ticks, lag, restartsFrom);
}

/** What is due by now starts a new schedule at its next turn, whatever its lag. */
function sameTime(due: i32, lag: i32, keptDue: i32, keptLag: i32, restartsFrom: i32): bool {
  if (due - tick <= restartsFrom && keptDue - tick <= restartsFrom) return true;
  return due === keptDue && lag === keptLag;
}

/** What has no times in it: turns and numbers of items. */
function sameCounts(shift: usize): bool {
  for (let at = sameAt; at < sameAt + sameBytes; at += 8) if (load<u64>(at) !== load<u64>(at + shift)) return false;
  return true;
}

function sameDividers(shift: usize): bool {
  for (let d = 0; d < dividers; d++) {
    const divider = dividerNumber(d);
    if (divider.turn !== kept<Divider>(divider, shift).turn) return false;
  }
  return true;
}

function sameBelts(shift: usize, ticks: i32): bool {
  for (let b = 0; b < belts; b++) {
    const belt = beltNumber(b);
    const then = kept<Belt>(belt, shift);
    if (belt.count !== then.count) return false;
    if (!sameTime(belt.entryDue, belt.entryLag, then.entryDue + ticks, then.entryLag, 0)) return false;
    if (!sameTime(belt.exitDue, belt.exitLag, then.exitDue + ticks, then.exitLag, 0)) return false;
    if (!sameItems(belt, then.head, shift, ticks)) return false;
  }
  return true;
}

/**
 * An item that may leave at the next tick at the latest is simply waiting.
 * @param keptHead where the head lay, not the copy
 */
function sameItems(belt: Belt, keptHead: Place, shift: usize, ticks: i32): bool {
  let here = belt.head;
  let there = keptHead;
  for (let n = belt.count; n > 0; n--) {
    const then = kept<Place>(there, shift);
    if (here.item !== then.item) return false;
    const wasReady = then.ready + ticks;
    if (here.ready !== wasReady && (here.ready - tick > 1 || wasReady - tick > 1)) return false;
    here = after(belt, here);
    there = after(belt, there);
  }
  return true;
}
