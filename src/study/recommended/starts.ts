/** Starts of one line held to one rate, up to one end: what each comes to, and which of them is worth doing. */
import type { Outline } from "../../analysis/analyse.ts";
import type { LimitResult } from "../../analysis/plant-results.ts";
import { total } from "../../quantity/counts.ts";
import { approximate, type Rational, rational, whole, ZERO } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import { statedText } from "../../scenario/tactic.ts";
import { madeUpTo, makesNothing, outcomeOf, settledPerMin } from "../outcome.ts";
import { NO_TACTIC, type Played } from "../play.ts";
import type { BrokenLimit, IdlePart, MadeUpTo, OwnNote, StartPriority, TacticResult } from "../results.ts";
import type { Ask } from "../tactic-parts.ts";
import { asksIn } from "./asks.ts";
import { partsOf } from "./idle-parts.ts";
import { type Pace, paceOf } from "./made-up-to.ts";
import { costOf, moneyIn } from "./money.ts";
import type { Unranked } from "./ranking.ts";
import { type Grain, grainIn, type Recommended, recommended, type Start } from "./recommended.ts";

/** A tactic as played. */
export interface PlayedStart extends Played {
  /** The same over a time in which it settles, if there is one: what it comes to for good is read off this. */
  readonly known: Played;
  readonly idle: readonly IdlePart[];
  /** Others with which the line runs alike. */
  readonly alike: readonly (Played & { readonly idle: readonly IdlePart[] })[];
  readonly whileStopped: TacticResult["made_while_stopped"];
}

/** Losses are counted up to the end of a shift, or until all have settled. */
export const SHIFT_MIN = 480;

interface Judged {
  readonly starts: readonly Unranked[];
  /** The same as the rule sees them. */
  readonly judged: readonly Start[];
  readonly recommended: Recommended;
  readonly grain: Grain;
  /** Products. */
  readonly equalWithin: number;
  readonly countedUpTo: number;
}

/**
 * @param played the baseline first
 * @param mayBeNone whether doing nothing is a choice
 */
export function judgedStarts(
  scenario: Scenario,
  played: readonly (Played & Partial<PlayedStart>)[],
  priority: StartPriority,
  mayBeNone = true,
): Judged {
  const all = played.map((one) => ({ ...one, known: one.known ?? one }));
  const [none] = all;
  if (none === undefined) throw new Error("a comparison has a baseline");
  const own = settledPerMin(none.known.result.output);
  const reference = own || Math.max(...all.map(({ known }) => settledPerMin(known.result.output) ?? 0));
  const paces = all.map(({ known }) => paceOf(known, reference));
  const countedUpTo = Math.max(SHIFT_MIN, ...paces.map(({ settledMin }) => settledMin ?? 0));
  const oneCycle = none.output.oneCycle;
  const asksOf = asksIn(scenario);
  const moneyOf = moneyIn(scenario);
  const entries = all.map((one, i) => {
    const asks = asksOf(one.tactic, one.itemsHandled, mostFeed(one));
    const pace = paces[i] ?? NO_PACE;
    return entryOf(one, { none, pace, nonePace: paces[0] ?? NO_PACE, reference, countedUpTo, asks });
  });
  const [base] = entries;
  if (base === undefined) throw new Error("a comparison has a baseline");
  const moneys = entries.map(({ row }, i) => moneyOf(all[i]?.tactic ?? NO_TACTIC, row, base.row));
  const judged = entries.map(({ start }, i) => ({ ...start, cost: costOf(moneys[i] ?? {}) }));
  const [first = base.start, ...others] = judged;
  const worth = approximate((scenario.costs?.product ?? ZERO).mul(whole(oneCycle)));
  const grain = { ...grainIn(oneCycle, reference), worth };
  return {
    starts: entries.map(({ row }, i) => ({ ...row, ...moneys[i] })),
    judged,
    grain,
    recommended: recommended({ ...first, isSlower: first.isSlower || !mayBeNone }, others, grain, priority),
    equalWithin: oneCycle,
    countedUpTo,
  };
}

