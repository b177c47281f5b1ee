/** Tactics side by side: each played on the same line, the ones that nothing beats named, the soonest settled first. */
import { amountUpTo } from "../analysis/events.ts";
import { averageAt } from "../analysis/moving-average.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Tactic } from "../scenario/tactic.ts";
import { isSlowerForGood, outcomeOf, settledPerMin } from "./outcome.ts";
import { NO_TACTIC, type Played, play } from "./play.ts";
import type { Comparison, MadeUpTo, TacticCurve, TacticResult } from "./results.ts";
import { noteText, slowerText, tacticText } from "./wording.ts";

export interface CompareOptions {
  readonly onProgress?: (done: number, of: number) => void;
}

/** @throws UnplayableError */
export function compareTactics(
  scenario: Scenario,
  tactics: readonly Tactic[],
  { onProgress }: CompareOptions = {},
): { comparison: Comparison; curves: TacticCurve[] } {
  const all = [NO_TACTIC, ...tactics];
  const played = all.map((tactic, done) => {
    onProgress?.(done, all.length);
    return play(scenario, tactic);
  });
  const [baseline] = played;
  if (baseline === undefined) throw new Error("a comparison has a baseline");
  const results = ranked(
    played.map((one) => tacticResult(one, baseline)),
    settledPerMin(baseline.result.output),
  );
  const { result } = baseline;
  return {
    comparison: {
      title: scenario.title,
      seed: scenario.seed,
      tick_s: result.tick_s,
      horizon_min: result.horizon_min,
      settled_per_min: settledPerMin(result.output),
      winner: results[0]?.id ?? NO_TACTIC.id,
      tactics: results,
    },
    curves: curvesOf(played),
  };
}

/** What the comparison judges by; each the less the better. */
type Judged = readonly [settling: number, loss: number, handled: number, holdUp: number];

function judged(one: Omit<TacticResult, "undominated" | "beaten_by">, baselinePerMin: number | null): Judged {
  const { items_handled: handled, hold_up_peak: holdUp } = one;
  if (isSlowerForGood(one, baselinePerMin)) return [Infinity, Infinity, handled, holdUp];
  return [one.settling_min ?? Infinity, one.ramp_up_loss ?? Infinity, handled, holdUp];
}

function beats(a: Judged, b: Judged): boolean {
  return a.every((value, i) => value <= (b[i] ?? 0)) && a.some((value, i) => value < (b[i] ?? 0));
}

function ranked(
  results: readonly Omit<TacticResult, "undominated" | "beaten_by">[],
  baselinePerMin: number | null,
): TacticResult[] {
  const judgedNow = (one: Omit<TacticResult, "undominated" | "beaten_by">): Judged => judged(one, baselinePerMin);
  const order = (a: Judged, b: Judged): number => {
    for (const [i, value] of a.entries()) {
      const other = b[i] ?? 0;
      if (value !== other) return value < other ? -1 : 1;
    }
    return 0;
  };
  const sorted = results.toSorted((a, b) => order(judgedNow(a), judgedNow(b)));
  const marked = sorted.map((one): TacticResult => {
    const better = sorted.find((other) => beats(judgedNow(other), judgedNow(one)));
    return { ...one, undominated: better === undefined, beaten_by: better?.id ?? null };
  });
  return [...marked.filter(({ undominated }) => undominated), ...marked.filter(({ undominated }) => !undominated)];
}

function tacticResult(played: Played, baseline: Played): Omit<TacticResult, "undominated" | "beaten_by"> {
  const { tactic, notes } = played;
  const outcome = outcomeOf(played);
  const isSlower = isSlowerForGood(outcome, settledPerMin(baseline.result.output));
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
    made,
    made_more: { min_10: more("min_10"), min_30: more("min_30"), min_60: more("min_60") },
    by_hand: tactic.prefill !== null,
    notes: [...notes.map(noteText), ...(isSlower ? [slowerText(outcome.settled_per_min)] : [])],
  };
}

function madeUpTo({ output, startsAfterMin }: Played): MadeUpTo {
  const upTo = (minutes: number): number | null => {
    const tick = Math.floor((minutes - startsAfterMin) / output.minutesPerTick);
    return tick > output.endTick ? null : amountUpTo(output.events, tick);
  };
  return { min_10: upTo(10), min_30: upTo(30), min_60: upTo(60) };
}

const CURVE_POINTS = 1500;
/** What is shown after the last of the tactics that settle has done so. */
const SHOWN_AFTER = 1.25;

/** On one time axis for all. */
function curvesOf(played: readonly Played[]): TacticCurve[] {
  const settled = played.flatMap(({ result, startsAfterMin }) =>
    result.settling.time_min === null ? [] : result.settling.time_min + startsAfterMin,
  );
  const horizonMin = Math.min(...played.map(({ result }) => result.horizon_min));
  const endMin = settled.length === 0 ? horizonMin : Math.min(horizonMin, Math.max(1, ...settled) * SHOWN_AFTER);
  const timesMin = Array.from({ length: CURVE_POINTS }, (_, i) => ((i + 1) * endMin) / CURVE_POINTS);
  return played.map(({ tactic, output, startsAfterMin }) => {
    const { events, minutesPerTick, endTick, windowTicks } = output;
    const ticks = timesMin.map((minutes) => Math.floor((minutes - startsAfterMin) / minutesPerTick));
    let next = 0;
    let total = 0;
    const made = ticks.map((tick) => {
      for (; next < events.count && (events.tick[next] ?? 0) <= tick; next++) total += events.amount[next] ?? 0;
      return total;
    });
    return {
      id: tactic.id,
      timesMin,
      made,
      outputPerMin: ticks.map((tick) =>
        tick < 0 ? 0 : averageAt(events, windowTicks, tick, endTick) / minutesPerTick,
      ),
    };
  });
}
