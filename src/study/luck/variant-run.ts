/**
 * One variant played with the luck of one replication: the seed is that of the replication (`replicationSeed`), whatever the
 * variant, and streams are named by element, so that what variants share breaks down, stops and arrives at the same times.
 */
import { amountUpTo } from "../../analysis/events.ts";
import type { Run } from "../../engine/simulate.ts";
import type { Prepared } from "../../network/prepare.ts";
import { inMinutes } from "../../network/tick.ts";
import { total } from "../../quantity/counts.ts";
import { approximate } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import { feedEnds, madeUpTo, outcomeOf } from "../outcome.ts";
import { type Played, tryOutRun } from "../play.ts";
import { gridOf, type ReplicationGrid, replicationSeed, stopsIn } from "../replications/replication.ts";
import type { VariantRun } from "../variant-outcome.ts";

const POINTS_PER_MARK = 15;
const MARKS = 64;

/** Alike for all variants, whatever their ticks. */
export function luckGrid(scenario: Scenario, { program }: Extract<Prepared, { ok: true }>): ReplicationGrid {
  const points = POINTS_PER_MARK * MARKS;
  return {
    stepMin: approximate(scenario.horizonMin) / points,
    points,
    markEvery: POINTS_PER_MARK,
    ...gridOf(program),
  };
}

/** @param replication from 1 @throws UnplayableError */
export function playVariant(
  scenario: Scenario,
  tactic: Tactic,
  replication: number,
  grid: ReplicationGrid,
): VariantRun {
  const seed = replicationSeed(scenario.seed, replication);
  const { played, run } = tryOutRun({ ...scenario, seed }, tactic, "throughout");
  const { result } = played;
  const { items_handled, first_product_min, hold_up_peak, over_limit_min, over_limit_items } = outcomeOf(played);
  return {
    made: madeOn(grid, played),
    held: holdUpOn(grid, run, played.startsAfterMin),
    stops: stopsIn(run),
    outcome: {
      ...{ items_handled, first_product_min, hold_up_peak, over_limit_min, over_limit_items },
      tick_s: result.tick_s,
      feed_ends: feedEnds(result),
      made: madeUpTo(played),
      dwell_mean_min: result.dwell.mean_min,
      dwell_longest_min: result.dwell.longest_min,
    },
    evenness: null,
  };
}

function madeOn({ stepMin, points }: ReplicationGrid, { output, startsAfterMin }: Played): Float64Array {
  const made = new Float64Array(points);
  for (let i = 0; i < points; i++) {
    const tick = tickAt((i + 1) * stepMin - startsAfterMin, output.minutesPerTick);
    made[i] = amountUpTo(output.made, Math.min(tick, output.endTick));
  }
  return made;
}

/** The last tick that is over then, where rounding may not lose the one that is just over. */
function tickAt(minutes: number, minutesPerTick: number): number {
  return Math.floor(minutes / minutesPerTick + 1e-6);
}

function holdUpOn({ stepMin, points, markEvery }: ReplicationGrid, run: Run, startsAfterMin: number): Float64Array {
  const { samples, program } = run;
  const kinds = program.itemCount;
  const minutesPerTick = approximate(inMinutes(1, program.tickS));
  const held = new Float64Array(Math.floor(points / markEvery));
  for (let i = 0; i < held.length * markEvery; i++) {
    const tick = tickAt((i + 1) * stepMin - startsAfterMin, minutesPerTick);
    const sample = Math.min(samples.count, Math.floor(tick / samples.everyTicks)) - 1;
    if (sample < 0) continue;
    const mark = Math.floor(i / markEvery);
    held[mark] = (held[mark] ?? 0) + total(samples.holdUp.subarray(sample * kinds, (sample + 1) * kinds)) / markEvery;
  }
  return held;
}
