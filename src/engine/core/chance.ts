/**
 * What is left to chance: breakdowns and short stops of machines, how long their cycles take, gaps between items and vehicles,
 * outages. Draws come from the host, in whole numbers, from a stream for each thing drawn (../random/); -1 stands for none.
 * Changes are brought up to date in the turn of their element, which is entered for each.
 */
import {
  breakdowns,
  brokenSince,
  changesAt,
  cycleDebt,
  cycleStream,
  cyclesToStop,
  drawAhead,
  draws,
  drawsUsed,
  feedChangesAt,
  feedCount,
  feedOutSince,
  intervalStream,
  isBroken,
  isOut,
  itemLate,
  jitterStream,
  machineBusy,
  machinePace,
  machines,
  microStops,
  outageStream,
  outages,
  paceDue,
  paceLag,
  paceParts,
  paceRest,
  paceWhole,
  repairCountsClock,
  repairStream,
  runningSince,
  stopCyclesStream,
  stoppedUntil,
  stopStream,
  supplyStream,
  upLeft,
  upTimeStream,
  vehicleIntervalStream,
  vehicleItemsStream,
  vehicleJitterStream,
  vehicleLate,
} from "./memory";
import { advanceCycle } from "./pace";
import { NEVER, tick } from "./schedule";

/** The host fills up a stream's draws. */
declare function refill(stream: i32): void;
/** A draw of a stream of shares, of so many ticks. */
declare function drawOf(stream: i32, ticks: f64): i32;

/** The next draw of a stream. */
function draw(stream: i32): i32 {
  let used = drawsUsed[stream];
  if (used === drawAhead) {
    refill(stream);
    used = 0;
  }
  drawsUsed[stream] = used + 1;
  return draws[stream * drawAhead + used];
}

/** Before the first tick: all machines are up, all feeds supplied. */
export function startChance(): void {
  for (let m = 0; m < machines; m++) {
    changesAt[m] = NEVER;
    if (upTimeStream[m] >= 0) {
      upLeft[m] = drawUpTime(m);
      if (repairCountsClock[m]) changesAt[m] = 1 + upLeft[m];
    }
    if (stopStream[m] >= 0) cyclesToStop[m] = draw(stopCyclesStream[m]);
  }
  for (let f = 0; f < feedCount; f++) {
    feedChangesAt[f] = supplyStream[f] >= 0 ? 1 + max(1, draw(supplyStream[f])) : NEVER;
    drawLateness(f);
    if (vehicleJitterStream[f] >= 0) vehicleLate[f] = draw(vehicleJitterStream[f]);
  }
}

/** At least a tick, so that time goes on. */
function drawUpTime(m: i32): i32 {
  return max(1, draw(upTimeStream[m]));
}

/** Breakdowns and repairs whose time has come. */
export function breakOrRepair(m: i32): void {
  while (changesAt[m] <= tick) {
    const at = changesAt[m];
    if (isBroken[m]) repair(m, at);
    else {
      isBroken[m] = 1;
      breakdowns[m] = breakdowns[m] + 1;
      brokenSince[m] = at;
      changesAt[m] = at + draw(repairStream[m]);
    }
  }
}

/** A cycle under way goes on where it stopped. */
function repair(m: i32, at: i32): void {
  isBroken[m] = 0;
  const lost = at - brokenSince[m];
  if (machineBusy[m]) paceDue[machinePace[m]] = paceDue[machinePace[m]] + lost;
  if (stoppedUntil[m] > brokenSince[m]) stoppedUntil[m] = stoppedUntil[m] + lost;
  upLeft[m] = drawUpTime(m);
  changesAt[m] = at + upLeft[m];
  if (!repairCountsClock[m]) run(m, at);
}

/** Running time passes from `at` on, if there is a cycle to run. */
function run(m: i32, at: i32): void {
  const from = max(at, stoppedUntil[m]);
  runningSince[m] = from;
  const due = paceDue[machinePace[m]];
  // Once the cycle is due, blocked or not, time no longer counts: what is left goes over to the next cycle.
  changesAt[m] = machineBusy[m] && due > from && from + upLeft[m] <= due ? from + upLeft[m] : NEVER;
}

