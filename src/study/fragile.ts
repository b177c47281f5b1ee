/**
 * Shares of what is too little that hang on a tie: on the order in which kinds follow one another on a mixed feed, or, where
 * belts are merged, on moments so close that a finer tick tells them apart otherwise.
 */
import type { FragileShare, Result } from "../analysis/result.ts";
import type { Run } from "../engine/simulate.ts";
import type { Network } from "../network/network.ts";
import { approximate, type Rational, rational } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { NO_TACTIC, play } from "./play.ts";

/** A share that moves by more with the order is fragile. */
const MOVED = 0.05;
/** Of the first run or of all finer ones together, and no more. */
const MOST_WORK = 3e8;
/** One that halves and one that shares no multiple with it: of 1,300 random lines they found all that any tick did. */
const FINER = [2, 7];

/**
 * With the machines that starve or are held up and would do more, or less, of it if every mix came in the opposite order, or
 * with a finer tick.
 */
export function withFragileShares(result: Result, scenario: Scenario, run: Run): Result {
  const waits = result.machines.some(({ uptime }) => uptime.settled !== null && uptime.settled < 1);
  if (!waits || run.program.random !== null) return result;
  const work = run.steppedTicks * run.program.sweepKind.length;
  const times = FINER.reduce((sum, times) => sum + times, 0);
  const fragile = [
    ...(work <= MOST_WORK ? byOrder(result, scenario) : []),
    ...(times * work <= MOST_WORK ? byTick(result, scenario, run) : []),
  ];
  return fragile.length === 0 ? result : { ...result, fragile_shares: fragile };
}

function byOrder(result: Result, scenario: Scenario): FragileShare[] {
  if (!scenario.feeds.some(({ items }) => items.length > 1)) return [];
  const feeds = scenario.feeds.map((feed) => ({ ...feed, items: feed.items.toReversed() }));
  return moved(result, { ...scenario, feeds }, "order", (now, then) => {
    const [less, more] = now.compare(then) < 0 ? [now, then] : [then, now];
    return approximate(more.sub(less)) > MOVED * approximate(more);
  });
}

function byTick(result: Result, scenario: Scenario, { program, recurrence }: Run): FragileShare[] {
  if (recurrence === null || !mergesBelts(program.network)) return [];
  for (const times of FINER) {
    const finer = { ...scenario, tickS: program.tickS.div(times) };
    const found = moved(result, finer, "tick", (now, then) => !now.equals(then));
    if (found.length > 0) return found;
  }
  return [];
}

function mergesBelts({ merges, connections }: Network): boolean {
  const names = new Set(merges.map(({ id }) => id));
  return connections.some(({ to, belt }) => belt !== null && names.has(to));
}

function moved(
  { machines }: Result,
  turned: Scenario,
  hangs_on: FragileShare["hangs_on"],
  isMoved: (now: Rational, then: Rational) => boolean,
): FragileShare[] {
  const others = new Map(play(turned, NO_TACTIC).result.machines.map((one) => [one.id, one.settled_per_min]));
  return machines.flatMap(({ id, settled_per_min: now }): FragileShare[] => {
    const then = others.get(id) ?? null;
    if (now === null || then === null || !isMoved(rational(now), rational(then))) return [];
    return [{ machine: id, hangs_on, settled_per_min: now, turned_per_min: then }];
  });
}
