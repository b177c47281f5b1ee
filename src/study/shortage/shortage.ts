/** The feed lowered step by step: what each way to lay the plant out makes of it, and who goes short. */
import { approximate, exact, larger, ONE, type Rational, rational, smaller, ZERO } from "../../quantity/rational.ts";
import { formatPercentage } from "../../quantity/units.ts";
import { LONGEST_LOOK_MIN } from "../../scenario/horizon.ts";
import { hasChance } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { settlesAt, withHorizon } from "../horizon.ts";
import { settledPerMin, stopsAtMin } from "../outcome.ts";
import { overLimits } from "../over-limits.ts";
import { NO_TACTIC, type Played, playedAs } from "../play.ts";
import type { Unranked } from "../recommended/ranking.ts";
import { judgedStarts } from "../recommended/starts.ts";
import { lowered, loweredFeeds } from "./lowered-feeds.ts";
import { type SharedLine, sharedLines, sharesOf } from "./shares.ts";
import type { LevelJudged, LevelResult, Shortage, ShortageLevel, VariantId } from "./shortage-results.ts";
import { fluctuationOf, runVariant, type VariantRun } from "./shortage-run.ts";
import { unequalNeeds, type Variant, variantsOf } from "./variants.ts";

export interface ShortageOptions {
  /** The feeds that are lowered; all if left out. */
  readonly feeds?: readonly string[] | undefined;
  readonly onProgress?: (done: number, of: number) => void;
}

/**
 * @param levels shares of the full feed, above 0, falling
 * @throws UnplayableError
 */
export function studyShortage(given: Scenario, levels: readonly Rational[], options: ShortageOptions = {}): Shortage {
  const { feeds: ids = given.feeds.map(({ id }) => id), onProgress } = options;
  const variants = variantsOf(given);
  const stated = levels.filter((level) => level.compare(ONE) !== 0);
  const runs = variants.length * (1 + stated.length);
  let done = 0;
  const runOf = (whole: Scenario, variant: Variant, level: Rational): VariantRun => {
    const { scenario: low } = lowered(whole, ids, level);
    return runVariant(low, variant.networkOf(low), `the line on ${formatPercentage(level)} of the feed`);
  };
  const scenario = withHorizon(
    given,
    variants.flatMap((variant) =>
      [ONE, ...stated].map(
        (level) => (tried: Scenario) => settlesAt({ ...runOf(tried, variant, level), startsAfterMin: 0 }),
      ),
    ),
  );
  const runAt = (variant: Variant, level: Rational): VariantRun => {
    onProgress?.(done++, runs);
    return runOf(scenario, variant, level);
  };

  const full = variants.map((variant) => runAt(variant, ONE));
  const [asWritten] = full;
  if (asWritten === undefined) throw new Error("a plant has one variant at least");
  const lines = sharedLines(scenario, asWritten.network, ids);
  const idealAt = idealOf(full, ids);
  return {
    title: scenario.title,
    seed: scenario.seed,
    horizon_min: asWritten.result.horizon_min,
    feeds: loweredFeeds(scenario, ids),
    full_per_min: asWritten.result.output.full_per_min,
    products: Object.keys(asWritten.result.output.made_by_item),
    variants: variants.map(({ result }) => result),
    unequal_needs: unequalNeeds(scenario),
    levels: levels.map((level) => {
      const { scenario: low, batches } = lowered(scenario, ids, level);
      const played = variants.map((variant, v) => {
        const run = (level.compare(ONE) === 0 ? full[v] : undefined) ?? runAt(variant, level);
        const { id, ideal_ways: ideal } = variant.result;
        return {
          id,
          isBuildable: ideal.length === 0,
          run,
          known: settledLater(scenario, run, (longer) => runOf(longer, variant, level)),
        };
      });
      const judged = judgedLevel(low, played);
      return {
        level: exact(level),
        batches,
        ideal_per_min: idealAt(level),
        ...judged.level,
        variants: variants.flatMap((variant, v) => {
          const [own, its] = [played[v], judged.variants[v]];
          return own && its ? [levelResult(variant, own.run, its, lines, ids)] : [];
        }),
      };
    }),
  };
}

/** What has not settled within the horizon is judged by a day. */
function settledLater(scenario: Scenario, own: VariantRun, runFor: (longer: Scenario) => VariantRun): VariantRun {
  if (own.result.settling.time_min !== null || hasChance(scenario.random)) return own;
  if (scenario.horizonMin.compare(LONGEST_LOOK_MIN) >= 0) return own;
  const later = runFor({ ...scenario, horizonMin: LONGEST_LOOK_MIN });
  return later.result.settling.time_min === null ? own : later;
}

