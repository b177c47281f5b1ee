/** Feeds: what they release, when, and the vehicles they unload. */
import { cutOrSupply, drawInterval, drawLateness, drawLoad, drawVehicle } from "./chance";
import { letsIn, offer } from "./hand-over";
import { changeHoldUp } from "./hold-up";
import {
  atGate,
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
  gateTicks,
  hasChance,
  isGated,
  isOut,
  itemLate,
  keepsVehicles,
  mostAtGate,
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
  vehicleHeldTicks,
  vehicleItems,
  vehicleLate,
  vehicleWaitTicks,
} from "./memory";
import { addInterval, advanceFeed, putOff, startSchedule } from "./pace";
import { Connection } from "./records";
import { waitsForSlot } from "./refusal";
import { NEVER, tick, wakeAll } from "./schedule";

/** The next feed step to come into force. */
export let nextStep: i32 = 0;

export function nextStepTick(): i32 {
  return nextStep < stepCount ? stepTick[nextStep] : NEVER;
}

/** @returns the next tick at which it may release an item */
export function turnFeed(f: i32): i32 {
  const connection = feedConnection[f];
  if (connection === null || feedPulled[f]) return NEVER;
  release(f, connection, connection);
  return nextRelease(f);
}

/** An item that is due and was not taken is offered in every tick, which counts the time that it waits. */
export function nextRelease(f: i32): i32 {
  if (hasChance && atGate[f] > 0) return tick + 1;
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
  if (hasChance) {
    cutOrSupply(f);
    if (isGated[f]) return admit(f, entry, connection);
  }
  if (paceParts[f] === 0 || paceDue[f] + itemLate[f] > tick || isOut[f]) return false;
  if (feedBatchItems[f] > 0 && vehicleItems[f] === 0) return false;
  const item = feedSequenceValues[feedSequenceStart[f] + feedTurn[f]];
  if (!letsIn(entry, item) || !offer(connection, item, tick, tick)) {
    noteHeld(f);
    return false;
  }
  advanceFeed(f, tick);
  send(f, item);
  return true;
}

/**
 * Where gaps are left to chance, items come as they will and wait at the gate for the belt's next slots, so that bunches cost
 * nothing of the stated mean. Only a line that is held up holds the feed: what is still to come is then put off, tick by tick.
 */
function admit(f: i32, entry: Connection, connection: Connection): bool {
  arrive(f);
  if (atGate[f] === 0) return false;
  const item = feedSequenceValues[feedSequenceStart[f] + feedTurn[f]];
  const isAdmitted = letsIn(entry, item) && offer(connection, item, tick, tick);
  if (isAdmitted) {
    atGate[f] = atGate[f] - 1;
    send(f, item);
  } else if (!letsIn(entry, item) || !waitsForSlot(connection, item, tick)) {
    noteHeld(f);
    if (!isOut[f]) putOff(f, 1);
  }
  gateTicks[f] = gateTicks[f] + atGate[f];
  if (atGate[f] > mostAtGate[f]) mostAtGate[f] = atGate[f];
  return isAdmitted;
}

/** Items whose time has come are at the gate, of a vehicle no more than it has. */
function arrive(f: i32): void {
  if (paceParts[f] === 0 || isOut[f]) return;
  while (paceDue[f] + itemLate[f] <= tick && (feedBatchItems[f] === 0 || atGate[f] < vehicleItems[f])) {
    atGate[f] = atGate[f] + 1;
    if (!drawInterval(f, paceDue[f])) addInterval(f);
    drawLateness(f);
  }
}

function noteHeld(f: i32): void {
  feedHeldTicks[f] = feedHeldTicks[f] + 1;
  if (keepsVehicles[f] && paceDue[feedCount + f] + vehicleLate[f] <= tick)
    vehicleHeldTicks[f] = vehicleHeldTicks[f] + 1;
}

function send(f: i32, item: i32): void {
  const next = feedTurn[f] + 1;
  feedTurn[f] = next === feedSequenceStart[f + 1] - feedSequenceStart[f] ? 0 : next;
  if (feedBatchItems[f] > 0) vehicleItems[f] = vehicleItems[f] - 1;
  fed[f] = fed[f] + 1;
  fedItems[item] = fedItems[item] + 1;
  changeHoldUp(item, 1);
}

/**
 * Before the sweep: a vehicle whose time has come takes the place of an empty one, and its first item is due one interval
 * later. One that was waiting is unloaded in the rhythm of the one before, so that rounding to ticks never adds up; if it
 * has waited less than an interval between vehicles, it does not put off those after it. Where chance has a part in the feed,
 * only what the line held up meanwhile does.
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
    vehicleItems[f] = hasChance ? drawLoad(f, feedBatchItems[f]) : feedBatchItems[f];
    nextVehicle(f, vehicle);
    if (!hasWaited) begin(f, tick);
    wakeAll();
  }
}

function nextVehicle(f: i32, vehicle: i32): void {
  if (!hasChance || !keepsVehicles[f]) {
    advanceFeed(vehicle, tick);
    return;
  }
  putOff(vehicle, vehicleHeldTicks[f]);
  vehicleHeldTicks[f] = 0;
  const from = paceDue[vehicle];
  addInterval(vehicle);
  drawVehicle(f, from);
}

/**
 * A step begins the feed's schedule anew, at a whole tick: its first item is due one interval later, and whatever part of an
 * item was under way is dropped.
 */
export function beginFeedSteps(): void {
  while (nextStepTick() < tick) {
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
