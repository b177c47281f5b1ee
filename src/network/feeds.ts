/** What a feed offers: its kinds in their order, and how much of them. */
import { commonDivisor, total } from "../quantity/counts.ts";
import { type Rational, smaller, whole, ZERO } from "../quantity/rational.ts";
import type { Feed } from "../scenario/scenario.ts";

export function isFedBy(feed: Pick<Feed, "items">, item: string): boolean {
  return feed.items.some((one) => one.item === item);
}

/** The share of each kind, in file order; they add up to 1. */
export function sharesOf({ items }: Pick<Feed, "items">): { readonly item: string; readonly share: Rational }[] {
  const inAll = whole(total(items.map(({ count }) => count)));
  return items.map(({ item, count }) => ({ item, share: whole(count).div(inAll) }));
}

/** What it offers in the long run, items of all kinds per minute: by its last step, and by its vehicles. */
export function offeredPerMin({ profile, batch }: Pick<Feed, "profile" | "batch">): Rational {
  const last = profile.at(-1)?.ratePerMin ?? ZERO;
  return batch === null ? last : smaller(last, whole(batch.items).div(batch.everyMin));
}

/** Its vehicles bring more than is unloaded meanwhile, so that they wait for one another. */
export function isSlowlyUnloaded({ profile, batch }: Pick<Feed, "profile" | "batch">): boolean {
  return batch !== null && (profile.at(-1)?.ratePerMin ?? ZERO).compare(whole(batch.items).div(batch.everyMin)) < 0;
}

/**
 * The kinds in the order in which they follow one another, over and over: blocks as stated; spread so that no kind is ever
 * a whole item off its share. That takes more than sending the one furthest behind, which fails from five kinds on: of
 * those far enough behind to be sent, it is the one that would soonest be too far, ties in file order
 * (R. Tijdeman, "The chairman assignment problem", Discrete Mathematics 32, 1980: with k kinds, never more than
 * 1 − 1/(2k − 2) off; from memory).
 */
export function sequenceOf({ items, order }: Pick<Feed, "items" | "order">): string[] {
  if (order === "blocks") return items.flatMap(({ item, count }) => Array.from({ length: count }, () => item));
  const divisor = commonDivisor(items.map(({ count }) => count));
  const shares = items.map(({ item, count }) => ({ item, count: count / divisor, sent: 0 }));
  const length = total(shares.map(({ count }) => count));
  if (shares.length === 1) return shares.map(({ item }) => item);
  const parts = 2 * shares.length - 2;
  const soonest = ({ count, sent }: Share): number => (parts - 1 + sent * parts) / count;
  return Array.from({ length }, (_, n) => {
    const isBehind = ({ count, sent }: Share): boolean => ((n + 1) * count - sent * length) * parts >= length;
    const next = shares.filter(isBehind).reduce((first, one) => (soonest(one) < soonest(first) ? one : first));
    next.sent += 1;
    return next.item;
  });
}

interface Share {
  readonly count: number;
  readonly sent: number;
}
