/** Rates that an output may settle at, known without a flow solution: where no machine waits, and where nothing stays behind. */
import { offeredPerMin } from "../network/feeds.ts";
import type { Network } from "../network/network.ts";
import { total } from "../quantity/counts.ts";
import { type Rational, sum, whole } from "../quantity/rational.ts";
import type { Maker } from "./made-curve.ts";

/** What is fed becomes products, if every machine takes from the feeds and makes as many of each item. Products/min. */
export function madeOfAllFed({ feeds, machines, outlets }: Network, makers: readonly Maker[]): Rational | null {
  if (outlets.length > 0 || makers.length < machines.length) return null;
  const [ratio, ...others] = machines.map(({ takes }, m) => {
    const made = makers.find(({ machine }) => machine === m)?.perCycle ?? 0;
    return whole(made).div(whole(total(takes.map(({ count }) => count))));
  });
  if (ratio === undefined || others.some((other) => !other.equals(ratio))) return null;
  return sum(feeds.map(offeredPerMin)).mul(ratio);
}