function levelResult(
  { result: { id } }: Variant,
  played: VariantRun,
  judged: LevelJudged,
  lines: readonly SharedLine[],
  ids: readonly string[],
): LevelResult {
  const { settling, output, hold_up: holdUp, feeds } = played.result;
  const stops = stopsAtMin(played.result);
  return {
    id,
    basis: settling.basis,
    settled_per_min: output.settled_per_min,
    ...(output.measured_per_min === undefined ? {} : { measured_per_min: output.measured_per_min }),
    settled_by_item_per_min: output.settled_by_item_per_min,
    feeds: feeds
      .filter((feed) => ids.includes(feed.id))
      .map(({ id: feed, rate_per_min: offered, settled_per_min: settled, measured_per_min: measured }) => ({
        id: feed,
        offered_per_min: offered,
        settled_per_min: settled,
        ...(measured === undefined ? {} : { measured_per_min: measured }),
      })),
    share_of_full: (settledPerMin(output) ?? 0) / approximate(rational(output.full_per_min)),
    settling_min: stops === null ? settling.time_min : null,
    stops_at_min: stops,
    proved: settling.proved,
    hold_up_settled: holdUp.settled,
    ...judged,
    ...overLimits(played.result),
    fluctuation: fluctuationOf(played),
    ...sharesOf(played.result, lines),
  };
}

/** Output in proportion to the feed, as far as the feeds that are lowered are made use of at full feed. */
function idealOf(full: readonly VariantRun[], ids: readonly string[]): (level: Rational) => number {
  const most = full.map(({ result }) => rateOf(result.output)).reduce(larger, ZERO);
  const best = full.find(({ result }) => rateOf(result.output).equals(most));
  const used = (best?.result.feeds ?? [])
    .filter(({ id }) => ids.includes(id))
    .map((feed) => ({ taken: rateOf(feed), offered: rational(feed.rate_per_min) }))
    .map(({ taken, offered }) => (offered.compare(0) > 0 ? smaller(ONE, taken.div(offered)) : ZERO))
    .reduce(larger, ZERO);
  return (level) => approximate(used.compare(0) === 0 ? most : smaller(most, most.mul(level).div(used)));
}

/** Exact where it is known, else as measured. */
function rateOf(rates: { readonly settled_per_min: string | null; readonly measured_per_min?: number }): Rational {
  return rational(rates.settled_per_min ?? (rates.measured_per_min ?? 0).toFixed(9));
}

/** Which way to lay the plant out is worth having on one feed: the rule for starts, with the plant as written as what is left. */
export interface JudgedVariant {
  readonly id: VariantId;
  /** Not only an ideal to compare with. */
  readonly isBuildable: boolean;
  readonly run: VariantRun;
  /** The same over a time in which it settles, if there is one. */
  readonly known: VariantRun;
}

interface JudgedLevel {
  readonly level: Pick<
    ShortageLevel,
    "recommended" | "best_without_reserve" | "equal_within_items" | "counted_up_to_min"
  >;
  readonly variants: readonly LevelJudged[];
}

/** @param all the plant as written first */
function judgedLevel(scenario: Scenario, all: readonly JudgedVariant[]): JudgedLevel {
  const played = all.map(({ id, run, known, isBuildable }) => ({
    ...asPlayed(id, run),
    known: asPlayed(id, known),
    isBuildable,
  }));
  const judged = judgedStarts(scenario, played, "loss");
  const { starts, equalWithin, countedUpTo } = judged;
  const buildable = played.filter(({ isBuildable }) => isBuildable);
  const { recommended } = buildable.length === played.length ? judged : judgedStarts(scenario, buildable, "loss");
  const isLuck = hasChance(scenario.random);
  const variantOf = (found: string | null): VariantId | null =>
    isLuck ? null : (all.find(({ id }) => id === found)?.id ?? null);
  return {
    level: {
      recommended: variantOf(recommended.winner),
      best_without_reserve: variantOf(recommended.withoutReserve),
      equal_within_items: equalWithin,
      counted_up_to_min: countedUpTo,
    },
    variants: starts.map(judgedIn),
  };
}

function asPlayed(id: VariantId, { run, result, halfTicks }: VariantRun): Played {
  return playedAs({ ...NO_TACTIC, id }, run, result, 2 * halfTicks);
}

function judgedIn(start: Unranked): LevelJudged {
  const { ramp_up_loss, to_95_min, slower_for_good, reserve_kept, bridges_less_min, limits_broken } = start;
  return { ramp_up_loss, to_95_min, slower_for_good, reserve_kept, bridges_less_min, limits_broken };
}
