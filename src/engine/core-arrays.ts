/**
 * All arrays and numbers in the core's memory, told once. From here core/build.mjs makes the core's side (core/memory.ts); the
 * host's types follow. Indices are the program's.
 */
import type { Address, RecordName } from "./core-records.ts";

/** Whole numbers, of 32 bits or under 256; totals and moments, beyond 32 bits; addresses of records; records themselves. */
type ArrayKind = "ints" | "bytes" | "sums" | Address | `${RecordName} records`;
type NumberKind = "int" | "address";

/** By what they are for, as the host gives them (start-state.ts). */
export const ARRAYS = {
  /** They lie first, so that their addresses are known (records.ts). */
  records: {
    belts: "Belt records",
    /** Of all belts' rings. */
    places: "Place records",
    dividers: "Divider records",
    connections: "Connection records",
    /** What connections let in. */
    allows: "bytes",
  },
  /** What decides the future and has no times in it. */
  counts: {
    /** By feed: place in its sequence of kinds, and what is left on its vehicle. */
    feedTurn: "ints",
    vehicleItems: "ints",
    /** The inlet whose turn it is, counted from the merge's first. */
    mergeTurn: "ints",
    bufferCount: "ints",
    /** 1 from the start of a cycle until its product is in the outfeed buffer. */
    machineBusy: "bytes",
  },
  timed: {
    /**
     * The tick at which an element may act again: the ideal time rounded up, and by how many parts it was rounded. Those of
     * belts are in their records, and stand still here.
     */
    paceDue: "ints",
    paceLag: "ints",
  },
  /** What never changes (program-arrays.ts). */
  program: {
    sweepKind: "bytes",
    /** A divider's address, the index of all others. */
    sweepElement: "ints",
    feedConnection: "to Connection or none",
    feedPulled: "bytes",
    feedBatchItems: "ints",
    feedSequenceStart: "ints",
    feedSequenceValues: "ints",
    stepFeed: "ints",
    stepTick: "ints",
    stepWhole: "ints",
    stepRest: "ints",
    stepParts: "ints",
    dividerOutlets: "to Connection",
    mergeStart: "ints",
    mergeInlets: "to Connection",
    mergeInletFeed: "ints",
    mergeOutlet: "to Connection",
    mergeEven: "bytes",
    machinePlace: "ints",
    machinePace: "ints",
    machineInfeed: "ints",
    machineOutfeed: "ints",
    machineBufferFor: "ints",
    machineBeltsStart: "ints",
    machineBelts: "to Belt",
    bufferItem: "ints",
    bufferCapacity: "ints",
    bufferPerCycle: "ints",
    bufferRing: "ints",
    /** Of which kind at which group it is. */
    bufferGroup: "ints",
    bufferOutletsStart: "ints",
    bufferOutlets: "to Connection",
    outletItem: "ints",
    outletBeltsStart: "ints",
    outletBelts: "to Belt",
    limitItem: "ints",
    limitMost: "sums",
    limitIsPlant: "ints",
    limitPlace: "ints",
    limitBuffersStart: "ints",
    limitBuffers: "ints",
    dwellLimit: "sums",
  },
  /** What feed steps and interventions change, and where buffers' rings stand. */
  steered: {
    /** Intervals in force; only those of feeds ever change. */
    paceWhole: "ints",
    paceRest: "ints",
    paceParts: "ints",
    bufferHead: "ints",
    bufferBorn: "ints",
    /** The level up to which an infeed buffer takes items. */
    bufferLimit: "ints",
    /** Buffers that an intervention waits for: the core hands back as soon as one of them is full. */
    bufferAwaited: "bytes",
    /** Machines held off. */
    machineHeld: "bytes",
  },
  /** Totals, and what sums over time are worked out from. */
  booked: {
    /** Items on the belts of each of the program's places, at `place * itemCount + item`. */
    onPlaces: "ints",
    /** By machine: its state, and the first tick of it that `stateTicks` does not count yet. */
    machineState: "bytes",
    stateSince: "ints",
    /** By buffer: likewise of `lackTicks`; -1 where nothing is lacking. */
    lackSince: "ints",
    /** Of `holdUpTicks`, `placeTicks` and `bufferTicks` (over-time.ts). */
    holdUpMoment: "sums",
    placeMoment: "sums",
    bufferMoment: "sums",
    /** One after the other (totals.ts). */
    allTotals: "sums",
  },
  /** Firsts and extremes. Ticks of what did not happen are -1. */
  noted: {
    /** By buffer: first item in, first time full. */
    firstItem: "ints",
    fullAt: "ints",
    /** By buffer: lowest and highest level since the last reset; a settled period resets them. */
    low: "ints",
    high: "ints",
    /** Items held now, by kind. */
    holdUp: "sums",
    /** By limit on hold-up: the most that was held, and when first. */
    limitPeak: "sums",
    limitPeakTick: "ints",
    /** By kind: the longest time until a machine or an outlet took it, ticks. */
    longestStay: "sums",
  },
  /** By hold-up place (core/peaks.ts): on belts as in `onPlaces`, then by group of buffers. */
  peaks: {
    /** By such group: how many lie there. */
    groupCount: "ints",
    /** The most at the end of a tick so far. */
    placePeak: "ints",
    /** Whether there may be more now; and a list of those, and its length. */
    isRisen: "bytes",
    risen: "ints",
    risenCount: "ints",
  },
  /** By machine, then by feed: which streams they draw from, -1 for none, and how they stand (core/chance.ts). */
  chance: {
    upTimeStream: "ints",
    repairStream: "ints",
    stopCyclesStream: "ints",
    stopStream: "ints",
    cycleStream: "ints",
    repairCountsClock: "ints",
    changesAt: "ints",
    isBroken: "ints",
    brokenSince: "ints",
    upLeft: "ints",
    runningSince: "ints",
    cyclesToStop: "ints",
    stoppedUntil: "ints",
    cycleDebt: "ints",
    /** How many there were. */
    breakdowns: "ints",
    microStops: "ints",
    outages: "ints",
    intervalStream: "ints",
    jitterStream: "ints",
    supplyStream: "ints",
    outageStream: "ints",
    vehicleIntervalStream: "ints",
    vehicleJitterStream: "ints",
    vehicleItemsStream: "ints",
    feedChangesAt: "ints",
    isOut: "ints",
    feedOutSince: "ints",
    itemLate: "ints",
    vehicleLate: "ints",
    /** Whether its gaps are drawn; items that wait at its gate, the most that ever did, and their sum over ticks. */
    isGated: "ints",
    atGate: "ints",
    mostAtGate: "ints",
    gateTicks: "sums",
    /** Whether its vehicles keep their schedule, and for how long the line held it up since one has been waiting. */
    keepsVehicles: "ints",
    vehicleHeldTicks: "ints",
    /** By stream: draws made ahead, how many are used, and where its uniform numbers stand, four words. */
    draws: "ints",
    drawsUsed: "ints",
    alea: "ints",
  },
  /** Parts of `allTotals` that the core adds to. */
  totals: {
    /** Items a feed has released, by feed. */
    fed: "sums",
    /** By feed: ticks with an item due that the line did not take, and with a vehicle waiting for the one before it. */
    feedHeldTicks: "sums",
    vehicleWaitTicks: "sums",
    /** Items that feeds have released, by kind. */
    fedItems: "sums",
    /** Items by kind: taken by cycles, made by cycles, left the plant. */
    taken: "sums",
    made: "sums",
    left: "sums",
    /** Items that outlets took, at `outlet * kinds + kind`. */
    outletItems: "sums",
    /** Finished cycles, by machine. */
    cycles: "sums",
    /** At `machine * STATE_COUNT + state`. */
    stateTicks: "sums",
    /** By buffer: ticks for which its machine was starved and it lacked items, or blocked and it lacked room. */
    lackTicks: "sums",
    /** By kind: ticks between feed (or make) and take, summed over items taken. */
    dwellTicks: "sums",
    /** By kind: items taken by a machine or an outlet after longer than their limit. */
    overDwell: "sums",
    /** By limit on hold-up: ticks for which more was held. One entry: ticks for which any was exceeded. */
    overLimitTicks: "sums",
    overAnyTicks: "sums",
    /** By limit on hold-up, and by kind for dwell: what is beyond the limit, items times ticks. */
    overLimitItemTicks: "sums",
    overDwellTicks: "sums",
  },
  /** Room that is empty at the start. */
  rooms: {
    /** A page of bits for each tick (core/schedule.ts). */
    calendarBits: "ints",
    /** Cycles that the core has finished, until they are taken over into `completions`. */
    completionMachine: "ints",
    completionTick: "ints",
  },
  /** Likewise (samples.ts). */
  samples: {
    sampleTick: "ints",
    sampleLevel: "ints",
    sampleHoldUp: "ints",
    sampleOnBelts: "ints",
    sampleStateTicks: "ints",
  },
} as const satisfies Readonly<Record<string, Readonly<Record<string, ArrayKind>>>>;