/** Whether it is broken down or stopped for a moment. */
export function isDown(m: i32): bool {
  return isBroken[m] !== 0 || stoppedUntil[m] > tick;
}

/** The next tick at which it breaks down, is repaired or goes on. */
export function nextChange(m: i32): i32 {
  return stoppedUntil[m] > tick ? min(changesAt[m], stoppedUntil[m]) : changesAt[m];
}

/** A cycle starts, perhaps with a short stop. */
export function startRandomCycle(m: i32): void {
  const pace = machinePace[m];
  if (cycleStream[m] >= 0) {
    paceDue[pace] = tick + drawCycle(m);
    paceLag[pace] = 0;
  } else advanceCycle(pace, tick);
  if (stopStream[m] >= 0) {
    cyclesToStop[m] = cyclesToStop[m] - 1;
    if (cyclesToStop[m] <= 0) {
      const stop = draw(stopStream[m]);
      microStops[m] = microStops[m] + 1;
      stoppedUntil[m] = tick + stop;
      paceDue[pace] = paceDue[pace] + stop;
      cyclesToStop[m] = draw(stopCyclesStream[m]);
    }
  }
  if (upTimeStream[m] >= 0 && !repairCountsClock[m]) run(m, tick);
}

/** At least a tick; what that adds, later cycles give back. */
function drawCycle(m: i32): i32 {
  const ticks = draw(cycleStream[m]) - cycleDebt[m];
  cycleDebt[m] = max(0, 1 - ticks);
  return max(1, ticks);
}

/** A cycle has ended; running time stands still from the tick at which it was due. */
export function endRandomCycle(m: i32): void {
  if (upTimeStream[m] < 0 || repairCountsClock[m]) return;
  upLeft[m] = upLeft[m] - (paceDue[machinePace[m]] - runningSince[m]);
  changesAt[m] = NEVER;
}

/** The beginning and end of outages whose time has come. What would have come meanwhile comes later by as much. */
export function cutOrSupply(f: i32): void {
  while (feedChangesAt[f] <= tick) {
    const at = feedChangesAt[f];
    if (isOut[f]) {
      isOut[f] = 0;
      if (paceDue[f] >= feedOutSince[f]) paceDue[f] = paceDue[f] + (at - feedOutSince[f]);
      feedChangesAt[f] = at + max(1, draw(supplyStream[f]));
    } else {
      isOut[f] = 1;
      outages[f] = outages[f] + 1;
      feedOutSince[f] = at;
      feedChangesAt[f] = at + draw(outageStream[f]);
    }
  }
}

/** For a feed or vehicle whose gaps are drawn: the ideal time moves on from `from` by one of them. */
function drawGap(pace: i32, from: i32, ticks: i32): void {
  paceDue[pace] = from + ticks;
  paceLag[pace] = 0;
}

/** @returns whether the gap to the feed's next item is a drawn one */
export function drawInterval(f: i32, from: i32): bool {
  // Where nothing is fed for a while there is no gap to draw.
  if (intervalStream[f] < 0 || paceParts[f] === 0) return false;
  const interval = <f64>paceWhole[f] + <f64>paceRest[f] / <f64>paceParts[f];
  drawGap(f, from, drawOf(intervalStream[f], interval));
  return true;
}

/** By how much the feed's next item is late. */
export function drawLateness(f: i32): void {
  if (jitterStream[f] >= 0) itemLate[f] = draw(jitterStream[f]);
}

/** When the next vehicle comes, after one that was due at `from`. */
export function drawVehicle(f: i32, from: i32): void {
  if (vehicleIntervalStream[f] >= 0) drawGap(feedCount + f, from, draw(vehicleIntervalStream[f]));
  if (vehicleJitterStream[f] >= 0) vehicleLate[f] = draw(vehicleJitterStream[f]);
}

/** @param stated what a vehicle brings where that is not drawn */
export function drawLoad(f: i32, stated: i32): i32 {
  return vehicleItemsStream[f] >= 0 ? draw(vehicleItemsStream[f]) : stated;
}
