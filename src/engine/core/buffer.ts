/** Buffers at machines: first-in-first-out, each for one kind of item. */
import {
  bufferAwaited,
  bufferBorn,
  bufferCapacity,
  bufferCount,
  bufferHead,
  bufferLimit,
  bufferMoment,
  bufferRing,
  firstItem,
  fullAt,
  high,
  itemCount,
  low,
  machineBufferFor,
} from "./memory";
import { changeGroup } from "./peaks";
import { handBack, tick } from "./schedule";

export function enterInfeed(m: i32, item: i32, born: i32): bool {
  const buffer = machineBufferFor[m * itemCount + item];
  if (buffer < 0 || bufferCount[buffer] >= bufferLimit[buffer]) return false;
  put(buffer, born);
  return true;
}

/** Stores an item. */
export function put(buffer: i32, born: i32): void {
  const room = bufferCapacity[buffer];
  const count = bufferCount[buffer];
  let offset = bufferHead[buffer] + count;
  if (offset >= room) offset -= room;
  bufferBorn[bufferRing[buffer] + offset] = born;
  bufferCount[buffer] = count + 1;
  changeGroup(buffer, 1);
  bufferMoment[buffer] = bufferMoment[buffer] + tick;
  if (count + 1 > high[buffer]) high[buffer] = count + 1;
  if (firstItem[buffer] === -1) firstItem[buffer] = tick;
  if (count + 1 === room && fullAt[buffer] === -1) fullAt[buffer] = tick;
  if (bufferAwaited[buffer] && count + 1 >= bufferLimit[buffer]) handBack();
}

/** When the oldest item was fed or made. */
export function oldest(buffer: i32): i32 {
  return bufferBorn[bufferRing[buffer] + bufferHead[buffer]];
}

/** Takes the oldest item out and returns the tick at which it was fed or made. */
export function withdraw(buffer: i32): i32 {
  const born = oldest(buffer);
  const next = bufferHead[buffer] + 1;
  const count = bufferCount[buffer] - 1;
  bufferHead[buffer] = next === bufferCapacity[buffer] ? 0 : next;
  bufferCount[buffer] = count;
  changeGroup(buffer, -1);
  bufferMoment[buffer] = bufferMoment[buffer] - tick;
  if (count < low[buffer]) low[buffer] = count;
  return born;
}
