/** Running totals. */
import type { Program } from "../network/program.ts";
import { STATE_COUNT } from "./states.ts";

/**
 * All in one array, so that whole periods can be added at once. Ticks and sums over ticks are up to date
 * after `bookTotals` only.
 */
export interface Totals {
  readonly all: Float64Array;
  /** Items a feed has released, by feed. */
  readonly fed: Float64Array;
  /** By feed: ticks with an item due that the line did not take, and with a vehicle waiting for the one before it. */
  readonly feedHeldTicks: Float64Array;
  readonly vehicleWaitTicks: Float64Array;
  /** Items that feeds have released, by kind. */
  readonly fedItems: Float64Array;
  /** Items passed, by connection. */
  readonly passed: Float64Array;
  /** Items by kind: placed before the start, taken by cycles, made by cycles, left the plant. */
  readonly placed: Float64Array;
  readonly taken: Float64Array;
  readonly made: Float64Array;
  readonly left: Float64Array;
  /** Items that outlets took, at `outlet * kinds + kind`. */
  readonly outletItems: Float64Array;
  /** Finished cycles, by machine. */
  readonly cycles: Float64Array;
  /** At `machine * STATE_COUNT + state`. */
  readonly stateTicks: Float64Array;
  /** By buffer: ticks for which its machine was starved and it lacked items, or blocked and it lacked room. */
  readonly lackTicks: Float64Array;
  /** Sum over ticks of the items held at the tick's end, by kind. */
  readonly heldTicks: Float64Array;
  /** By kind: ticks between feed (or make) and take, summed over items taken. */
  readonly dwellTicks: Float64Array;
  /** By kind: items taken by a machine or an outlet after longer than their limit. */
  readonly overDwell: Float64Array;
  /** By limit on hold-up: ticks for which more was held. One entry: ticks for which any was exceeded. */
  readonly overLimitTicks: Float64Array;
  readonly overAnyTicks: Float64Array;
  /** By limit on hold-up, and by kind for dwell: what is beyond the limit, items times ticks. */
  readonly overLimitItemTicks: Float64Array;
  readonly overDwellTicks: Float64Array;
  /** As `heldTicks`, by place and kind as `onPlaces`, and by buffer. */
  readonly placeTicks: Float64Array;
  readonly bufferTicks: Float64Array;
}

function lengthsOf({ feed, connection, machine, buffer, outlet, limits, places, itemCount }: Program) {
  return {
    fed: feed.count,
    feedHeldTicks: feed.count,
    vehicleWaitTicks: feed.count,
    fedItems: itemCount,
    passed: connection.count,
    placed: itemCount,
    taken: itemCount,
    made: itemCount,
    left: itemCount,
    outletItems: outlet.count * itemCount,
    cycles: machine.count,
    stateTicks: machine.count * STATE_COUNT,
    lackTicks: buffer.count,
    heldTicks: itemCount,
    dwellTicks: itemCount,
    overDwell: itemCount,
    overLimitTicks: limits.length,
    overAnyTicks: 1,
    overLimitItemTicks: limits.length,
    overDwellTicks: itemCount,
    placeTicks: places.length * itemCount,
    bufferTicks: buffer.count,
  };
}

/** Room for all totals of a program. */
export function totalsRoom(program: Program): Float64Array {
  return new Float64Array(Object.values(lengthsOf(program)).reduce((sum, length) => sum + length, 0));
}

/** @param all as long as `totalsRoom` */
export function totalsIn(program: Program, all: Float64Array): Totals {
  const lengths = lengthsOf(program);
  let next = 0;
  const view = (length: number): Float64Array => {
    next += length;
    return all.subarray(next - length, next);
  };
  return {
    all,
    fed: view(lengths.fed),
    feedHeldTicks: view(lengths.feedHeldTicks),
    vehicleWaitTicks: view(lengths.vehicleWaitTicks),
    fedItems: view(lengths.fedItems),
    passed: view(lengths.passed),
    placed: view(lengths.placed),
    taken: view(lengths.taken),
    made: view(lengths.made),
    left: view(lengths.left),
    outletItems: view(lengths.outletItems),
    cycles: view(lengths.cycles),
    stateTicks: view(lengths.stateTicks),
    lackTicks: view(lengths.lackTicks),
    heldTicks: view(lengths.heldTicks),
    dwellTicks: view(lengths.dwellTicks),
    overDwell: view(lengths.overDwell),
    overLimitTicks: view(lengths.overLimitTicks),
    overAnyTicks: view(lengths.overAnyTicks),
    overLimitItemTicks: view(lengths.overLimitItemTicks),
    overDwellTicks: view(lengths.overDwellTicks),
    placeTicks: view(lengths.placeTicks),
    bufferTicks: view(lengths.bufferTicks),
  };
}

/** A copy of the totals, or, given earlier ones, what was added since. */
export function copyTotals(program: Program, totals: Totals, since?: Totals): Totals {
  const copy = totalsIn(program, totalsRoom(program));
  copy.all.set(totals.all);
  if (since) for (let i = 0; i < copy.all.length; i++) copy.all[i]! -= since.all[i]!;
  return copy;
}
