/** What is left to chance, as the core names it (core-arrays.ts). */
import type { Program } from "../network/program.ts";
import type { RandomProgram } from "../network/random-program.ts";
import type { Arrays } from "./core-arrays.ts";
import { AHEAD } from "./random/draws.ts";

export function chanceArrays({ machine, feed, random }: Program): Arrays<"chance"> {
  const none = (count: number): Int32Array => new Int32Array(count).fill(-1);
  const zeros = (count: number): Int32Array => new Int32Array(count);
  /** 1 where any of these is drawn. */
  const drawn = (
    feeds: RandomProgram["feed"] | undefined,
    streamsOf: (feeds: RandomProgram["feed"], feed: number) => (number | undefined)[],
  ): Int32Array =>
    zeros(feed.count).map((_, f) => (feeds && streamsOf(feeds, f).some((stream = -1) => stream >= 0) ? 1 : 0));
  const streams = random?.streams.length ?? 0;
  return {
    upTimeStream: random?.machine.upTime ?? none(machine.count),
    repairStream: random?.machine.repair ?? none(machine.count),
    stopCyclesStream: random?.machine.cyclesToStop ?? none(machine.count),
    stopStream: random?.machine.stop ?? none(machine.count),
    cycleStream: random?.machine.cycle ?? none(machine.count),
    repairCountsClock: Int32Array.from(random?.machine.countsClock ?? zeros(machine.count)),
    changesAt: zeros(machine.count),
    isBroken: zeros(machine.count),
    brokenSince: zeros(machine.count),
    upLeft: zeros(machine.count),
    runningSince: zeros(machine.count),
    cyclesToStop: zeros(machine.count),
    breakdowns: zeros(machine.count),
    microStops: zeros(machine.count),
    outages: zeros(feed.count),
    stoppedUntil: zeros(machine.count),
    cycleDebt: zeros(machine.count),
    intervalStream: random?.feed.interval ?? none(feed.count),
    jitterStream: random?.feed.jitter ?? none(feed.count),
    supplyStream: random?.feed.supply ?? none(feed.count),
    outageStream: random?.feed.outage ?? none(feed.count),
    vehicleIntervalStream: random?.feed.vehicleInterval ?? none(feed.count),
    vehicleJitterStream: random?.feed.vehicleJitter ?? none(feed.count),
    vehicleItemsStream: random?.feed.vehicleItems ?? none(feed.count),
    feedChangesAt: zeros(feed.count),
    isOut: zeros(feed.count),
    feedOutSince: zeros(feed.count),
    isGated: drawn(random?.feed, (feed, f) => [feed.interval[f], feed.jitter[f]]),
    atGate: zeros(feed.count),
    mostAtGate: zeros(feed.count),
    gateTicks: new Float64Array(feed.count),
    keepsVehicles: drawn(random?.feed, (feed, f) => Object.values(feed).map((streams) => streams[f])),
    vehicleHeldTicks: zeros(feed.count),
    itemLate: zeros(feed.count),
    vehicleLate: zeros(feed.count),
    draws: zeros(streams * AHEAD),
    drawsUsed: zeros(streams).fill(AHEAD),
    alea: zeros(4 * streams),
  };
}
