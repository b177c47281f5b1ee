/**
 * What chance does in a plant: machines that stop, cycles that spread, feeds that flutter and fail. The mean of a cycle, of
 * a feed's interval and of a vehicle is stated where the machine and the feed are; what stands here is only how it spreads
 * about that mean, as a share of it. So whatever follows from means (needs, full output, belts' loads) is defined and exact
 * under chance too, one entry serves machines of different speeds, and leaving `random` out leaves the line of the means.
 */
import type { Rational } from "../quantity/rational.ts";
import type { Distribution } from "./distribution.ts";

/** Minutes. */
export type Times = Distribution<Rational>;

/** Shares of what is stated elsewhere, 1 for 100 %; the mean is 1. */
export type Shares = Distribution<Rational>;

/** Lists without entries where the file has no `random`, or an empty one. */
export interface Random {
  readonly machines: readonly MachineRandom[];
  readonly feeds: readonly FeedRandom[];
}

export const NO_RANDOM: Random = { machines: [], feeds: [] };

export function hasChance({ machines, feeds }: Random): boolean {
  return machines.length + feeds.length > 0;
}

export interface MachineRandom {
  /** A group or one machine; a machine's entry takes the place of its group's, whole. */
  readonly id: string;
  readonly breakdowns: Breakdowns | null;
  readonly microStops: MicroStops | null;
  /** Of the cycle at the machine's speed, drawn anew for each. */
  readonly cycle: Shares | null;
}

export interface Breakdowns {
  /** From the end of a repair, and from the start, to the next breakdown. */
  readonly betweenMin: Times;
  /** Whether that time passes only while the machine runs, or always. */
  readonly counted: "running" | "clock";
  readonly repairMin: Times;
}

/** A chance that the machine stops at the start of a cycle, before it takes anything; once for each cycle. */
export interface MicroStops {
  readonly chance: Rational;
  readonly lastingMin: Times;
}

export interface FeedRandom {
  readonly id: string;
  /** From an item to the next, as a share of the rate's interval, drawn anew for each: what is early or late adds up. */
  readonly interval: Shares | null;
  /** How much later than the rate's schedule each item comes: it never adds up. Not beside `interval`. */
  readonly jitterMin: Times | null;
  readonly outages: Outages | null;
  readonly batch: BatchRandom | null;
}

/** By the clock: the feed sends for `between`, is out for `lasting`, and so on. */
export interface Outages {
  readonly betweenMin: Times;
  readonly lastingMin: Times;
}

/** Of vehicles: when they come, as items do, and what they bring. */
export interface BatchRandom {
  readonly every: Shares | null;
  readonly jitterMin: Times | null;
  readonly items: Shares | null;
}
