/** What a feed offers: its kinds in their order, and how much of them. */
import { type Rational, smaller, whole, ZERO } from "../quantity/rational.ts";
import type { Feed, FeedStep } from "../scenario/scenario.ts";
import type { FeedElement } from "./network.ts";

/** A feed of one kind, without vehicles. */
export function plainFeed(id: string, item: string, profile: readonly FeedStep[]): FeedElement {
  return { id, items: [{ item, count: 1 }], order: "spread", profile, batch: null };
}

export function isFedBy(feed: Pick<Feed, "items">, item: string): boolean {
  return feed.items.some((one) => one.item === item);
}

/** The share of each kind, in file order; they add up to 1. */
export function sharesOf({ items }: Pick<Feed, "items">): { readonly item: string; readonly share: Rational }[] {
  const total = whole(items.reduce((sum, { count }) => sum + count, 0));
  return items.map(({ item, count }) => ({ item, share: whole(count).div(total) }));
}

/** What it offers in the long run, items of all kinds per minute: by its last step, and by its vehicles. */
export function offeredPerMin({ profile, batch }: Pick<Feed, "profile" | "batch">): Rational {
  const last = profile.at(-1)?.ratePerMin ?? ZERO;
  return batch === null ? last : smaller(last, whole(batch.items).div(batch.everyMin));
}

/**
 * The kinds in the order in which they follow one another, over and over: blocks as stated; spread so that after n items
 * each kind is the one furthest behind its share of n, ties in file order. No kind is ever a whole item off its share
 * (R. Tijdeman, "The chairman assignment problem", Discrete Mathematics 32, 1980, has the bound for a like rule).
 */
export function sequenceOf({ items, order }: Pick<Feed, "items" | "order">): string[] {
  if (order === "blocks") return items.flatMap(({ item, count }) => Array.from({ length: count }, () => item));
  const divisor = items.reduce((common, { count }) => greatestCommonDivisor(common, count), 0);
  const shares = items.map(({ item, count }) => ({ item, count: count / divisor, sent: 0 }));
  const total = shares.reduce((sum, { count }) => sum + count, 0);
  return Array.from({ length: total }, (_, n) => {
    const behind = ({ count, sent }: { count: number; sent: number }): number => (n + 1) * count - sent * total;
    const next = shares.reduce((first, one) => (behind(one) > behind(first) ? one : first));
    next.sent += 1;
    return next.item;
  });
}

function greatestCommonDivisor(a: number, b: number): number {
  return b === 0 ? a : greatestCommonDivisor(b, a % b);
}
