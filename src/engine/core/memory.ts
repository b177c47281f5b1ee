/**
 * Where everything lies. The host (../core.ts) puts the plant and its state into memory before the first tick and hands over,
 * by these names, where each array begins. Arrays are those of the program and the state, with the same indices.
 */
import { Bytes, Ints, Refs, Sums } from "./arrays";
import { Belt, Connection, Divider } from "./records";

// The sweep, and how many kinds of item, feeds, belts and so on there are.
export declare const places: i32;
export declare const belts: i32;
export declare const machines: i32;
export declare const buffers: i32;
/** Where belts of a line lie, and surge buffers. */
export declare const linePlaces: i32;
export declare const dividers: i32;
export declare const itemCount: i32;
export declare const feedCount: i32;
export declare const hasVehicles: i32;
export declare const stepCount: i32;
export declare const limitCount: i32;

declare const sweepKindAt: usize;
export const sweepKind = changetype<Bytes>(sweepKindAt);
/** A divider's address, the index of all others. */
declare const sweepElementAt: usize;
export const sweepElement = changetype<Ints>(sweepElementAt);

// Paces.
declare const paceDueAt: usize;
export const paceDue = changetype<Ints>(paceDueAt);
declare const paceLagAt: usize;
export const paceLag = changetype<Ints>(paceLagAt);
declare const paceWholeAt: usize;
export const paceWhole = changetype<Ints>(paceWholeAt);
declare const paceRestAt: usize;
export const paceRest = changetype<Ints>(paceRestAt);
declare const pacePartsAt: usize;
export const paceParts = changetype<Ints>(pacePartsAt);

// Belts.
declare const beltsAt: usize;
export function beltNumber(b: i32): Belt {
  return changetype<Belt>(beltsAt + <usize>b * offsetof<Belt>());
}
declare const onPlacesAt: usize;
export const onPlaces = changetype<Ints>(onPlacesAt);
declare const placeMomentAt: usize;
export const placeMoment = changetype<Sums>(placeMomentAt);

// Feeds, their vehicles and steps.
declare const feedConnectionAt: usize;
export const feedConnection = changetype<Refs<Connection | null>>(feedConnectionAt);
declare const feedPulledAt: usize;
export const feedPulled = changetype<Bytes>(feedPulledAt);
declare const feedBatchItemsAt: usize;
export const feedBatchItems = changetype<Ints>(feedBatchItemsAt);
declare const feedSequenceStartAt: usize;
export const feedSequenceStart = changetype<Ints>(feedSequenceStartAt);
declare const feedSequenceValuesAt: usize;
export const feedSequenceValues = changetype<Ints>(feedSequenceValuesAt);
declare const feedTurnAt: usize;
export const feedTurn = changetype<Ints>(feedTurnAt);
declare const vehicleItemsAt: usize;
export const vehicleItems = changetype<Ints>(vehicleItemsAt);
declare const stepFeedAt: usize;
export const stepFeed = changetype<Ints>(stepFeedAt);
declare const stepTickAt: usize;
export const stepTick = changetype<Ints>(stepTickAt);
declare const stepWholeAt: usize;
export const stepWhole = changetype<Ints>(stepWholeAt);
declare const stepRestAt: usize;
export const stepRest = changetype<Ints>(stepRestAt);
declare const stepPartsAt: usize;
export const stepParts = changetype<Ints>(stepPartsAt);

// Dividers and merges.
declare const dividersAt: usize;
export function dividerNumber(d: i32): Divider {
  return changetype<Divider>(dividersAt + <usize>d * offsetof<Divider>());
}
declare const dividerOutletsAt: usize;
export const dividerOutlets = changetype<Refs<Connection>>(dividerOutletsAt);
declare const mergeStartAt: usize;
export const mergeStart = changetype<Ints>(mergeStartAt);
declare const mergeInletsAt: usize;
export const mergeInlets = changetype<Refs<Connection>>(mergeInletsAt);
declare const mergeInletFeedAt: usize;
export const mergeInletFeed = changetype<Ints>(mergeInletFeedAt);
declare const mergeOutletAt: usize;
export const mergeOutlet = changetype<Refs<Connection>>(mergeOutletAt);
declare const mergeEvenAt: usize;
export const mergeEven = changetype<Bytes>(mergeEvenAt);
declare const mergeTurnAt: usize;
export const mergeTurn = changetype<Ints>(mergeTurnAt);

