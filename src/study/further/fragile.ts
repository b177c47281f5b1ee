/**
 * Shares of what is too little that hang on a tie: on the order in which kinds follow one another on a mixed feed, on a place
 * more or less of room, or on the tick.
 */
import type { FragileShare } from "../../analysis/fragile-results.ts";
import type { Result } from "../../analysis/result.ts";
import type { Run } from "../../engine/simulate.ts";
import { approximate, rational } from "../../quantity/rational.ts";
import type { ItemCount, Scenario } from "../../scenario/scenario.ts";
import { NO_TACTIC, play, UnplayableError } from "../play.ts";
import { withoutWhatHangsOnTick } from "./by-tick.ts";
import { mayHang } from "./finer-looks.ts";

/** A share that moves by more is fragile. */
const MOVED = 0.05;
/** As the first run, and no more. */
const MOST_WORK = 3e8;

/**
 * With the machines that wait and would do more, or less, if every mix came in the opposite order or there were a place more or
 * less; and without the exact rates that a finer tick does not confirm.
 */
export function withFragileShares(result: Result, scenario: Scenario, run: Run): Result {
  const waits = result.machines.some(({ uptime }) => uptime.settled !== null && uptime.settled < 1);
  const work = run.steppedTicks * run.program.sweepKind.length;
  if (!waits || run.program.random !== null) return result;
  const turned =
    work > MOST_WORK || !mayHang(run.program.network, scenario)
      ? []
      : [...byOrder(result, scenario), ...byRoom(result, scenario)];
  const told = turned.length === 0 ? result : { ...result, fragile_shares: turned };
  return withoutWhatHangsOnTick(told, scenario, run);
}

function byOrder(result: Result, scenario: Scenario): FragileShare[] {
  if (!scenario.feeds.some(({ items }) => items.length > 1)) return [];
  return moved(
    result,
    { ...scenario, feeds: scenario.feeds.map((feed) => ({ ...feed, items: feed.items.toReversed() })) },
    "order",
  );
}

function byRoom(result: Result, scenario: Scenario): FragileShare[] {
  const more = moved(result, withRoom(scenario, 1), "room");
  return more.length > 0 ? more : moved(result, withRoom(scenario, -1), "room");
}

/** Never less than a cycle takes or makes. */
function withRoom(scenario: Scenario, by: 1 | -1): Scenario {
  const changed = (room: readonly ItemCount[], cycle: readonly ItemCount[]): ItemCount[] =>
    room.map(({ item, count }) => {
      const least = cycle.find((one) => one.item === item)?.count ?? 1;
      return { item, count: Math.max(least, count + by) };
    });
  const machines = scenario.machines.map((group) => ({
    ...group,
    infeed: changed(group.infeed, group.takes),
    outfeed: changed(group.outfeed, group.makes),
  }));
  return { ...scenario, machines };
}

function moved(result: Result, turned: Scenario, hangs_on: FragileShare["hangs_on"]): FragileShare[] {
  const others = new Map(machinesOf(turned).map((one) => [one.id, one.settled_per_min]));
  return result.machines.flatMap(({ id, settled_per_min: settled }): FragileShare[] => {
    const other = others.get(id) ?? null;
    if (settled === null || other === null) return [];
    const [now, then] = [approximate(rational(settled)), approximate(rational(other))];
    const isMoved = Math.abs(then - now) > MOVED * Math.max(now, then);
    return isMoved ? [{ machine: id, hangs_on, settled_per_min: settled, turned_per_min: other }] : [];
  });
}

function machinesOf(scenario: Scenario): Result["machines"] {
  try {
    return play(scenario, NO_TACTIC).result.machines;
  } catch (error) {
    if (error instanceof UnplayableError) return [];
    throw error;
  }
}
