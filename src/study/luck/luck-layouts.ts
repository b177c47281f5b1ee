/** Layouts weighed on the same luck: better and worse is what the intervals tell apart, all else is as it is built. */
import { changeBetween } from "../../network/changes.ts";
import { approximate } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Candidate, Given } from "../layouts/candidates.ts";
import { growthOf } from "../layouts/growth-paths.ts";
import { withMoney } from "../layouts/layout-money.ts";
import type { LayoutStudy, WeightName } from "../layouts/layout-results.ts";
import { counts, identity, tightest, UNKNOWN_RESERVE, type Unweighed, unbuilt } from "../layouts/layout-runs.ts";
import { builtFrom, headOf, type LayoutsDone, type LayoutsOptions, writtenAndDrawn } from "../layouts/layouts.ts";
import { rounded, standsStill, WEIGHED, type Weight, weighed } from "../layouts/weighed.ts";
import type { LuckFigureName, SameLuck } from "../luck-results.ts";
import { type FullyPlayed, NO_TACTIC, play } from "../play.ts";
import type { VariantRun } from "../variant-outcome.ts";
import { meanOf } from "./luck-comparison.ts";
import { recommendationOnLuck } from "./luck-recommended.ts";
import type { LayoutVariants } from "./luck-variants.ts";
import { meanCurves } from "./mean-curves.ts";
import { type LuckStudied, studySameLuck } from "./same-luck.ts";

/** @param runs by variant, then by replication, all as often @throws RangeError for fewer than two replications */
export function layoutsOnLuck(
  scenario: Scenario,
  { given, candidates, variants, grid, today }: LayoutVariants,
  runs: readonly (readonly VariantRun[])[],
  { priority, growTo }: Pick<LayoutsOptions, "priority" | "growTo">,
  look = 1,
): LayoutsDone {
  const played = variants.map(({ id }, v) => ({ id, runs: runs[v] ?? [] }));
  const studied = studySameLuck(played, grid, { seed: scenario.seed, baseline: null, look });
  const { luck } = studied;
  const laid = candidates.map((candidate) => {
    const own = played.find(({ id }) => id === candidate.id)?.runs ?? [];
    return laidOnLuck(candidate, given, growTo, own, luck);
  });
  const weighedOnLuck = weighed(
    laid.map(({ result }) => result),
    {
      beats: (a, b) => beatsOnLuck(a, b, studied),
      isLess: ({ id, settled_per_min: settled }) => luck.slower_for_good.includes(id) || settled === 0,
    },
  );
  const layouts = withMoney(weighedOnLuck, today, scenario.costs);
  const { recommended, because } = recommendationOnLuck(layouts, luck, {
    priority,
    today,
  });
  const built = builtFrom(candidates, laid);
  const study: LayoutStudy = {
    ...headOf(given, built, today),
    priority,
    equal_within_items: 0,
    layouts,
    recommended,
    recommended_because: because,
    best_without_reserve: null,
    best_without_reserve_because: null,
    replications: luck,
  };
  return {
    ok: true,
    study,
    ...writtenAndDrawn(built),
    curves: meanCurves(played, studied.meanMade, grid, luck.counted_from_min),
  };
}

function laidOnLuck(
  candidate: Candidate,
  given: Given,
  growTo: number | undefined,
  runs: readonly VariantRun[],
  luck: SameLuck,
): { readonly result: Unweighed; readonly base: FullyPlayed | null } {
  const { drawn, reason } = candidate;
  if (drawn === null || reason !== null) return { result: unbuilt(candidate, reason), base: null };
  const { scenario, elements, floor, toScale, grown } = drawn;
  // The first replication, for what each belt carries.
  const base = play(scenario, NO_TACTIC);
  const more = grown(1);
  const outcomes = runs.map(({ outcome }) => outcome);
  const figureFor = (name: LuckFigureName) =>
    luck.figures.find(({ figure }) => figure === name)?.variants.find(({ id }) => id === candidate.id)?.value ?? null;
  const settled = figureFor("settled_output_per_min")?.mean ?? null;
  return {
    base,
    result: {
      ...identity(candidate),
      feasible: true,
      reason: null,
      settled_per_min: settled,
      proved: false,
      settling_min: null,
      to_95_min: luck.times.find(({ id }) => id === candidate.id)?.to_95_min ?? null,
      ramp_up_loss: settled === 0 ? null : (figureFor("ramp_up_loss")?.mean ?? null),
      hold_up_settled: figureFor("hold_up_settled")?.mean ?? null,
      hold_up_peak: meanOf(outcomes.map(({ hold_up_peak: peak }) => peak)),
      dwell_mean_min: meanOf(outcomes.map(({ dwell_mean_min: dwell }) => dwell)),
      dwell_longest_min: meanOf(outcomes.map(({ dwell_longest_min: dwell }) => dwell)),
      over_limit_min: meanOf(outcomes.map(({ over_limit_min: over }) => over)),
      over_limit_items: meanOf(outcomes.map(({ over_limit_items: over }) => over)),
      // Its settled output on the same luck says what its stock is worth.
      ...UNKNOWN_RESERVE,
      limits_broken: [],
      evenness_at_half_feed: figureFor("evenness_at_half_feed")?.mean ?? null,
      ...counts(elements),
      to_scale: toScale,
      floor_m2: approximate(floor.m2),
      crossings: floor.crossings,
      ...tightest(base.result, elements),
      // Which tactic comes first is for `compare` to tell, with replications of its own.
      primed: null,
      growth: growthOf(given, candidate, growTo),
      one_more: more && { layout: more.layout, ...changeBetween(more.before, more.after) },
    },
  };
}

/** Weights whose figure chance moves. */
const LEFT_TO_CHANCE: ReadonlyMap<WeightName, LuckFigureName> = new Map([
  ["output", "settled_output_per_min"],
  ["loss", "ramp_up_loss"],
  ["hold-up", "hold_up_settled"],
  ["evenness", "evenness_at_half_feed"],
]);

/** Told worse in nothing, or worse as built, and better in something. */
function beatsOnLuck(a: Unweighed, b: Unweighed, studied: LuckStudied): boolean {
  if (standsStill(a) || standsStill(b)) return !standsStill(a) && standsStill(b);
  const better = WEIGHED.map((weight) => betterIn(weight, a, b, studied));
  return !better.includes("b") && better.includes("a");
}

function betterIn(
  { name, better, of }: Weight,
  a: Unweighed,
  b: Unweighed,
  { toldBetter }: LuckStudied,
): "a" | "b" | null {
  const figure = LEFT_TO_CHANCE.get(name);
  if (figure !== undefined) return toldBetter(figure, a.id, b.id);
  const [ofA, ofB] = [a, b].map((one) => rounded((of(one) ?? Infinity) * (better === "more" ? -1 : 1)));
  return ofA === ofB ? null : (ofA ?? 0) < (ofB ?? 0) ? "a" : "b";
}