// Machines and their buffers.
declare const machinePlaceAt: usize;
export const machinePlace = changetype<Ints>(machinePlaceAt);
declare const machinePaceAt: usize;
export const machinePace = changetype<Ints>(machinePaceAt);
declare const machineInfeedAt: usize;
export const machineInfeed = changetype<Ints>(machineInfeedAt);
declare const machineOutfeedAt: usize;
export const machineOutfeed = changetype<Ints>(machineOutfeedAt);
declare const machineBufferForAt: usize;
export const machineBufferFor = changetype<Ints>(machineBufferForAt);
declare const machineBeltsStartAt: usize;
export const machineBeltsStart = changetype<Ints>(machineBeltsStartAt);
declare const machineBeltsAt: usize;
export const machineBelts = changetype<Refs<Belt>>(machineBeltsAt);
declare const machineBusyAt: usize;
export const machineBusy = changetype<Bytes>(machineBusyAt);
declare const machineHeldAt: usize;
export const machineHeld = changetype<Bytes>(machineHeldAt);
declare const machineStateAt: usize;
export const machineState = changetype<Bytes>(machineStateAt);
declare const stateSinceAt: usize;
export const stateSince = changetype<Ints>(stateSinceAt);
declare const bufferItemAt: usize;
export const bufferItem = changetype<Ints>(bufferItemAt);
declare const bufferCapacityAt: usize;
export const bufferCapacity = changetype<Ints>(bufferCapacityAt);
declare const bufferPerCycleAt: usize;
export const bufferPerCycle = changetype<Ints>(bufferPerCycleAt);
declare const bufferRingAt: usize;
export const bufferRing = changetype<Ints>(bufferRingAt);
declare const bufferOutletsStartAt: usize;
export const bufferOutletsStart = changetype<Ints>(bufferOutletsStartAt);
declare const bufferOutletsAt: usize;
export const bufferOutlets = changetype<Refs<Connection>>(bufferOutletsAt);
declare const bufferHeadAt: usize;
export const bufferHead = changetype<Ints>(bufferHeadAt);
declare const bufferCountAt: usize;
export const bufferCount = changetype<Ints>(bufferCountAt);
declare const bufferLimitAt: usize;
export const bufferLimit = changetype<Ints>(bufferLimitAt);
declare const bufferBornAt: usize;
export const bufferBorn = changetype<Ints>(bufferBornAt);
declare const bufferMomentAt: usize;
export const bufferMoment = changetype<Sums>(bufferMomentAt);
declare const lackSinceAt: usize;
export const lackSince = changetype<Ints>(lackSinceAt);

// Outlets and limits.
declare const outletItemAt: usize;
export const outletItem = changetype<Ints>(outletItemAt);
declare const outletBeltsStartAt: usize;
export const outletBeltsStart = changetype<Ints>(outletBeltsStartAt);
declare const outletBeltsAt: usize;
export const outletBelts = changetype<Refs<Belt>>(outletBeltsAt);
declare const limitItemAt: usize;
export const limitItem = changetype<Ints>(limitItemAt);
declare const limitMostAt: usize;
export const limitMost = changetype<Sums>(limitMostAt);
declare const limitIsPlantAt: usize;
export const limitIsPlant = changetype<Ints>(limitIsPlantAt);
declare const limitPlaceAt: usize;
export const limitPlace = changetype<Ints>(limitPlaceAt);
declare const limitBuffersStartAt: usize;
export const limitBuffersStart = changetype<Ints>(limitBuffersStartAt);
declare const limitBuffersAt: usize;
export const limitBuffers = changetype<Ints>(limitBuffersAt);
declare const dwellLimitAt: usize;
export const dwellLimit = changetype<Sums>(dwellLimitAt);

// The calendar (schedule.ts).
export declare const calendarTicks: i32;
export declare const calendarWords: i32;
declare const calendarBitsAt: usize;
export const calendarBits = changetype<Ints>(calendarBitsAt);

// Totals.
declare const fedAt: usize;
export const fed = changetype<Sums>(fedAt);
declare const feedHeldTicksAt: usize;
export const feedHeldTicks = changetype<Sums>(feedHeldTicksAt);
declare const vehicleWaitTicksAt: usize;
export const vehicleWaitTicks = changetype<Sums>(vehicleWaitTicksAt);
declare const fedItemsAt: usize;
export const fedItems = changetype<Sums>(fedItemsAt);
declare const takenAt: usize;
export const taken = changetype<Sums>(takenAt);
declare const madeAt: usize;
export const made = changetype<Sums>(madeAt);
declare const leftAt: usize;
export const left = changetype<Sums>(leftAt);
declare const outletItemsAt: usize;
export const outletItems = changetype<Sums>(outletItemsAt);
declare const cyclesAt: usize;
export const cycles = changetype<Sums>(cyclesAt);
declare const stateTicksAt: usize;
export const stateTicks = changetype<Sums>(stateTicksAt);
declare const lackTicksAt: usize;
export const lackTicks = changetype<Sums>(lackTicksAt);
declare const dwellTicksAt: usize;
export const dwellTicks = changetype<Sums>(dwellTicksAt);
declare const overDwellAt: usize;
export const overDwell = changetype<Sums>(overDwellAt);
declare const overLimitTicksAt: usize;
export const overLimitTicks = changetype<Sums>(overLimitTicksAt);
declare const overAnyTicksAt: usize;
export const overAnyTicks = changetype<Sums>(overAnyTicksAt);
declare const heldMomentAt: usize;
export const heldMoment = changetype<Sums>(heldMomentAt);

