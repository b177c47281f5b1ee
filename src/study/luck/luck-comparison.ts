/** Tactics compared on the same luck: means over replications, a winner only where the interval says so. */
import { moments } from "../../analysis/statistics/moments.ts";
import { expand } from "../../network/expand.ts";
import { applyTactic } from "../../network/tactics/apply.ts";
import type { TacticNote } from "../../network/tactics/contribution.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import type { LuckFigureName, SameLuck } from "../luck-results.ts";
import { makesNothing } from "../outcome.ts";
import { NO_TACTIC } from "../play.ts";
import { type AsksOf, asksIn } from "../recommended/asks.ts";
import { moneyIn } from "../recommended/money.ts";
import type { Unranked } from "../recommended/ranking.ts";
import { slowerNote } from "../recommended/starts.ts";
import type { ReplicationGrid } from "../replications/replication.ts";
import type { Comparison, MadeUpTo, TacticCurve, TacticResult } from "../results.ts";
import type { VariantOutcome, VariantRun } from "../variant-outcome.ts";
import { meanCurves } from "./mean-curves.ts";
import { type LuckStudied, studySameLuck } from "./same-luck.ts";

export interface TacticRuns {
  readonly tactic: Tactic;
  /** By replication. */
  readonly runs: readonly VariantRun[];
}

/** @param played the baseline first, all as often @throws RangeError for fewer than two replications */
export function comparisonOnLuck(
  scenario: Scenario,
  played: readonly TacticRuns[],
  grid: ReplicationGrid,
  look = 1,
): { readonly comparison: Comparison; readonly curves: readonly TacticCurve[] } {
  const variants = played.map(({ tactic: { id }, runs }) => ({ id, runs }));
  const studied = studySameLuck(variants, grid, { seed: scenario.seed, baseline: NO_TACTIC.id, look });
  const { luck } = studied;
  const base = played[0]?.runs.map(({ outcome }) => outcome) ?? [];
  const asksOf = asksIn(scenario);
  const network = expand(scenario);
  const unpriced = played.map((one) =>
    tacticOnLuck(asksOf, one, applyTactic(scenario, network, one.tactic).notes, base, luck),
  );
  const moneyOf = moneyIn(scenario);
  const [none] = unpriced;
  const results = unpriced.map((one, i) => ({
    ...one,
    ...moneyOf(played[i]?.tactic ?? NO_TACTIC, one, none ?? one),
  }));
  const tactics = ranked(results, studied);
  const isOut = (one: Unranked): boolean => luck.slower_for_good.includes(one.id) || makesNothing(one);
  // What its stock is worth shows in what it makes on the same luck.
  const givesUp = ({ id }: Unranked): boolean => studied.seemsSlower.includes(id);
  const granted = results.filter((one) => one.granted && !isOut(one) && !givesUp(one));
  const keeping = granted.filter(keepsLimits);
  const may = idsOf(keeping.length > 0 ? keeping : granted);
  const deciding = studied.among("ramp_up_loss", may);
  const [only = null] = may;
  const winner = may.length === 1 ? only : deciding.told_apart ? deciding.leader : null;
  /** Told to lose less than the winner; the least of those. */
  const beside = (is: (one: Unranked) => boolean): string | null => {
    const better = tactics.filter(
      (one) => is(one) && winner !== null && studied.toldBetter("ramp_up_loss", one.id, winner) === "a",
    );
    return better[0]?.id ?? null;
  };
  const isSound = (one: Unranked): boolean => !one.granted && !isOut(one) && !givesUp(one);
  return {
    comparison: {
      title: scenario.title,
      seed: scenario.seed,
      tick_s: base[0]?.tick_s ?? "",
      horizon_min: grid.stepMin * grid.points,
      settled_per_min: luck.against_per_min,
      feed_ends: played[0]?.runs.every((run) => run.outcome.feed_ends) ?? false,
      priority: "loss",
      winner,
      best_without_reserve: beside((one) => givesUp(one) && !makesNothing(one) && (one.granted || !one.by_hand)),
      best_with_hands: beside((one) => isSound(one) && one.by_hand),
      best_with_other_means: beside((one) => isSound(one) && !one.by_hand),
      nothing_qualifies: granted.every(({ id }) => id === NO_TACTIC.id),
      equal_within_items: 0,
      counted_up_to_min: luck.counted_from_min,
      stops: null,
      tactics,
      replications: { ...luck, deciding },
    },
    curves: meanCurves(variants, studied.meanMade, grid, luck.counted_from_min),
  };
}

function idsOf(tactics: readonly Unranked[]): string[] {
  return tactics.map(({ id }) => id);
}

