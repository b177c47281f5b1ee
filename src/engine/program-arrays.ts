/** A program under the names that the core has for its arrays and numbers (core-arrays.ts). */
import { DIVIDER, type Program } from "../network/program.ts";
import type { Arrays, ProgramNumbers } from "./core-arrays.ts";
import type { Addresses } from "./records.ts";

/** All but what changes in a run. */
export function programArrays(program: Program, address: Addresses): Arrays<"program"> {
  const { sweepKind, sweepIndex, feed, divider, merge, machine, buffer, outlet, limits, dwellLimit } = program;
  const { steps } = feed;
  const limitBuffers = limits.map(({ buffers }) => [...buffers]);
  return {
    sweepKind,
    sweepElement: sweepIndex.map((index, place) => (sweepKind[place] === DIVIDER ? address.divider(index) : index)),
    feedConnection: feed.connection.map(address.connection),
    feedPulled: feed.pulled,
    feedBatchItems: feed.batchItems,
    feedSequenceStart: feed.sequence.start,
    feedSequenceValues: feed.sequence.values,
    stepFeed: Int32Array.from(steps, (step) => step.feed),
    stepTick: Int32Array.from(steps, (step) => step.tick),
    stepWhole: Int32Array.from(steps, (step) => step.whole),
    stepRest: Int32Array.from(steps, (step) => step.rest),
    stepParts: Int32Array.from(steps, (step) => step.parts),
    dividerOutlets: divider.outlets.values.map(address.connection),
    mergeStart: merge.inlets.start,
    mergeInlets: merge.inlets.values.map(address.connection),
    mergeInletFeed: merge.inletFeed,
    mergeOutlet: merge.outlet.map(address.connection),
    mergeEven: merge.even,
    machinePlace: machine.place,
    machinePace: machine.pace,
    machineInfeed: machine.infeed,
    machineOutfeed: machine.outfeed,
    machineBufferFor: machine.bufferFor,
    machineBeltsStart: machine.inletBelts.start,
    machineBelts: machine.inletBelts.values.map(address.belt),
    bufferItem: buffer.item,
    bufferCapacity: buffer.capacity,
    bufferPerCycle: buffer.perCycle,
    bufferRing: buffer.ring,
    bufferGroup: buffer.group,
    bufferOutletsStart: buffer.outlets.start,
    bufferOutlets: buffer.outlets.values.map(address.connection),
    outletItem: outlet.item,
    outletBeltsStart: outlet.inletBelts.start,
    outletBelts: outlet.inletBelts.values.map(address.belt),
    limitItem: Int32Array.from(limits, ({ item }) => item),
    limitMost: Float64Array.from(limits, ({ most }) => most),
    limitIsPlant: Int32Array.from(limits, ({ isPlant }) => (isPlant ? 1 : 0)),
    limitPlace: Int32Array.from(limits, ({ place }) => place),
    limitBuffersStart: startsOf(limitBuffers),
    limitBuffers: Int32Array.from(limitBuffers.flat()),
    dwellLimit,
  };
}

export function programNumbers(program: Program): ProgramNumbers {
  const { sweepKind, belt, divider, machine, buffer, places, itemCount, feed, limits, random } = program;
  return {
    sweepLength: sweepKind.length,
    belts: belt.count,
    dividers: divider.count,
    machines: machine.count,
    buffers: buffer.count,
    linePlaces: places.length,
    itemCount,
    feedCount: feed.count,
    hasVehicles: feed.hasVehicles ? 1 : 0,
    stepCount: feed.steps.length,
    limitCount: limits.length,
    hasChance: random === null ? 0 : 1,
  };
}

function startsOf(lists: readonly (readonly number[])[]): Int32Array {
  const start = new Int32Array(lists.length + 1);
  for (const [i, { length }] of lists.entries()) start[i + 1] = start[i]! + length;
  return start;
}
