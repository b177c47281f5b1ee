/** Tactics side by side: each played on the same line, the ones that nothing beats named, the soonest settled first. */
import { amountUpTo } from "../analysis/events.ts";
import { averageAt } from "../analysis/moving-average.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Tactic } from "../scenario/tactic.ts";
import { settlesAt, withHorizon } from "./horizon.ts";
import { idleParts, seenOf, type TacticPart } from "./idle-parts.ts";
import { feedEnds, isSlowerForGood, makesNothing, outcomeOf, settledPerMin } from "./outcome.ts";
import { NO_TACTIC, type Played, play, playRun } from "./play.ts";
import type { Comparison, MadeUpTo, TacticCurve, TacticResult } from "./results.ts";
import { idleText, noteText, slowerText, tacticText } from "./wording.ts";

export interface CompareOptions {
  readonly onProgress?: (done: number, of: number) => void;
}

/** @throws UnplayableError */
export function compareTactics(
  given: Scenario,
  tactics: readonly Tactic[],
  { onProgress }: CompareOptions = {},
): { comparison: Comparison; curves: TacticCurve[] } {
  const all = [NO_TACTIC, ...tactics];
  const variants = all.map((tactic) => (tried: Scenario) => settlesAt(play(tried, tactic)));
  const scenario = withHorizon(given, variants);
  let none: string | null = null;
  const played = all.map((tactic, done) => {
    onProgress?.(done, all.length);
    const { played: one, run } = playRun(scenario, tactic);
    const seen = seenOf(one, run);
    none ??= seen;
    return { ...one, idle: idleParts(scenario, one, seen, none) };
  });
  return {
    comparison: comparisonOf(scenario, played),
    curves: curvesOf(played.map((one) => ({ ...one, id: one.tactic.id }))),
  };
}

/** @param played the baseline first */
export function comparisonOf(scenario: Scenario, played: readonly Played[]): Comparison {
  const [baseline] = played;
  if (baseline === undefined) throw new Error("a comparison has a baseline");
  const fullPerMin = fullRate(played, baseline);
  const results = ranked(played.map((one) => tacticResult(one, baseline, fullPerMin)));
  const [first] = results;
  const { result } = baseline;
  return {
    title: scenario.title,
    seed: scenario.seed,
    tick_s: result.tick_s,
    horizon_min: result.horizon_min,
    settled_per_min: settledPerMin(result.output),
    feed_ends: feedEnds(result),
    winner: first === undefined || makesNothing(first) ? null : first.id,
    tactics: results,
  };
}

/** What makes less than this is slower for good: what the line makes as it is, or where it stops then, at best. */
function fullRate(played: readonly Played[], baseline: Played): number {
  const rates = played.map(({ result }) => settledPerMin(result.output) ?? 0);
  return settledPerMin(baseline.result.output) || Math.max(...rates);
}

type Unranked = Omit<TacticResult, "undominated" | "beaten_by">;

/** What the comparison judges by; each the less the better. */
type Judged = readonly [settling: number, loss: number, handled: number, holdUp: number];

function judged(one: Unranked): Judged {
  const { items_handled: handled, hold_up_peak: holdUp } = one;
  if (one.slower_for_good) return [Infinity, Infinity, handled, holdUp];
  return [one.settling_min ?? Infinity, one.ramp_up_loss ?? Infinity, handled, holdUp];
}

function beats(a: Judged, b: Judged): boolean {
  return a.every((value, i) => value <= (b[i] ?? 0)) && a.some((value, i) => value < (b[i] ?? 0));
}

function ranked(results: readonly Unranked[]): TacticResult[] {
  const order = (a: Judged, b: Judged): number => {
    for (const [i, value] of a.entries()) {
      const other = b[i] ?? 0;
      if (value !== other) return value < other ? -1 : 1;
    }
    return 0;
  };
  const sorted = results.toSorted((a, b) => order(judged(a), judged(b)));
  const running = sorted.filter((one) => !makesNothing(one));
  const marked = running.map((one): TacticResult => {
    const better = running.find((other) => beats(judged(other), judged(one)));
    return { ...one, undominated: better === undefined, beaten_by: better?.id ?? null };
  });
  const choice = marked.filter(({ undominated }) => undominated);
  const beatenBy = choice[0]?.id ?? null;
  const stopped = sorted
    .filter(makesNothing)
    // The later the better.
    .toSorted((a, b) => (b.stops_at_min ?? Infinity) - (a.stops_at_min ?? Infinity) || 0)
    .map((one): TacticResult => ({ ...one, undominated: false, beaten_by: beatenBy }));
  return [...choice, ...marked.filter(({ undominated }) => !undominated), ...stopped];
}

function tacticResult(
  played: Played & { readonly idle?: readonly TacticPart[] },
  baseline: Played,
  fullPerMin: number,
): Unranked {
  const { tactic, notes, idle = [] } = played;
  const outcome = outcomeOf(played);
  const isSlower = isSlowerForGood(outcome, fullPerMin);
  const made = madeUpTo(played);
  const madeByNone = madeUpTo(baseline);
  const more = (key: keyof MadeUpTo): number | null => {
    const [own, none] = [made[key], madeByNone[key]];
    return own === null || none === null ? null : own - none;
  };
  return {
    id: tactic.id,
    does: tacticText(tactic),
    ...outcome,
    slower_for_good: isSlower,
    made,
    made_more: { min_10: more("min_10"), min_30: more("min_30"), min_60: more("min_60") },
    by_hand: tactic.prefill !== null,
    notes: [
      ...notes.map(noteText),
      ...idle.map((part) => idleText(part, tactic)),
      ...(isSlower && !makesNothing(outcome) ? [slowerText(outcome.settled_per_min, fullPerMin)] : []),
    ],
  };
}

export function madeUpTo({ output, startsAfterMin }: Played): MadeUpTo {
  const upTo = (minutes: number): number | null => {
    const tick = Math.floor((minutes - startsAfterMin) / output.minutesPerTick);
    return tick > output.endTick ? null : amountUpTo(output.made, tick);
  };
  return { min_10: upTo(10), min_30: upTo(30), min_60: upTo(60) };
}

const CURVE_POINTS = 1500;
/** What is shown after the last of the tactics that settle has done so. */
const SHOWN_AFTER = 1.25;

/** On one time axis for all. */
export function curvesOf(
  played: readonly (Pick<Played, "result" | "output" | "startsAfterMin"> & { readonly id: string })[],
): TacticCurve[] {
  const settled = played.flatMap(({ result, startsAfterMin }) =>
    result.settling.time_min === null
      ? []
      : result.settling.counted_from_min + result.settling.time_min + startsAfterMin,
  );
  const horizonMin = Math.min(...played.map(({ result }) => result.horizon_min));
  const endMin = settled.length === 0 ? horizonMin : Math.min(horizonMin, Math.max(1, ...settled) * SHOWN_AFTER);
  const timesMin = Array.from({ length: CURVE_POINTS }, (_, i) => ((i + 1) * endMin) / CURVE_POINTS);
  return played.map(({ id, output, startsAfterMin }) => {
    const { minutesPerTick, endTick, windowTicks } = output;
    const ticks = timesMin.map((minutes) => Math.floor((minutes - startsAfterMin) / minutesPerTick));
    return {
      id,
      timesMin,
      made: ticks.map((tick) => amountUpTo(output.made, Math.min(tick, endTick))),
      outputPerMin: ticks.map((tick) =>
        tick < 0 ? 0 : averageAt(output.made, windowTicks, tick, endTick) / minutesPerTick,
      ),
    };
  });
}
