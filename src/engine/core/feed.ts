/** Feeds: what they release, when, and the vehicles they unload. */
import { letsIn, offer } from "./hand-over";
import { changeHeld } from "./held";
import {
  fed,
  fedItems,
  feedBatchItems,
  feedConnection,
  feedCount,
  feedHeldTicks,
  feedPulled,
  feedSequenceStart,
  feedSequenceValues,
  feedTurn,
  paceDue,
  paceParts,
  paceRest,
  paceWhole,
  stepCount,
  stepFeed,
  stepParts,
  stepRest,
  stepTick,
  stepWhole,
  vehicleItems,
  vehicleWaitTicks,
} from "./memory";
import { advanceFeed, isDue, startSchedule } from "./pace";
import { Connection } from "./records";
import { NEVER, tick, wakeAll } from "./schedule";

/** The next feed step to come into force. */
export let nextStep: i32 = 0;

/** @returns the next tick at which it may release an item */
export function turnFeed(f: i32): i32 {
  const connection = feedConnection[f];
  if (connection === null || feedPulled[f]) return NEVER;
  release(f, connection, connection);
  return nextRelease(f);
}

/** An item that is due and was not taken is offered in every tick, which counts the time that it waits. */
export function nextRelease(f: i32): i32 {
  if (paceParts[f] === 0 || (feedBatchItems[f] > 0 && vehicleItems[f] === 0)) return NEVER;
  return max(paceDue[f], tick + 1);
}

/** @param entry a connection without a belt by which the merge takes from the feed */
export function pullFeed(f: i32, entry: Connection, outlet: Connection): bool {
  const isReleased = release(f, entry, outlet);
  if (isReleased) entry.passed += 1;
  return isReleased;
}

/** Paces of feeds come first, so a feed's index is its pace's. */
function release(f: i32, entry: Connection, connection: Connection): bool {
  if (paceParts[f] === 0 || !isDue(f, tick)) return false;
  const isBatch = feedBatchItems[f] > 0;
  if (isBatch && vehicleItems[f] === 0) return false;
  const first = feedSequenceStart[f];
  const item = feedSequenceValues[first + feedTurn[f]];
  if (!letsIn(entry, item) || !offer(connection, item, tick, tick)) {
    feedHeldTicks[f] = feedHeldTicks[f] + 1;
    return false;
  }
  advanceFeed(f, tick);
  const next = feedTurn[f] + 1;
  feedTurn[f] = next === feedSequenceStart[f + 1] - first ? 0 : next;
  if (isBatch) vehicleItems[f] = vehicleItems[f] - 1;
  fed[f] = fed[f] + 1;
  fedItems[item] = fedItems[item] + 1;
  changeHeld(item, 1);
  return true;
}

/**
 * Before the sweep: a vehicle whose time has come takes the place of an empty one, and its first item is due one interval
 * later. One that was waiting is unloaded in the rhythm of the one before, so that rounding to ticks never adds up; if it
 * has waited less than an interval between vehicles, it does not put off those after it.
 */
export function turnVehicles(): void {
  for (let f = 0; f < feedCount; f++) {
    const vehicle = feedCount + f;
    if (feedBatchItems[f] === 0 || !isDue(vehicle, tick)) continue;
    const hasWaited = paceDue[vehicle] < tick;
    if (vehicleItems[f] > 0) {
      if (hasWaited) vehicleWaitTicks[f] = vehicleWaitTicks[f] + 1;
      continue;
    }
    advanceFeed(vehicle, tick);
    vehicleItems[f] = feedBatchItems[f];
    if (!hasWaited) startSchedule(f, tick);
    wakeAll();
  }
}

/**
 * A step begins the feed's schedule anew, at a whole tick: its first item is due one interval later, and whatever part of an
 * item was under way is dropped.
 */
export function beginFeedSteps(): void {
  while (nextStep < stepCount && stepTick[nextStep] < tick) {
    const f = stepFeed[nextStep];
    paceWhole[f] = stepWhole[nextStep];
    paceRest[f] = stepRest[nextStep];
    paceParts[f] = stepParts[nextStep];
    startSchedule(f, stepTick[nextStep]);
    nextStep += 1;
    wakeAll();
  }
}