function keepsLimits({ over_limit_min: min, over_limit_items: count }: Unranked): boolean {
  return (min ?? 0) === 0 && (count ?? 0) === 0;
}

function tacticOnLuck(
  asksOf: AsksOf,
  { tactic, runs }: TacticRuns,
  notes: readonly TacticNote[],
  base: readonly VariantOutcome[],
  luck: SameLuck,
): Unranked {
  const outcomes = runs.map(({ outcome }) => outcome);
  const figureFor = (name: LuckFigureName) =>
    luck.figures.find(({ figure }) => figure === name)?.variants.find(({ id }) => id === tactic.id)?.value ?? null;
  const settled = figureFor("settled_output_per_min")?.mean ?? 0;
  const isSlower = luck.slower_for_good.includes(tactic.id);
  const handled = meanOf(outcomes.map((outcome) => outcome.items_handled)) ?? 0;
  const asks = asksOf(tactic, handled);
  const made = meanMade(outcomes.map((outcome) => outcome.made));
  const madeByNone = meanMade(base.map((outcome) => outcome.made));
  const more = (key: keyof MadeUpTo): number | null => {
    const [own, none] = [made[key], madeByNone[key]];
    return own === null || none === null ? null : own - none;
  };
  return {
    id: tactic.id,
    does: tactic,
    settled_per_min: settled,
    slower_for_good: isSlower,
    stops_at_min: null,
    settling_min: null,
    proved: false,
    to_95_min: luck.times.find(({ id }) => id === tactic.id)?.to_95_min ?? null,
    ramp_up_loss: settled === 0 ? null : (figureFor("ramp_up_loss")?.mean ?? null),
    items_handled: handled,
    first_product_min: meanOf(outcomes.map((outcome) => outcome.first_product_min)),
    hold_up_peak: meanOf(outcomes.map((outcome) => outcome.hold_up_peak)) ?? 0,
    hold_up_settled: figureFor("hold_up_settled")?.mean ?? 0,
    over_limit_min: meanOf(outcomes.map((outcome) => outcome.over_limit_min)),
    over_limit_items: meanOf(outcomes.map((outcome) => outcome.over_limit_items)),
    limits_broken: [],
    over_limit_item_min: null,
    reserve_kept: null,
    bridges_less_min: 0,
    asks_for: asks,
    granted: asks.every(({ isGranted }) => isGranted),
    same_as: [],
    made_while_stopped: { machine: null, feeds: null },
    made,
    made_more: { min_10: more("min_10"), min_30: more("min_30"), min_60: more("min_60") },
    by_hand: tactic.prefill !== null,
    notes: [...notes, ...(isSlower ? [slowerNote(settled, luck.against_per_min)] : [])],
  };
}

/** `null` where one of them has none. */
export function meanOf(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 || known.length < values.length ? null : moments(known).mean;
}

function meanMade(made: readonly MadeUpTo[]): MadeUpTo {
  return {
    min_10: meanOf(made.map(({ min_10 }) => min_10)),
    min_30: meanOf(made.map(({ min_30 }) => min_30)),
    min_60: meanOf(made.map(({ min_60 }) => min_60)),
  };
}

/** By mean loss; those that make the line slower for good, and then those with which it stops, last. */
function ranked(results: readonly Unranked[], { toldBetter }: LuckStudied): TacticResult[] {
  const isOut = (one: Unranked): boolean => one.slower_for_good || makesNothing(one);
  const sorted = results.toSorted(
    (a, b) =>
      Number(isOut(a)) - Number(isOut(b)) ||
      Number(makesNothing(a)) - Number(makesNothing(b)) ||
      (a.ramp_up_loss ?? 0) - (b.ramp_up_loss ?? 0) ||
      a.items_handled - b.items_handled,
  );
  const standing = sorted.filter((one) => !isOut(one));
  const beats = (a: Unranked, b: Unranked): boolean => {
    if (isOut(b)) return true;
    const told = toldBetter("ramp_up_loss", a.id, b.id);
    // What hands place is the same for all luck, or nearly so.
    const fewer = a.items_handled - b.items_handled;
    return told !== "b" && fewer <= 0 && (told === "a" || fewer < 0);
  };
  const marked = sorted.map((one): TacticResult => {
    const better = standing.find((other) => other !== one && beats(other, one));
    return { ...one, undominated: better === undefined && !isOut(one), beaten_by: better?.id ?? null };
  });
  return [...marked.filter(({ undominated }) => undominated), ...marked.filter(({ undominated }) => !undominated)];
}
