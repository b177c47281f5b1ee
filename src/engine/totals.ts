/** Running totals. */
import type { Program } from "../network/program.ts";
import type { Arrays } from "./core-arrays.ts";
import { STATE_COUNT } from "./states.ts";

/**
 * All in one array, so that whole periods can be added at once. Ticks and sums over ticks are up to date
 * after `bookTotals` only.
 */
export interface Totals extends Arrays<"totals"> {
  readonly all: Float64Array;
  /** Items passed, by connection. */
  readonly passed: Float64Array;
  /** Items by kind: placed before the start. */
  readonly placed: Float64Array;
  /** Sum over ticks of the items held at the tick's end, by kind. */
  readonly holdUpTicks: Float64Array;
  /** Likewise by place and kind as `onPlaces`, and by buffer. */
  readonly placeTicks: Float64Array;
  readonly bufferTicks: Float64Array;
}

/** Room for all totals of a program. */
export function totalsRoom(program: Program): Float64Array {
  let length = 0;
  totalsBy(program, (count) => {
    length += count;
    return NOTHING;
  });
  return new Float64Array(length);
}

const NOTHING = new Float64Array(0);

/** @param all as long as `totalsRoom` */
export function totalsIn(program: Program, all: Float64Array): Totals {
  let next = 0;
  const parts = totalsBy(program, (count) => {
    next += count;
    return all.subarray(next - count, next);
  });
  return { all, ...parts };
}

function totalsBy(
  { feed, connection, machine, buffer, outlet, limits, places, itemCount }: Program,
  part: (count: number) => Float64Array,
): Omit<Totals, "all"> {
  return {
    fed: part(feed.count),
    feedHeldTicks: part(feed.count),
    vehicleWaitTicks: part(feed.count),
    fedItems: part(itemCount),
    passed: part(connection.count),
    placed: part(itemCount),
    taken: part(itemCount),
    made: part(itemCount),
    left: part(itemCount),
    outletItems: part(outlet.count * itemCount),
    cycles: part(machine.count),
    stateTicks: part(machine.count * STATE_COUNT),
    lackTicks: part(buffer.count),
    holdUpTicks: part(itemCount),
    dwellTicks: part(itemCount),
    overDwell: part(itemCount),
    overLimitTicks: part(limits.length),
    overAnyTicks: part(1),
    overLimitItemTicks: part(limits.length),
    overDwellTicks: part(itemCount),
    placeTicks: part(places.length * itemCount),
    bufferTicks: part(buffer.count),
  };
}

/** A copy of the totals, or, given earlier ones, what was added since. */
export function copyTotals(program: Program, totals: Totals, since?: Totals): Totals {
  const copy = totalsIn(program, totalsRoom(program));
  copy.all.set(totals.all);
  if (since) for (let i = 0; i < copy.all.length; i++) copy.all[i]! -= since.all[i]!;
  return copy;
}
