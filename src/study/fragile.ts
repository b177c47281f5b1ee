/** Shares of what is too little that hang on the order in which kinds follow one another on a mixed feed. */
import type { FragileShare, Result } from "../analysis/result.ts";
import type { Run } from "../engine/simulate.ts";
import { approximate, rational } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { NO_TACTIC, play } from "./play.ts";

/** A share that moves by more is fragile. */
const MOVED = 0.05;
/** As the first run, and no more. */
const MOST_WORK = 3e8;

/** With the machines that starve and would do more, or less, of it if every mix came in the opposite order. */
export function withFragileShares(result: Result, scenario: Scenario, run: Run): Result {
  const isMixed = scenario.feeds.some(({ items }) => items.length > 1);
  const starves = result.machines.some(({ uptime }) => uptime.settled !== null && uptime.settled < 1);
  const work = run.steppedTicks * run.program.sweepKind.length;
  if (!isMixed || !starves || run.program.random !== null || work > MOST_WORK) return result;
  const feeds = scenario.feeds.map((feed) => ({ ...feed, items: feed.items.toReversed() }));
  const turned = new Map(play({ ...scenario, feeds }, NO_TACTIC).result.machines.map((one) => [one.id, one]));
  const fragile = result.machines.flatMap(({ id, settled_per_min: settled }): FragileShare[] => {
    const other = turned.get(id)?.settled_per_min ?? null;
    if (settled === null || other === null) return [];
    const [now, then] = [approximate(rational(settled)), approximate(rational(other))];
    const isMoved = Math.abs(then - now) > MOVED * Math.max(now, then);
    return isMoved ? [{ machine: id, settled_per_min: settled, turned_per_min: other }] : [];
  });
  return fragile.length === 0 ? result : { ...result, fragile_shares: fragile };
}
