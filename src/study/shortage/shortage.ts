/** The feed lowered step by step: what each way to lay the plant out makes of it, and who goes short. */
import type { Outline } from "../../analysis/analyse.ts";
import { approximate, exact, larger, ONE, type Rational, rational, smaller, ZERO } from "../../quantity/rational.ts";
import { LONGEST_LOOK_MIN } from "../../scenario/horizon.ts";
import { hasChance } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { settlesAt, withHorizon } from "../horizon.ts";
import { oneAfterAnother } from "../one-after-another.ts";
import { settledPerMin, stopsAtMin } from "../outcome.ts";
import { overLimits } from "../over-limits.ts";
import { NO_TACTIC, type Played, playedAs } from "../play.ts";
import type { Unranked } from "../recommended/ranking.ts";
import { judgedStarts } from "../recommended/starts.ts";
import { lowered, loweredFeeds } from "./lowered-feeds.ts";
import { type SharedLine, sharedLines, sharesOf } from "./shares.ts";
import type { Fluctuation, LevelJudged, LevelResult, Shortage, ShortageLevel, VariantId } from "./shortage-results.ts";
import { fluctuationOf, runVariant, type VariantRun } from "./shortage-run.ts";
import { unequalNeeds, type Variant, variantsOf } from "./variants.ts";

export interface ShortageOptions {
  /** The feeds that are lowered; all if left out. */
  readonly feeds?: readonly string[] | undefined;
  readonly onProgress?: (done: number, of: number) => void;
}

/** Runs of one study, each to be made by itself: whoever makes which, and when, they come to the same. */
export interface Shortening {
  /** With the horizon of all. */
  readonly scenario: Scenario;
  readonly of: number;
  /** By place. @throws UnplayableError */
  readonly play: (place: number) => LevelPlayed;
  /** @param all by place, what `play` gives */
  readonly studied: (all: readonly LevelPlayed[]) => Shortage;
}

/** One variant on one feed. */
export interface LevelPlayed {
  readonly id: VariantId;
  readonly played: Played;
  /** Where it has not settled, but does in a longer time. */
  readonly later: Played | null;
  readonly fluctuation: Fluctuation;
}

/**
 * @param levels shares of the full feed, above 0, falling
 * @throws UnplayableError
 */
export function studyShortage(
  given: Scenario,
  levels: readonly Rational[],
  { onProgress, ...options }: ShortageOptions = {},
): Shortage {
  const { of, play, studied } = shortening(given, levels, options);
  return studied(oneAfterAnother(of, play, onProgress));
}

/** @throws UnplayableError */
export function shortening(
  given: Scenario,
  levels: readonly Rational[],
  { feeds: ids = given.feeds.map(({ id }) => id) }: Pick<ShortageOptions, "feeds">,
): Shortening {
  const variants = variantsOf(given);
  const runOf = (whole: Scenario, variant: Variant, level: Rational): VariantRun => {
    const { scenario: low } = lowered(whole, ids, level);
    return runVariant(low, variant.networkOf(low), { as: "short-fed", level: exact(level) });
  };
  // The full feed first: what is made of it is told, whether it was asked for or not.
  const played = [ONE, ...levels.filter((level) => level.compare(ONE) !== 0)];
  const places = played.flatMap((level) => variants.map((variant) => ({ level, variant })));
  const scenario = withHorizon(
    given,
    variants.flatMap((variant) =>
      played.map((level) => (tried: Scenario) => settlesAt({ ...runOf(tried, variant, level), startsAfterMin: 0 })),
    ),
  );
  return {
    scenario,
    of: places.length,
    play: (place) => {
      const { variant, level } = places[place] ?? {};
      if (variant === undefined || level === undefined) throw new RangeError(`there is no run ${place}`);
      const run = runOf(scenario, variant, level);
      const later = settledLater(scenario, run, (longer) => runOf(longer, variant, level));
      const { id } = variant.result;
      return {
        id,
        played: asPlayed(id, run),
        later: later === run ? null : asPlayed(id, later),
        fluctuation: fluctuationOf(run),
      };
    },
    studied: (all) => {
      const at = (level: Rational): readonly LevelPlayed[] => {
        const first = Math.max(0, played.indexOf(level)) * variants.length;
        return all.slice(first, first + variants.length);
      };
      return studiedOf({ scenario, variants, ids }, levels, at);
    },
  };
}

interface Studied {
  readonly scenario: Scenario;
  readonly variants: readonly Variant[];
  /** Feeds that are lowered. */
  readonly ids: readonly string[];
}

/** @param at what the variants come to; the full feed where it is asked for another level than these */
function studiedOf(
  { scenario, variants, ids }: Studied,
  levels: readonly Rational[],
  at: (level: Rational) => readonly LevelPlayed[],
): Shortage {
  const full = at(ONE).map(({ played }) => played.result);
  const [asWritten] = full;
  const [written] = variants;
  if (asWritten === undefined || written === undefined) throw new Error("a plant has one variant at least");
  const lines = sharedLines(scenario, written.networkOf(scenario), ids);
  const idealAt = idealOf(full, ids);
  return {
    title: scenario.title,
    seed: scenario.seed,
    horizon_min: asWritten.horizon_min,
    feeds: loweredFeeds(scenario, ids),
    full_per_min: asWritten.output.full_per_min,
    products: Object.keys(asWritten.output.made_by_item),
    variants: variants.map(({ result }) => result),
    unequal_needs: unequalNeeds(scenario),
    levels: levels.map((level) => {
      const { scenario: low, batches } = lowered(scenario, ids, level);
      const found = at(level);
      const judged = judgedLevel(
        low,
        found.map((one, v) => ({ ...one, isBuildable: variants[v]?.result.ideal_ways.length === 0 })),
      );
      return {
        level: exact(level),
        batches,
        ideal_per_min: idealAt(level),
        ...judged.level,
        variants: found.flatMap((one, v) => {
          const its = judged.variants[v];
          return its ? [levelResult(one, its, lines, ids)] : [];
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
  { id, played: { result }, fluctuation }: LevelPlayed,
  judged: LevelJudged,
  lines: readonly SharedLine[],
  ids: readonly string[],
): LevelResult {
  const { settling, output, hold_up: holdUp, feeds } = result;
  const stops = stopsAtMin(result);
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
    ...overLimits(result),
    fluctuation,
    ...sharesOf(result, lines),
  };
}

/** Output in proportion to the feed, as far as the feeds that are lowered are made use of at full feed. */
function idealOf(full: readonly Outline[], ids: readonly string[]): (level: Rational) => number {
  const most = full.map(({ output }) => rateOf(output)).reduce(larger, ZERO);
  const best = full.find(({ output }) => rateOf(output).equals(most));
  const used = (best?.feeds ?? [])
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

interface JudgedLevel {
  readonly level: Pick<
    ShortageLevel,
    "recommended" | "best_without_reserve" | "equal_within_items" | "counted_up_to_min"
  >;
  readonly variants: readonly LevelJudged[];
}

/**
 * Which way to lay the plant out is worth having on one feed: the rule for starts, with the plant as written as what is left.
 * @param all the plant as written first; not all are more than an ideal to compare with
 */
function judgedLevel(
  scenario: Scenario,
  all: readonly (LevelPlayed & { readonly isBuildable: boolean })[],
): JudgedLevel {
  const played = all.map(({ played, later, isBuildable }) => ({ ...played, known: later ?? played, isBuildable }));
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
