/** Intervals and transits in ticks: where rates and durations become the whole numbers of the engine's schedules. */
import { nearestWithin, type Rational } from "../quantity/rational.ts";
import type { BeltSpec } from "../scenario/scenario.ts";
import type { Connection, Network } from "./network.ts";
import type { FeedStepTicks, Program } from "./program.ts";
import { inTicks, nearestTicks, ticksWithin } from "./tick.ts";

/** Schedules are kept in 32-bit integers. */
const MOST_PARTS = 2n ** 31n - 1n;

/** From the last tick of the longest run, an interval to a belt's next slot and its transit must not go beyond them. */
const MOST_TICKS = 2 ** 29;

/** An interval or transit that the engine's whole numbers cannot hold, for its digits or its length. */
export class TooFineError extends Error {
  override readonly name = "TooFineError";
  readonly element: string;
  constructor(element: string) {
    super(`the interval or transit of ${element} has too many digits or ticks to be counted`);
    this.element = element;
  }
}

interface Paces {
  readonly pace: Program["pace"];
  readonly steps: readonly FeedStepTicks[];
  /** Indices of paces, by belt and by machine. */
  readonly entry: Int32Array;
  readonly exit: Int32Array;
  readonly machine: Int32Array;
}

/**
 * In the order of `Program.pace`: feeds, their vehicles, belt entries, belt exits, machine cycles.
 * @throws TooFineError
 */
export function compilePaces(
  network: Network,
  belts: readonly (BeltSpec & { readonly connection: Connection })[],
  tickS: Rational,
): Paces {
  const { feeds, machines } = network;
  const feedPaces = feeds.map(() => STOPPED);
  const steps = feeds.flatMap(({ id, profile }, feed) =>
    profile.map(({ fromMin, ratePerMin }): FeedStepTicks => {
      const interval = ratePerMin.equals(0) ? STOPPED : feedIntervalOf(ratePerMin.inverse(), tickS, id);
      return { feed, tick: ticksWithin(fromMin, tickS), ...interval };
    }),
  );
  const vehicles = feeds.map(({ id, batch }) => (batch === null ? STOPPED : intervalOf(batch.everyMin, tickS, id)));
  const slots = belts.map(({ ratePerMin, connection }) => intervalOf(ratePerMin.inverse(), tickS, connection.id));
  const cycles = machines.map(({ id, cycleMin }) => intervalOf(cycleMin, tickS, id));
  const paces = [...feedPaces, ...vehicles, ...slots, ...slots, ...cycles];
  const firstEntry = 2 * feeds.length;
  const firstExit = firstEntry + belts.length;
  return {
    pace: {
      count: paces.length,
      whole: Int32Array.from(paces, ({ whole }) => whole),
      rest: Int32Array.from(paces, ({ rest }) => rest),
      parts: Int32Array.from(paces, ({ parts }) => parts),
    },
    steps: steps.toSorted((a, b) => a.tick - b.tick || a.feed - b.feed),
    entry: Int32Array.from(belts, (_, b) => firstEntry + b),
    exit: Int32Array.from(belts, (_, b) => firstExit + b),
    machine: Int32Array.from(machines, (_, m) => firstExit + belts.length + m),
  };
}

interface Interval {
  readonly whole: number;
  readonly rest: number;
  readonly parts: number;
}

const STOPPED: Interval = { whole: 0, rest: 0, parts: 0 };

/**
 * The sum of many machines' needs may have more digits than schedules count. The nearest interval that they do is less than
 * a part of 10^18 of a tick off: less than a part of 10^9 by the last tick of the longest run.
 */
function feedIntervalOf(intervalMin: Rational, tickS: Rational, feed: string): Interval {
  return counted(nearestWithin(inTicks(intervalMin, tickS), MOST_PARTS), feed);
}

function intervalOf(intervalMin: Rational, tickS: Rational, element: string): Interval {
  return counted(inTicks(intervalMin, tickS), element);
}

function counted(ticks: Rational, element: string): Interval {
  if (ticks.d > MOST_PARTS || ticks.n / ticks.d >= MOST_TICKS) throw new TooFineError(element);
  return { whole: Number(ticks.n / ticks.d), rest: Number(ticks.n % ticks.d), parts: Number(ticks.d) };
}

/**
 * The transit rounded to ticks, but never so long that a belt which has room for all it carries at its rate
 * (capacity ≥ rate × transit) would lose throughput to the rounding.
 */
export function transitTicks(belt: BeltSpec, tickS: Rational, element: string): number {
  if (inTicks(belt.transitMin, tickS).compare(MOST_TICKS) >= 0) throw new TooFineError(element);
  const nearest = nearestTicks(belt.transitMin, tickS);
  const roomMin = belt.ratePerMin.inverse().mul(BigInt(belt.capacity));
  return belt.transitMin.compare(roomMin) <= 0 ? Math.min(nearest, Math.max(1, ticksWithin(roomMin, tickS))) : nearest;
}