// Marks.
declare const firstItemAt: usize;
export const firstItem = changetype<Ints>(firstItemAt);
declare const fullAtAt: usize;
export const fullAt = changetype<Ints>(fullAtAt);
declare const lowAt: usize;
export const low = changetype<Ints>(lowAt);
declare const highAt: usize;
export const high = changetype<Ints>(highAt);
declare const heldAt: usize;
export const held = changetype<Sums>(heldAt);
declare const limitPeakAt: usize;
export const limitPeak = changetype<Sums>(limitPeakAt);
declare const limitPeakTickAt: usize;
export const limitPeakTick = changetype<Ints>(limitPeakTickAt);
declare const longestStayAt: usize;
export const longestStay = changetype<Sums>(longestStayAt);

// Finished cycles.
export declare const completionRoom: i32;
/** The most that one tick can add. */
export declare const completionsInTick: i32;
declare const completionMachineAt: usize;
export const completionMachine = changetype<Ints>(completionMachineAt);
declare const completionTickAt: usize;
export const completionTick = changetype<Ints>(completionTickAt);

// Samples (samples.ts).
declare const sampleTickAt: usize;
export const sampleTick = changetype<Ints>(sampleTickAt);
declare const sampleLevelAt: usize;
export const sampleLevel = changetype<Ints>(sampleLevelAt);
declare const sampleHeldAt: usize;
export const sampleHeld = changetype<Ints>(sampleHeldAt);
declare const sampleOnBeltsAt: usize;
export const sampleOnBelts = changetype<Ints>(sampleOnBeltsAt);
declare const sampleStateTicksAt: usize;
export const sampleStateTicks = changetype<Ints>(sampleStateTicksAt);

// Chance (chance.ts): which streams machines and feeds draw from, how they stand, and draws made ahead.
export declare const hasChance: i32;
export declare const drawAhead: i32;
declare const upTimeStreamAt: usize;
export const upTimeStream = changetype<Ints>(upTimeStreamAt);
declare const repairStreamAt: usize;
export const repairStream = changetype<Ints>(repairStreamAt);
declare const stopCyclesStreamAt: usize;
export const stopCyclesStream = changetype<Ints>(stopCyclesStreamAt);
declare const stopStreamAt: usize;
export const stopStream = changetype<Ints>(stopStreamAt);
declare const cycleStreamAt: usize;
export const cycleStream = changetype<Ints>(cycleStreamAt);
declare const repairCountsClockAt: usize;
export const repairCountsClock = changetype<Ints>(repairCountsClockAt);
declare const changesAtAt: usize;
export const changesAt = changetype<Ints>(changesAtAt);
declare const isBrokenAt: usize;
export const isBroken = changetype<Ints>(isBrokenAt);
declare const brokenSinceAt: usize;
export const brokenSince = changetype<Ints>(brokenSinceAt);
declare const upLeftAt: usize;
export const upLeft = changetype<Ints>(upLeftAt);
declare const runningSinceAt: usize;
export const runningSince = changetype<Ints>(runningSinceAt);
declare const cyclesToStopAt: usize;
export const cyclesToStop = changetype<Ints>(cyclesToStopAt);
declare const stoppedUntilAt: usize;
export const stoppedUntil = changetype<Ints>(stoppedUntilAt);
declare const cycleDebtAt: usize;
export const cycleDebt = changetype<Ints>(cycleDebtAt);
declare const intervalStreamAt: usize;
export const intervalStream = changetype<Ints>(intervalStreamAt);
declare const jitterStreamAt: usize;
export const jitterStream = changetype<Ints>(jitterStreamAt);
declare const supplyStreamAt: usize;
export const supplyStream = changetype<Ints>(supplyStreamAt);
declare const outageStreamAt: usize;
export const outageStream = changetype<Ints>(outageStreamAt);
declare const vehicleIntervalStreamAt: usize;
export const vehicleIntervalStream = changetype<Ints>(vehicleIntervalStreamAt);
declare const vehicleJitterStreamAt: usize;
export const vehicleJitterStream = changetype<Ints>(vehicleJitterStreamAt);
declare const vehicleItemsStreamAt: usize;
export const vehicleItemsStream = changetype<Ints>(vehicleItemsStreamAt);
declare const feedChangesAtAt: usize;
export const feedChangesAt = changetype<Ints>(feedChangesAtAt);
declare const isOutAt: usize;
export const isOut = changetype<Ints>(isOutAt);
declare const feedOutSinceAt: usize;
export const feedOutSince = changetype<Ints>(feedOutSinceAt);
declare const itemLateAt: usize;
export const itemLate = changetype<Ints>(itemLateAt);
declare const vehicleLateAt: usize;
export const vehicleLate = changetype<Ints>(vehicleLateAt);
declare const drawsAt: usize;
export const draws = changetype<Ints>(drawsAt);
declare const drawsUsedAt: usize;
export const drawsUsed = changetype<Ints>(drawsUsedAt);
/** Fills up a stream's draws. */
export declare function refill(stream: i32): void;
/** A draw of a stream of shares, of so many ticks. */
export declare function drawOf(stream: i32, ticks: f64): i32;

// All that decides the future, and of it that which has no times in it (recurrence.ts).
export declare const decidingAt: usize;
export declare const decidingBytes: usize;
export declare const sameAt: usize;
export declare const sameBytes: usize;