function notesOf({ tactic, notes, idle }: Pick<PlayedStart, "tactic" | "notes" | "idle">): OwnNote[] {
  const isFull = isFilled(tactic);
  return [
    ...notes,
    ...idle.map((part) => ({ note: "idle", part, waitsForFull: isFull && waitsForFull(part, tactic) }) as const),
  ];
}

function waitsForFull(part: IdlePart, { hold, farEndFirst }: Tactic): boolean {
  if (part === "farEndFirst") return farEndFirst?.until === "tail-full";
  return part === "hold" && typeof hold?.until === "string";
}

function isFilled({ prefill }: Tactic): boolean {
  return (
    prefill !== null && prefill.while === "stopped" && "among" in prefill.amounts && prefill.amounts.amount === null
  );
}

export function slowerNote(settledPerMin: number | null, fullPerMin: number) {
  return { note: "slower", settledPerMin, fullPerMin } as const;
}

/** What the belts let through of a boost. */
function mostFeed({ notes }: Played): Rational | null {
  const note = notes.find((one) => one.note === "boost-limited");
  return note === undefined ? null : note.factor;
}

const NO_PACE: Pace = { perMin: null, isSlower: false, settledMin: null, madeBy: () => null };

interface HeldTo {
  readonly none: Played & { readonly known: Played };
  readonly pace: Pace;
  readonly nonePace: Pace;
  readonly reference: number;
  readonly countedUpTo: number;
  readonly asks: readonly Ask[];
}

function entryOf(
  played: Played & Partial<PlayedStart> & { readonly known: Played },
  { none, pace, nonePace, reference, countedUpTo, asks }: HeldTo,
): { readonly row: Unranked; readonly start: Start } {
  const { tactic, notes, idle = [], alike = [], whileStopped = { machine: null, feeds: null }, known } = played;
  const outcome = outcomeOf(known);
  const made = madeUpTo(played);
  const madeByNone = madeUpTo(none);
  const more = (key: keyof MadeUpTo): number | null => {
    const [own, theirs] = [made[key], madeByNone[key]];
    return own === null || theirs === null ? null : own - theirs;
  };
  const isStill = makesNothing(outcome);
  const total = isStill ? null : pace.madeBy(countedUpTo);
  const lost =
    total === null
      ? null
      : rounded(reference * countedUpTo - total - beforeChange(none, nonePace, reference, countedUpTo));
  const stock = infeedStock(known.result);
  const stockOfNone = infeedStock(none.known.result);
  const kept = stockOfNone === 0 ? 1 : stock / stockOfNone;
  const takenPerMin = settledIntake(none.known.result);
  const over = overUpTo(countedUpTo, known, pace, none.known);
  // Within the horizon, which all rows have in common.
  const { over_limit_min, over_limit_items, hold_up_peak } = outcomeOf(played);
  const breaksLater = (over_limit_min ?? 0) + (over_limit_items ?? 0) === 0 && over > 0;
  const isGranted = asks.every((ask) => ask.isGranted);
  const row: Unranked = {
    id: tactic.id,
    does: tactic,
    ...outcome,
    ...{ over_limit_min, over_limit_items, hold_up_peak },
    ramp_up_loss: lost,
    slower_for_good: pace.isSlower,
    limits_broken: brokenLimits(known.result),
    over_limit_item_min: over,
    reserve_kept: kept,
    bridges_less_min: takenPerMin > 0 ? Math.max(0, stockOfNone - stock) / takenPerMin : 0,
    asks_for: asks,
    granted: isGranted,
    same_as: alike.map((other) => other.tactic.id).toSorted(),
    made_while_stopped: whileStopped,
    made,
    made_more: { min_10: more("min_10"), min_30: more("min_30"), min_60: more("min_60") },
    by_hand: tactic.prefill !== null,
    notes: [
      ...notesOf({ tactic, notes, idle }),
      ...alike.flatMap((other) => notesOf(other).map((of) => ({ note: "alike", id: other.tactic.id, of }) as const)),
      ...(breaksLater ? [{ note: "breaks-later" } as const] : []),
      ...(pace.isSlower && !isStill ? [slowerNote(outcome.settled_per_min, reference)] : []),
    ],
  };
  const start: Start = {
    id: tactic.id,
    isSettled: pace.perMin !== null,
    isSlower: pace.isSlower || isStill,
    makesNoLess: makesNoLess(pace, nonePace, played.output.oneCycle),
    lost,
    timeMin: outcome.to_95_min,
    handled: played.itemsHandled,
    holdUp: outcome.hold_up_peak,
    overItemMin: over,
    reserveKept: kept,
    isGranted,
    needsHands: asks.some((ask) => ask.what === "hands" && !ask.isGranted),
    stated: statedText(tactic),
    parts: partsOf(tactic).length,
  };
  return { row, start };
}

