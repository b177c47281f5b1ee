/**
 * What is worth doing: the one rule by which studies recommend something, and say what it gives up. A start of the line wins
 * only if it keeps the limits where any does, makes no less than doing nothing and is not slower for good, needs nothing that
 * the floor does not grant, and leaves the stock that doing nothing leaves: by the accounting identity a low loss is a low
 * stock, and emptiest buffers are missed at the first stop.
 */

import type { StartPriority } from "../results.ts";

/** A start of the line: what it comes to, and what it asks for. */
export interface Start {
  readonly id: string;
  /** `false`: it has not settled as far as is known, so that nothing can be said of it for good. */
  readonly isSettled: boolean;
  readonly isSlower: boolean;
  /** Whether, once both have settled and ever after, it has made no less than doing nothing, to a cycle of each machine. */
  readonly makesNoLess: boolean;
  /** Products lost against the common rate up to the common end; `null`: unknown. */
  readonly lost: number | null;
  /** The 95 % time. */
  readonly timeMin: number | null;
  readonly handled: number;
  /** What its loss and its hands cost; `null`: not known, or not stated. */
  readonly cost?: number | null;
  readonly holdUp: number;
  /** Item-minutes beyond the limits, up to the common end. */
  readonly overItemMin: number;
  /** Stock that it leaves in infeed buffers, as a share of what doing nothing leaves. */
  readonly reserveKept: number;
  readonly isGranted: boolean;
  /** Hands that are not granted. */
  readonly needsHands: boolean;
  /** As files state it: settles what nothing else does, whatever the names and their order. */
  readonly stated: string;
  readonly parts: number;
}

/** Below these two starts are equal. */
export interface Grain {
  /** Products of one cycle of each final machine. */
  readonly products: number;
  readonly minutes: number;
  /** What the products are worth, where that is stated. */
  readonly worth?: number;
}

/** @param products of one cycle of each final machine, which the line makes in about a cycle */
export function grainIn(products: number, perMin: number | null): Grain {
  return { products, minutes: perMin === null || perMin <= 0 ? 0 : products / perMin };
}

export interface Recommended {
  /** `null`: not even doing nothing keeps the line going, and nothing that is granted does. */
  readonly winner: string | null;
  /** Beside it, where better than it. */
  readonly withoutReserve: string | null;
  readonly withHands: string | null;
  /** Without hands and with its reserve, but with other means that are not granted. */
  readonly withOtherMeans: string | null;
  /** Nothing but doing nothing meets the conditions. */
  readonly nothingQualifies: boolean;
}

/** As good as all. */
export const RESERVE = 0.9;

/**
 * @param none doing nothing
 * @param none.isSlower where it stops, or makes less than something else for good
 */
export function recommended(
  none: Start,
  others: readonly Start[],
  grain: Grain,
  priority: StartPriority = "loss",
): Recommended {
  const sound = others.filter((one) => one.isSettled && !one.isSlower && one.makesNoLess);
  const qualified = sound.filter((one) => one.isGranted && keepsReserve(one));
  const winner = best([...(none.isSlower ? [] : [none]), ...qualified], grain, priority);
  const beside = (is: (one: Start) => boolean): string | null => {
    const other = best(sound.filter(is), grain, priority);
    return other !== null && (winner === null || isBetter(other, winner, grain, priority)) ? other.id : null;
  };
  return {
    winner: winner?.id ?? null,
    withoutReserve: beside((one) => !keepsReserve(one) && !one.needsHands),
    withHands: beside((one) => keepsReserve(one) && one.needsHands),
    withOtherMeans: beside((one) => keepsReserve(one) && !one.needsHands && !one.isGranted),
    nothingQualifies: qualified.length === 0,
  };
}

export function keepsReserve({ reserveKept }: Pick<Start, "reserveKept">): boolean {
  return reserveKept >= RESERVE;
}

export interface Criterion<T> {
  /** The less the better. */
  readonly of: (one: T) => number;
  /** Two that are no further apart are equal. */
  readonly apart: (grain: Grain, least: number) => number;
}

type StartCriterion = Criterion<Start>;

/** Item-minutes over limits come first, whatever the priority; a hundredth of them is as nothing. */
const OVER: StartCriterion = { of: ({ overItemMin }) => overItemMin, apart: (_, least) => least / 100 };
const LOSS: StartCriterion = { of: ({ lost }) => lost ?? Infinity, apart: ({ products }) => products };
const TIME: StartCriterion = { of: ({ timeMin }) => timeMin ?? Infinity, apart: ({ minutes }) => minutes };
const HANDLING: StartCriterion = { of: ({ handled }) => handled, apart: () => 0 };
const HOLD_UP: StartCriterion = { of: ({ holdUp }) => holdUp, apart: ({ products }) => products };

const MONEY: StartCriterion = { of: ({ cost }) => cost ?? Infinity, apart: ({ worth = 0 }) => worth };

const ORDERS: Readonly<Record<StartPriority, readonly StartCriterion[]>> = {
  loss: [OVER, LOSS, TIME, HANDLING],
  time: [OVER, TIME, LOSS, HANDLING],
  handling: [OVER, HANDLING, LOSS, TIME],
  "hold-up": [OVER, HOLD_UP, LOSS, TIME, HANDLING],
  money: [OVER, MONEY, LOSS, TIME, HANDLING],
};

/** Sums of many pieces must not decide what lies just within the grain. */
const ROUNDING = 1e-6;

function within<T>(value: number, least: number, { apart }: Criterion<T>, grain: Grain): boolean {
  return value === least || value <= least + apart(grain, least) * (1 + ROUNDING) + ROUNDING;
}

/** Those as good as the best, one thing after another; in the order given. */
export function leastIn<T>(those: readonly T[], criteria: readonly Criterion<T>[], grain: Grain): readonly T[] {
  let left = those;
  for (const criterion of criteria) {
    const least = Math.min(...left.map(criterion.of));
    left = left.filter((one) => within(criterion.of(one), least, criterion, grain));
  }
  return left;
}

/** The best; of equals the simplest. */
export function best(starts: readonly Start[], grain: Grain, priority: StartPriority = "loss"): Start | null {
  const [first = null] = leastIn(starts, ORDERS[priority], grain).toSorted(
    (a, b) => a.parts - b.parts || a.handled - b.handled || (a.stated === b.stated ? 0 : a.stated < b.stated ? -1 : 1),
  );
  return first;
}

/** In the first thing in which they are not equal. */
export function isBetter(one: Start, other: Start, grain: Grain, priority: StartPriority = "loss"): boolean {
  return betterIn(one, other, ORDERS[priority], grain);
}

export function betterIn<T>(one: T, other: T, criteria: readonly Criterion<T>[], grain: Grain): boolean {
  for (const criterion of criteria) {
    const [own, its] = [criterion.of(one), criterion.of(other)];
    if (within(its, own, criterion, grain) && within(own, its, criterion, grain)) continue;
    return own < its;
  }
  return false;
}
