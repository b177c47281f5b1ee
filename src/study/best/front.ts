/** Which starts nothing beats in loss, 95 % time, handling and reserve, and a short list of them. */

import { type Goals, NO_GOALS, reaches } from "../recommended/goals.ts";
import { type Grain, isBetter, keepsReserve, recommended, type Start } from "../recommended/recommended.ts";
import type { StartPriority } from "../results.ts";
import type { Trial } from "./trial.ts";

/** Each the less the better; stock beyond what doing nothing leaves counts as all of it. */
export type Figures = Pick<Start, "lost" | "timeMin" | "handled" | "reserveKept">;

function judgedBy({ lost, timeMin, handled, reserveKept }: Figures): readonly number[] {
  return [lost ?? Infinity, timeMin ?? Infinity, handled, -Math.min(1, reserveKept)];
}

export function beats(a: Figures, b: Figures): boolean {
  const [own, its] = [judgedBy(a), judgedBy(b)];
  return own.every((value, i) => value <= (its[i] ?? 0)) && own.some((value, i) => value < (its[i] ?? 0));
}

/** Of the stock: what is no further apart is the same. */
const SAME_RESERVE = 0.01;

/** At least as good in everything, to the grain. */
export function covers(a: Figures, b: Figures, { products, minutes }: Grain): boolean {
  const grains = [products, minutes, 0, SAME_RESERVE];
  const its = judgedBy(b);
  return judgedBy(a).every((value, i) => value <= (its[i] ?? 0) + (grains[i] ?? 0) + 1e-9);
}

export interface Asked {
  readonly priority: StartPriority;
  readonly goals: Goals;
}

/** What may be done: it makes no less than doing nothing, keeps the limits as far as anything does, and asks for nothing more. */
export function soundAmong(trials: readonly Trial[]): Trial[] {
  const sound = trials.filter(
    ({ start }) => start.isSettled && !start.isSlower && start.makesNoLess && start.isGranted,
  );
  const least = Math.min(...sound.map(({ start }) => start.overItemMin));
  return sound.filter(({ start }) => start.overItemMin <= least * 1.01 + 1e-6);
}

/** Whether it leaves the stock, and reaches the goals if the other does. */
export function mayReplace(other: Trial, { goals }: Asked): (trial: Trial) => boolean {
  const mustReach = reaches(other.start, goals);
  return ({ start }) => keepsReserve(start) && (!mustReach || reaches(start, goals));
}

/** By the one rule; of those that reach the goals, and of all where none does. `null`: doing nothing, or not even that. */
export function winnerAmong(none: Trial, trials: readonly Trial[], { priority, goals }: Asked): Trial | null {
  const others = trials.filter(({ start }) => start.id !== none.start.id && reaches(start, goals));
  const isChoice = reaches(none.start, goals);
  if (!isChoice && soundAmong(others).length === 0 && goals !== NO_GOALS)
    return winnerAmong(none, trials, { priority, goals: NO_GOALS });
  const base = { ...none.start, isSlower: none.start.isSlower || (!isChoice && others.length > 0) };
  const starts = others.map(({ start }) => start);
  const { winner } = recommended(base, starts, none.grain, priority);
  return unbeaten(trials.find(({ start }) => start.id === winner) ?? null, trials);
}

/** The same, but of those that are as good by the rule the one that is proved: the others would be proved for nothing. */
export function winnerBeside(proved: Trial | null, none: Trial, trials: readonly Trial[], asked: Asked): Trial | null {
  const leading = winnerAmong(none, trials, asked);
  if (proved === null || leading === null || !mayReplace(leading, asked)(proved)) return leading;
  const sound = soundAmong(trials);
  const isAsGood =
    sound.includes(proved) &&
    !isBetter(leading.start, proved.start, proved.grain, asked.priority) &&
    !isBeaten(proved, sound);
  return isAsGood ? proved : leading;
}

/** What is as good by the rule, and leaves more stock. */
function unbeaten(winner: Trial | null, trials: readonly Trial[]): Trial | null {
  if (winner === null) return null;
  const better = soundAmong(trials).filter((one) => isBeaten(winner, [one]));
  const [first] = better.toSorted((a, b) => a.start.parts - b.start.parts);
  return first === undefined ? winner : unbeaten(first, better);
}

/** That nothing beats by more than the grain, the least handling first; of those alike to the grain the simplest. */
export function frontOf(trials: readonly Trial[]): Trial[] {
  const sound = soundAmong(trials);
  const inOrder = sound.toSorted(({ start: a }, { start: b }) => {
    const [own, its] = [orderOf(a), orderOf(b)];
    const at = own.findIndex((value, i) => value !== its[i]);
    return at < 0 ? (a.stated < b.stated ? -1 : a.stated > b.stated ? 1 : 0) : (own[at] ?? 0) - (its[at] ?? 0);
  });
  const kept: Trial[] = [];
  for (const one of inOrder) if (!kept.some((other) => covers(other.start, one.start, one.grain))) kept.push(one);
  return kept.filter((one) => !kept.some((other) => beats(other.start, one.start)) && !isBeaten(one, sound));
}

/** By more than the grain. */
export function isBeaten({ start, grain }: Trial, by: readonly Trial[]): boolean {
  return by.some((other) => beats(other.start, start) && !covers(start, other.start, grain));
}

function orderOf(start: Start): number[] {
  const { lost, timeMin, handled, parts } = start;
  return [handled, keepsReserve(start) ? 0 : 1, parts, finite(lost), finite(timeMin)];
}

function finite(value: number | null): number {
  return value ?? Number.MAX_VALUE;
}

/** Sum of what sets two apart, each as a share of what it spans: nearer ones say nothing new. */
const NEAR = 0.05;

/**
 * At most so many, spread over all figures: those that must be there, the best in each, then again and again the one that lies
 * furthest from those taken.
 */
export function shortList(front: readonly Trial[], must: readonly Trial[], most: number): Trial[] {
  const span = spansOf(front);
  const taken = [...must];
  const isTaken = (one: Trial): boolean => taken.some(({ start }) => start.id === one.start.id);
  for (const i of span.keys()) {
    const [least] = [...must, ...front].toSorted((a, b) => (judgedBy(a.start)[i] ?? 0) - (judgedBy(b.start)[i] ?? 0));
    if (least !== undefined && !isTaken(least) && taken.length < most) taken.push(least);
  }
  const apart = (a: Trial, b: Trial): number => {
    const its = judgedBy(b.start);
    return judgedBy(a.start).reduce((sum, value, i) => sum + Math.abs(value - (its[i] ?? 0)) / (span[i] ?? 1), 0);
  };
  while (taken.length < most) {
    const left = front.filter((one) => !isTaken(one));
    const far = left.map((one) => Math.min(...taken.map((other) => apart(one, other))));
    const furthest = Math.max(...far);
    const next = left[far.indexOf(furthest)];
    if (next === undefined || furthest < NEAR) break;
    taken.push(next);
  }
  const byCost = (a: Trial, b: Trial): number =>
    a.start.handled - b.start.handled ||
    Number(a.start.parts > 0) - Number(b.start.parts > 0) ||
    finite(b.start.lost) - finite(a.start.lost);
  return taken.toSorted(byCost);
}

function spansOf(front: readonly Trial[]): number[] {
  return [0, 1, 2, 3].map((i) => {
    const values = front.map(({ start }) => judgedBy(start)[i] ?? 0).filter(Number.isFinite);
    return values.length === 0 ? 1 : Math.max(...values) - Math.min(...values) || 1;
  });
}
