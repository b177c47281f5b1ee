/** The feed lowered for a while: what is lost, and how long the plant takes to be itself again. */

import type { Outline } from "../../analysis/analyse.ts";
import { eventsUpTo } from "../../analysis/events.ts";
import { averageAt } from "../../analysis/moving-average.ts";
import { approximate, exact } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { settlesAt, withHorizon } from "../horizon.ts";
import { stopsAtMin } from "../outcome.ts";
import { brokenLimits } from "../recommended/starts.ts";
import type { BrokenLimit } from "../results.ts";
import { canDip, type DipGiven, dipped, loweredFeeds, withheldItems } from "./lowered-feeds.ts";
import type { ShortageOptions } from "./shortage.ts";
import type { Dip, DipCurve, DipResult, VariantId } from "./shortage-results.ts";
import { runVariant, type VariantRun } from "./shortage-run.ts";
import { swingOf } from "./swing.ts";
import { unequalNeeds, variantsOf } from "./variants.ts";

/** Feeds that can dip: those that feed all the time. */
export function dippingFeeds({ feeds }: Scenario): string[] {
  return feeds.filter(canDip).map(({ id }) => id);
}

/**
 * @param dip over before the horizon ends
 * @param options `feeds`: of those that can dip; all of them if left out
 * @throws UnplayableError
 */
export function studyDip(
  given: Scenario,
  dip: DipGiven,
  { feeds: ids = dippingFeeds(given), onProgress }: ShortageOptions = {},
): { dip: Dip; curves: DipCurve[] } {
  const variants = variantsOf(given);
  const scenario = withHorizon(
    given.horizonIsAuto ? { ...given, horizonMin: given.horizonMin.add(dip.fromMin).add(dip.forMin) } : given,
    variants.map(({ networkOf }) => (tried) => {
      const low = dipped(tried, ids, dip);
      return settlesAt({ ...runVariant(low, networkOf(low), { as: "with-dip", level: null }), startsAfterMin: 0 });
    }),
  );
  const low = dipped(scenario, ids, dip);
  const played = variants.map(({ result: { id }, networkOf }, done) => {
    onProgress?.(done, variants.length);
    const without = runVariant(scenario, networkOf(scenario), { as: "without-dip" });
    return { id, without, with: runVariant(low, networkOf(low), { as: "with-dip", level: exact(dip.level) }) };
  });
  const fromMin = approximate(dip.fromMin);
  const forMin = approximate(dip.forMin);
  const results = played.map((one) => dipResult(one, fromMin, fromMin + forMin));
  const [first] = played;
  if (first === undefined) throw new Error("a plant has one variant at least");
  const { horizon_min: horizonMin, output } = first.without.result;
  const endMin = Math.min(horizonMin, fromMin + forMin + shownAfter(results, forMin, fromMin + forMin));
  return {
    dip: {
      title: scenario.title,
      seed: scenario.seed,
      horizon_min: horizonMin,
      feeds: loweredFeeds(scenario, ids),
      full_per_min: output.full_per_min,
      products: Object.keys(output.made_by_item),
      variants: variants.map(({ result }) => result),
      unequal_needs: unequalNeeds(scenario),
      dip: { level: exact(dip.level), from_min: fromMin, for_min: forMin },
      withheld: approximate(withheldItems(scenario, ids, dip)),
      results,
    },
    curves: played.map((one) => curveOf(one.id, one.with, Math.max(0, fromMin - SHOWN_BEFORE * forMin), endMin)),
  };
}

interface PlayedDip {
  readonly id: VariantId;
  readonly without: VariantRun;
  readonly with: VariantRun;
}

function dipResult({ id, without, with: played }: PlayedDip, fromMin: number, endMin: number): DipResult {
  const { settling, output, hold_up: holdUp } = played.result;
  const { settling: undisturbed } = without.result;
  const before = undisturbed.time_min === null ? null : undisturbed.counted_from_min + undisturbed.time_min;
  const stop = stopsAtMin(played.result);
  const after = (minutes: number | null): number | null =>
    minutes === null || stop !== null ? null : Math.max(0, settling.counted_from_min + minutes - endMin);
  return {
    id,
    settled_per_min: output.settled_per_min,
    ...(output.measured_per_min === undefined ? {} : { measured_per_min: output.measured_per_min }),
    proved: settling.proved,
    settled_before: without.result.settling.basis === "measured" ? null : before !== null && before <= fromMin,
    stops_without_min: stopsAtMin(without.result),
    stops_at_min: stop,
    made_without: without.result.output.made,
    made: output.made,
    lost: without.result.output.made - output.made,
    ...lowest(played, fromMin),
    recovery_min: after(settling.time_min),
    within_tolerance_min: after(settling.within_tolerance_min),
    hold_up_before: without.result.settling.proved ? without.result.hold_up.settled : null,
    hold_up_settled: holdUp.settled,
    limits_broken_without: brokenIn(without.result),
    limits_broken: brokenIn(played.result),
  };
}

function brokenIn(result: Outline): BrokenLimit[] | null {
  return result.limits.length === 0 ? null : brokenLimits(result);
}

/** Once the line repeats, a period shows the rest. */
function lowest(played: VariantRun, fromMin: number): Pick<DipResult, "lowest_per_min" | "lowest_at_min"> {
  const { run, made, halfTicks, toMinutes } = played;
  const { recurrence, horizonTicks } = run;
  const known = recurrence ? recurrence.atTick + halfTicks + recurrence.periodTicks : horizonTicks - halfTicks;
  const fromTick = Math.round(fromMin / toMinutes(1));
  const toTick = Math.max(fromTick, Math.min(known, horizonTicks));
  const { low, lowTick } = swingOf(eventsUpTo(made, toTick + halfTicks), halfTicks, fromTick, toTick);
  return { lowest_per_min: low / toMinutes(2 * halfTicks), lowest_at_min: toMinutes(lowTick) };
}

const CURVE_POINTS = 600;
/** Of the dip's length. */
const SHOWN_BEFORE = 0.5;
/** Of the time until the last variant has recovered. */
const SHOWN_AFTER = 1.3;

function shownAfter(results: readonly DipResult[], forMin: number, endMin: number): number {
  const times = results.flatMap(({ stops_at_min: stop, recovery_min: recovery, within_tolerance_min: within }) =>
    stop === null ? [recovery ?? Infinity, within ?? 0] : [stop - endMin],
  );
  return Math.max(forMin, SHOWN_AFTER * Math.max(0, ...times));
}

function curveOf(id: VariantId, played: VariantRun, fromMin: number, endMin: number): DipCurve {
  const { halfTicks, toMinutes, run, made } = played;
  const timesMin = Array.from(
    { length: CURVE_POINTS },
    (_, i) => fromMin + ((i + 1) * (endMin - fromMin)) / CURVE_POINTS,
  );
  const endTick = run.recurrence ? run.horizonTicks + halfTicks : run.steppedTicks;
  const outputPerMin = timesMin.map((minutes) => {
    const tick = Math.min(Math.round(minutes / toMinutes(1)), run.horizonTicks);
    return averageAt(made, 2 * halfTicks, tick, endTick) / toMinutes(1);
  });
  return { id, timesMin, outputPerMin };
}
