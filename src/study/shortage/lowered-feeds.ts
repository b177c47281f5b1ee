/** Feeds lowered, for good or for a while. */
import { offeredPerMin } from "../../network/feeds.ts";
import {
  approximate,
  exact,
  larger,
  ONE,
  type Rational,
  rational,
  smaller,
  sum,
  ZERO,
} from "../../quantity/rational.ts";
import type { Feed, FeedStep, Scenario } from "../../scenario/scenario.ts";
import type { LoweredFeed } from "./shortage-results.ts";

export interface Lowered {
  readonly scenario: Scenario;
  /** Items of a vehicle, by batch feed. */
  readonly batches: readonly { readonly feed: string; readonly items: number }[];
}

/** Rates times the level; a vehicle brings fewer items, whole ones and at least one, and is unloaded as fast as before. */
export function lowered(scenario: Scenario, ids: readonly string[], level: Rational): Lowered {
  const batches: { feed: string; items: number }[] = [];
  const feeds = scenario.feeds.map((feed): Feed => {
    if (!ids.includes(feed.id)) return feed;
    if (feed.batch === null) return { ...feed, ofNeed: null, profile: feed.profile.map((step) => scaled(step, level)) };
    const items = roundedItems(feed.batch.items, level);
    batches.push({ feed: feed.id, items });
    return { ...feed, batch: { ...feed.batch, items } };
  });
  return { scenario: { ...scenario, feeds }, batches };
}

function roundedItems(items: number, level: Rational): number {
  return approximate(larger(ONE, level.mul(BigInt(items)).add(rational("1/2")).floor()));
}

function scaled(step: FeedStep, level: Rational): FeedStep {
  return { ...step, ratePerMin: step.ratePerMin.mul(level) };
}

export interface DipGiven {
  readonly level: Rational;
  readonly fromMin: Rational;
  readonly forMin: Rational;
}

/** Steady and profiled feeds only: a vehicle is unloaded at its own rate. */
export function canDip({ batch }: Feed): boolean {
  return batch === null;
}

export function dipped(scenario: Scenario, ids: readonly string[], dip: DipGiven): Scenario {
  return {
    ...scenario,
    feeds: scenario.feeds.map((feed) =>
      ids.includes(feed.id) ? { ...feed, ofNeed: null, profile: dippedProfile(feed, dip) } : feed,
    ),
  };
}

function dippedProfile({ profile }: Feed, { level, fromMin, forMin }: DipGiven): FeedStep[] {
  const endMin = fromMin.add(forMin);
  const rateAt = (time: Rational): Rational =>
    profile.findLast((step) => step.fromMin.compare(time) <= 0)?.ratePerMin ?? ZERO;
  const before = profile.filter((step) => step.fromMin.compare(fromMin) < 0);
  const within = profile.filter((step) => step.fromMin.compare(fromMin) > 0 && step.fromMin.compare(endMin) < 0);
  const after = profile.filter((step) => step.fromMin.compare(endMin) > 0);
  return [
    ...before,
    scaled({ fromMin, ratePerMin: rateAt(fromMin) }, level),
    ...within.map((step) => scaled(step, level)),
    { fromMin: endMin, ratePerMin: rateAt(endMin) },
    ...after,
  ];
}

/** What the feeds offer less in the dip. */
export function withheldItems({ feeds }: Scenario, ids: readonly string[], dip: DipGiven): Rational {
  const endMin = dip.fromMin.add(dip.forMin);
  const offered = feeds
    .filter(({ id }) => ids.includes(id))
    .flatMap(({ profile }) =>
      profile.map(({ fromMin, ratePerMin }, i) => {
        const begins = larger(fromMin, dip.fromMin);
        const next = profile[i + 1]?.fromMin ?? endMin;
        return ratePerMin.mul(larger(ZERO, smaller(next, endMin).sub(begins)));
      }),
    );
  return sum(offered).mul(ONE.sub(dip.level));
}

export function loweredFeeds({ feeds }: Scenario, ids: readonly string[]): LoweredFeed[] {
  return feeds
    .filter(({ id }) => ids.includes(id))
    .map((feed) => ({
      id: feed.id,
      rate_per_min: exact(offeredPerMin(feed)),
      batch_items: feed.batch?.items ?? null,
    }));
}