export const NUMBERS = {
  /** program-arrays.ts */
  program: {
    sweepLength: "int",
    belts: "int",
    machines: "int",
    buffers: "int",
    /** Where belts of a line lie, and surge buffers. */
    linePlaces: "int",
    dividers: "int",
    itemCount: "int",
    feedCount: "int",
    hasVehicles: "int",
    stepCount: "int",
    limitCount: "int",
    hasChance: "int",
  },
  layout: {
    calendarTicks: "int",
    calendarWords: "int",
    completionRoom: "int",
    /** The most that one tick can add. */
    completionsInTick: "int",
    drawAhead: "int",
    /** All that decides the future, and of it that which has no times in it (core/recurrence.ts). */
    decidingAt: "address",
    decidingBytes: "address",
    sameAt: "address",
    sameBytes: "address",
  },
} as const satisfies Readonly<Record<string, Readonly<Record<string, NumberKind>>>>;

type ArrayOf<Kind> = Kind extends "bytes" ? Uint8Array : Kind extends "sums" ? Float64Array : Int32Array;
type ArraysOf<Kinds> = { readonly [Name in keyof Kinds]: ArrayOf<Kinds[Name]> };
type NumbersOf<Kinds> = { readonly [Name in keyof Kinds]: number };

/** The arrays of a group. */
export type Arrays<Group extends keyof typeof ARRAYS> = ArraysOf<(typeof ARRAYS)[Group]>;
/** So long they are. */
export type Lengths<Group extends keyof typeof ARRAYS> = NumbersOf<(typeof ARRAYS)[Group]>;
/** The groups that are moved into memory, in the order in which they lie there. */
export type Moved = { readonly [Group in Exclude<keyof typeof ARRAYS, "totals" | "rooms" | "samples">]: Arrays<Group> };
export type ProgramNumbers = NumbersOf<typeof NUMBERS.program>;
export type Numbers = ProgramNumbers & NumbersOf<typeof NUMBERS.layout>;
