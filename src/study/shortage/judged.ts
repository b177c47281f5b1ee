/** Which way to lay the plant out is worth having on one feed: the rule for starts, with the plant as written as what is left. */
import { hasChance } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { NO_TACTIC, type Played, playedAs } from "../play.ts";
import type { Unranked } from "../recommended/ranking.ts";
import { judgedStarts } from "../recommended/starts.ts";
import type { LevelJudged, ShortageLevel, VariantId } from "./shortage-results.ts";
import type { VariantRun } from "./shortage-run.ts";

export interface JudgedVariant {
  readonly id: VariantId;
  /** Not only an ideal to compare with. */
  readonly isBuildable: boolean;
  readonly run: VariantRun;
  /** The same over a time in which it settles, if there is one. */
  readonly known: VariantRun;
}

interface JudgedLevel {
  readonly level: Pick<
    ShortageLevel,
    "recommended" | "best_without_reserve" | "equal_within_items" | "counted_up_to_min"
  >;
  readonly variants: readonly LevelJudged[];
}

/** @param all the plant as written first */
export function judgedLevel(scenario: Scenario, all: readonly JudgedVariant[]): JudgedLevel {
  const played = all.map(({ id, run, known, isBuildable }) => ({
    ...asPlayed(id, run),
    known: asPlayed(id, known),
    isBuildable,
  }));
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