/**
 * Item-minutes over limits, where all have settled by then. Of mean excesses that phases may hold apart the untouched line's
 * counts for both; whether there is any is another matter.
 */
function overUpTo(end: number, { over, result }: Played, { settledMin }: Pace, none: Played): number {
  const isSame = over.perMin > 0 && none.over.perMin > 0 && Math.abs(over.perMin - none.over.perMin) <= over.oneCycle;
  const apart = isSame && settledMin !== null ? (none.over.perMin - over.perMin) * (end - settledMin) : 0;
  return Math.max(0, over.itemMin + over.perMin * (end - result.horizon_min) + apart);
}

/** What the line as it is makes more before a feed's last change: losses count from there, as they do in a run's own result. */
function beforeChange({ known }: HeldTo["none"], pace: Pace, reference: number, countedUpTo: number): number {
  const made = pace.madeBy(countedUpTo);
  const lost = known.result.output.ramp_up_loss;
  const isCounted = known.result.settling.counted_from_min > 0 && made !== null && lost !== null && !pace.isSlower;
  return isCounted ? reference * countedUpTo - made - lost : 0;
}

/** Sums of what is made over hours are not known any better. */
function rounded(lost: number): number {
  return Math.round(lost * 1e6) / 1e6;
}

/** Once both have settled and ever after. */
function makesNoLess(own: Pace, none: Pace, oneCycle: number): boolean {
  if (own.isSlower || own.settledMin === null || none.settledMin === null) return false;
  const at = Math.max(own.settledMin, none.settledMin);
  const [made, theirs] = [own.madeBy(at), none.madeBy(at)];
  return made !== null && theirs !== null && made >= theirs - oneCycle * (1 + 1e-6);
}

/** Items in infeed buffers once settled. */
export function infeedStock({ hold_up: holdUp }: Pick<Outline, "hold_up">): number {
  return total(holdUp.by_place.flatMap(({ part, settled }) => (part === "infeed" ? [settled] : [])));
}

/** Items that machines take per minute, all kinds. */
export function settledIntake({ machines }: Pick<Outline, "machines">): number {
  return total(
    machines.flatMap(({ infeed }) =>
      infeed.map(({ needs_per_min: needs, settled_per_min: settled }) => approximate(rational(settled ?? needs))),
    ),
  );
}

export function brokenLimits({ limits, horizon_min }: Pick<Outline, "limits" | "horizon_min">): BrokenLimit[] {
  const isBroken = ({ over_min: min, over_items: count, lying_over: lying }: LimitResult): boolean =>
    (min ?? 0) + (count ?? 0) + (lying ?? 0) > 0;
  return limits.filter(isBroken).map(({ what, place, item, limit, peak, over_min, over_items, lying_over }) => ({
    ...{ what, place, item, limit, peak, over_min },
    over_items: over_items === null ? null : over_items + (lying_over ?? 0),
    of_min: horizon_min,
  }));
}
