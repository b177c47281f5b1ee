/** Feeds: what they release, when, and the vehicles they unload. */
import { cutOrSupply, drawInterval, drawLateness, drawLoad, drawVehicle } from "./chance";
import { letsIn, offer } from "./hand-over";
import { changeHeld } from "./held";
import {
  fed,
  fedItems,
  feedBatchItems,
  feedChangesAt,
  feedConnection,
  feedCount,
  feedHeldTicks,
  feedPulled,
  feedSequenceStart,
  feedSequenceValues,
  feedTurn,
  hasChance,
  isOut,
  itemLate,
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
  vehicleLate,
  vehicleWaitTicks,
} from "./memory";
import { advanceFeed, heldFrom, startSchedule } from "./pace";
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
  if (!hasChance) return max(paceDue[f], tick + 1);
  return isOut[f] ? feedChangesAt[f] : min(feedChangesAt[f], max(paceDue[f] + itemLate[f], tick + 1));
}

/** @param entry a connection without a belt by which the merge takes from the feed */
export function pullFeed(f: i32, entry: Connection, outlet: Connection): bool {
  const isReleased = release(f, entry, outlet);
  if (isReleased) entry.passed += 1;
  return isReleased;
}

/** Paces of feeds come first, so a feed's index is its pace's. */
function release(f: i32, entry: Connection, connection: Connection): bool {
  if (hasChance) cutOrSupply(f);
  if (paceParts[f] === 0 || paceDue[f] + itemLate[f] > tick || isOut[f]) return false;
  const isBatch = feedBatchItems[f] > 0;
  if (isBatch && vehicleItems[f] === 0) return false;
  const first = feedSequenceStart[f];
  const item = feedSequenceValues[first + feedTurn[f]];
  if (!letsIn(entry, item) || !offer(connection, item, tick, tick)) {
    feedHeldTicks[f] = feedHeldTicks[f] + 1;
    return false;
  }
  moveOn(f, tick - itemLate[f]);
  const next = feedTurn[f] + 1;
  feedTurn[f] = next === feedSequenceStart[f + 1] - first ? 0 : next;
  if (isBatch) vehicleItems[f] = vehicleItems[f] - 1;
  fed[f] = fed[f] + 1;
  fedItems[item] = fedItems[item] + 1;
  changeHeld(item, 1);
  return true;
}

/** The next item is due an interval later. @param now when it went, less what it was late by itself */
function moveOn(f: i32, now: i32): void {
  const from = heldFrom(f, now);
  if (hasChance) drawLateness(f);
  if (hasChance && drawInterval(f, from)) return;
  advanceFeed(f, now);
}

/**
 * Before the sweep: a vehicle whose time has come takes the place of an empty one, and its first item is due one interval
 * later. One that was waiting is unloaded in the rhythm of the one before, so that rounding to ticks never adds up; if it
 * has waited less than an interval between vehicles, it does not put off those after it.
 */
export function turnVehicles(): void {
  for (let f = 0; f < feedCount; f++) {
    const vehicle = feedCount + f;
    const due = paceDue[vehicle] + vehicleLate[f];
    if (feedBatchItems[f] === 0 || due > tick) continue;
    const hasWaited = due < tick;
    if (vehicleItems[f] > 0) {
      if (hasWaited) vehicleWaitTicks[f] = vehicleWaitTicks[f] + 1;
      continue;
    }
    const from = heldFrom(vehicle, tick - vehicleLate[f]);
    advanceFeed(vehicle, tick - vehicleLate[f]);
    if (hasChance) drawVehicle(f, from);
    vehicleItems[f] = hasChance ? drawLoad(f, feedBatchItems[f]) : feedBatchItems[f];
    if (!hasWaited) begin(f, tick);
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
    begin(f, stepTick[nextStep]);
    nextStep += 1;
    wakeAll();
  }
}

/** The feed's schedule begins anew: its first item is due one interval later. */
function begin(f: i32, from: i32): void {
  // Outages that are over put off what was to come before, not what comes from now on.
  if (hasChance) cutOrSupply(f);
  if (hasChance && drawInterval(f, from)) return;
  startSchedule(f, from);
}
