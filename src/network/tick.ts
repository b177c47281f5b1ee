/** How long a tick is, and how many a duration takes. */
import { approximate, larger, ONE, type Rational, ratio, rational, smaller, whole } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { groupsByName } from "./groups.ts";
import type { Network } from "./network.ts";

const SECONDS_PER_MINUTE = whole(60);
const LONGEST_TICK_S = ONE;

/** An element that acts over and over, and its interval in seconds. */
export interface Rated {
  readonly id: string;
  readonly intervalS: Rational;
}

function ratedElements(network: Network): Rated[] {
  const rated: Rated[] = [];
  const add = (id: string, intervalMin: Rational): void => {
    rated.push({ id, intervalS: intervalMin.mul(SECONDS_PER_MINUTE) });
  };
  for (const { id, profile } of network.feeds) {
    for (const { ratePerMin } of profile) if (ratePerMin.compare(0) > 0) add(id, ratePerMin.inverse());
  }
  for (const { id, belt } of network.connections) if (belt) add(id, belt.ratePerMin.inverse());
  for (const { id, cycleMin } of network.machines) add(id, cycleMin);
  return rated;
}

function fastest(rated: readonly Rated[]): Rated | null {
  return rated.reduce<Rated | null>(
    (first, one) => (first === null || one.intervalS.compare(first.intervalS) < 0 ? one : first),
    null,
  );
}

/** Every element acts at most every second tick, which is what keeps rounding to ticks from costing throughput. */
export function longestTickS(network: Network): Rational {
  return fastest(ratedElements(network))?.intervalS.div(2n) ?? LONGEST_TICK_S;
}

/** The fastest of those that a tick is too long for: intervals that are whole ticks are never rounded, and may be one tick. */
export function tooFastFor(tickS: Rational, network: Network): Rated | null {
  return fastest(
    ratedElements(network).filter(({ intervalS }) => {
      const ticks = intervalS.div(tickS);
      return ticks.compare(2) < 0 && (ticks.compare(1) < 0 || ticks.d !== 1n);
    }),
  );
}

/**
 * Ticks in the shortest cycle that is left to chance. Where an item is handed to a machine that waits for it, the machine begins
 * a tick later; under chance that happens all the time, and cannot be caught up with.
 */
const TICKS_IN_RANDOM_CYCLE = 100n;

/**
 * What ticks may take off the output at most, as a share, for each tick in the shortest cycle left to chance. Measured on two to five
 * machines with hardly a buffer between them, where it is most: 0.02 to 0.06 with spreading cycles, 0.01 with
 * breakdowns alone; 0.001 on ten machines with buffers of 75.
 */
export const TAKEN_PER_TICK = 0.06;

/** `null` where no machine's cycles or stops are left to chance. */
export function shortestRandomCycleMin(scenario: Scenario, { machines }: Pick<Network, "machines">): Rational | null {
  const groups = groupsByName(scenario);
  const random = new Set(scenario.random.machines.map(({ id }) => id));
  const cycles = machines.flatMap(({ id, cycleMin }) =>
    random.has(id) || random.has(groups.get(id)?.id ?? id) ? [cycleMin] : [],
  );
  return cycles.reduce<Rational | null>((least, one) => (least === null ? one : smaller(least, one)), null);
}

/**
 * Half of the longest of 1, 1/2, 1/5, 1/10 … s (the 1-2-5 series) that is short enough, or 1 s. Not that itself: looked at with a shorter
 * tick, the headlines of 9 in 300 random lines moved by more than 2 % and 0.2 min, since single gaps come or not as items fall
 * into ticks; so it is 4. Not the next of the series: where intervals are no whole ticks any more, a quarter fewer lines recur.
 * It costs a tenth of a run.
 * @param randomCycleMin the shortest that is left to chance
 */
export function autoTickS(network: Network, randomCycleMin: Rational | null = null): Rational {
  const most = LONGEST_TICK_S.mul(2n);
  const forRates = smaller(fastest(ratedElements(network))?.intervalS.div(2n) ?? most, most);
  const forChance = randomCycleMin?.mul(SECONDS_PER_MINUTE).div(TICKS_IN_RANDOM_CYCLE).mul(2n);
  const limit = forChance === undefined ? forRates : smaller(forRates, forChance);
  if (limit.compare(most) >= 0) return LONGEST_TICK_S;
  for (let decade = 1n; ; decade *= 10n) {
    for (const step of [1n, 2n, 5n]) {
      if (ratio(1n, step * decade).compare(limit) <= 0) return ratio(1n, 2n * step * decade);
    }
  }
}

/** The whole ticks that fit into a duration. */
export function ticksWithin(durationMin: Rational, tickS: Rational): number {
  return approximate(durationMin.mul(SECONDS_PER_MINUTE).div(tickS).floor());
}

/** The first tick at which a duration has passed. */
export function ticksUntil(durationMin: Rational, tickS: Rational): number {
  return approximate(durationMin.mul(SECONDS_PER_MINUTE).div(tickS).ceil());
}

/** The nearest whole number of ticks, at least one. */
export function nearestTicks(durationMin: Rational, tickS: Rational): number {
  return approximate(larger(ONE, durationMin.mul(SECONDS_PER_MINUTE).div(tickS).add(rational("1/2")).floor()));
}

/** Exactly, as a fraction of minutes. */
export function inMinutes(ticks: number, tickS: Rational): Rational {
  return tickS.mul(whole(ticks)).div(SECONDS_PER_MINUTE);
}

/** Exactly, as a fraction of ticks. */
export function inTicks(durationMin: Rational, tickS: Rational): Rational {
  return durationMin.mul(SECONDS_PER_MINUTE).div(tickS);
}
