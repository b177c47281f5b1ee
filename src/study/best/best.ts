/** The best starts of a line with what its floor grants: searched, listed, proved as far as they are, and written out. */
import { hasChance, NO_RANDOM } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import { tacticEntry } from "../../scenario/tactic.ts";
import { writeScenario } from "../../scenario/write.ts";
import { compareTactics } from "../comparison/compare.ts";
import { withHorizon } from "../horizon.ts";
import { NO_TACTIC } from "../play.ts";
import { type Goals, goalsTold, NO_GOALS, reaches } from "../recommended/goals.ts";
import type { Comparison, StartPriority, TacticCurve, TacticResult } from "../results.ts";
import type { BestStart, BestStudy, OneLess } from "./best-results.ts";
import { cardOf } from "./card.ts";
import { frontOf, winnerBeside } from "./front.ts";
import { type Code, gridOf } from "./grid.ts";
import { itemByItem } from "./item-by-item.ts";
import { bestKnown, knownStart, lessOf, listFrom, namesFor } from "./listed.ts";
import { arrangementsOf, placedByTactic } from "./placed-results.ts";
import { type Bounds, type Found, searchStarts, USUAL_BOUNDS } from "./search.ts";
import { type Trial, trialsOf } from "./trial.ts";
import { type Player, StoppedError, type Tried, triedBy } from "./tried.ts";

export interface BestOptions extends Partial<Bounds> {
  readonly priority?: StartPriority;
  readonly goals?: Goals;
  /** Whether the recommended one is looked at item by item. */
  readonly byItem?: boolean;
  /** Tries one on a thread of its own; here, if left out. */
  readonly play?: Player;
  readonly onProgress?: (what: string, tried: number) => void;
  readonly stop?: { readonly aborted: boolean };
}

export interface BestFound {
  readonly study: BestStudy;
  /** The starts side by side. */
  readonly comparison: Comparison;
  readonly curves: readonly TacticCurve[];
  readonly tactics: readonly Tactic[];
  /** The best of what is known without a search, to be played under chance beside the list that it is not on. */
  readonly beside: BestStart | null;
  /** The file with the starts of the list as its tactics. */
  readonly scenarioText: string;
}

/** What is searched: the line without what is left to chance, which is played on the best few afterwards. */
export function searchedScenario(given: Scenario): Scenario {
  return withHorizon({ ...given, random: NO_RANDOM });
}

/** For threads: what each is to do with a start. */
export function startPlayer(given: Scenario): (code: Code) => Trial | null {
  const scenario = searchedScenario(given);
  return trialsOf(scenario, gridOf(scenario));
}

/** @throws UnplayableError */
export async function bestStarts(given: Scenario, options: BestOptions = {}): Promise<BestFound> {
  const { priority = "loss", goals = NO_GOALS, byItem = true, onProgress, stop } = options;
  const bounds = { ...USUAL_BOUNDS, ...options };
  const scenario = searchedScenario(given);
  const grid = gridOf(scenario);
  const asked = { priority, goals };
  const here = options.play === undefined ? trialsOf(scenario, grid) : null;
  const play: Player = options.play ?? (async (code) => here?.(code) ?? null);
  let what = "searching";
  const tried = triedBy(play, { stop, onProgress: (count) => onProgress?.(what, count) });
  const found = await searched(() => searchStarts(scenario, grid, tried, asked, bounds), tried);
  const { none } = found;
  const coarse = winnerBeside(found.proved, none, tried.all(), asked);
  what = "item by item";
  const isByItem = byItem && !found.wasStopped && coarse?.code.placed.some((amount) => amount > 0) === true;
  const finer = isByItem
    ? await unlessStopped(
        () => itemByItem(grid, tried, coarse, asked),
        () => ({ best: coarse, isProved: false }),
      )
    : { best: coarse, isProved: null, wasStopped: found.wasStopped };
  const winner = finer.best;
  what = "one step less";
  const listed = listFrom(none, winner, tried.all());
  const { less, wasStopped } = finer.wasStopped
    ? { less: new Map<Trial, OneLess>(), wasStopped: true }
    : await unlessStopped(
        async () => ({ less: await lessOf(grid, tried, listed.shown, asked) }),
        () => ({ less: new Map<Trial, OneLess>() }),
      );
  const known = bestKnown(none, found.known, tried, asked);
  const isBeside = hasChance(given.random) && known !== null && !listed.shown.includes(known.trial);
  const named = namesFor(grid, found.known, isBeside ? [...listed.shown, known.trial] : listed.shown);
  const tactics = [...named].filter(([{ start }]) => start.id !== none.start.id).map(([, tactic]) => tactic);
  const { comparison, curves } = compareTactics(scenario, tactics, { priority });
  const recommended = winner === null ? (none.start.isSlower ? null : NO_TACTIC.id) : (named.get(winner)?.id ?? null);
  const rows = [...named].flatMap(([trial, tactic]): BestStart[] => {
    const row = comparison.tactics.find(({ id }) => id === tactic.id);
    if (row === undefined) return [];
    return [
      {
        id: row.id,
        does: row.does,
        tactic: tacticEntry(tactic),
        ramp_up_loss: row.ramp_up_loss,
        to_95_min: row.to_95_min,
        settling_min: row.settling_min,
        items_handled: row.items_handled,
        ...(row.money && { money: row.money }),
        hold_up_peak: row.hold_up_peak,
        over_limit_min: row.over_limit_min,
        reserve_kept: row.reserve_kept,
        bridges_less_min: row.bridges_less_min,
        asks_for: row.asks_for,
        placed: placedByTactic(scenario, tactic),
        reaches_goals: reaches(trial.start, goals),
        one_less: less.get(trial) ?? null,
      },
    ];
  });
  const starts = rows.filter(({ id }) => !isBeside || id !== known.id);
  const chosen = starts.find(({ id }) => id === recommended);
  const card =
    chosen === undefined || chosen.id === NO_TACTIC.id
      ? []
      : cardOf(scenario, tactics.find(({ id }) => id === chosen.id) ?? NO_TACTIC, chosen.placed);
  const hasGoals = Object.values(goals).some((goal) => goal !== null);
  return {
    study: {
      title: comparison.title,
      seed: given.seed,
      tick_s: comparison.tick_s,
      horizon_min: comparison.horizon_min,
      settled_per_min: comparison.settled_per_min,
      priority,
      goals: goalsTold(goals),
      goals_reached: hasGoals ? (chosen?.reaches_goals ?? false) : null,
      recommended,
      starts,
      left_out: listed.leftOut,
      best_known: known && knownStart(known),
      search: {
        tried: tried.count(),
        is_complete: found.isComplete,
        // What is known from elsewhere has no grid about it.
        recommended_is_proved: !found.wasStopped && (found.isComplete || winner?.code.known === null),
        open_starts: found.openStarts,
        item_by_item: finer.isProved,
        was_stopped: wasStopped,
      },
      placements: grid.machines.length === 0 ? null : arrangementsOf(grid, found.placements),
      card,
    },
    comparison: { ...comparison, winner: recommended, tactics: comparison.tactics.map(asListed) },
    curves,
    tactics,
    beside: rows.find((row) => !starts.includes(row)) ?? null,
    scenarioText: writeScenario({ ...given, tactics }),
  };
}

/** A comparison judges by other figures; by those of the list nothing on it is beaten, but for doing nothing. */
function asListed(tactic: TacticResult): TacticResult {
  return tactic.id === NO_TACTIC.id ? tactic : { ...tactic, undominated: true, beaten_by: null };
}

/** What it has found when it is told to stop is all there is, if the line as it is was played. */
async function searched(search: () => Promise<Found>, tried: Tried): Promise<Stoppable<Found>> {
  return unlessStopped(search, () => {
    const [none] = tried.all();
    return (
      none && {
        none,
        known: new Map(),
        placements: [],
        isComplete: false,
        proved: null,
        openStarts: frontOf(tried.all()).length,
      }
    );
  });
}

type Stoppable<T> = T & { readonly wasStopped: boolean };

/** @throws StoppedError where there is nothing instead */
async function unlessStopped<T extends object>(
  work: () => Promise<T>,
  instead: () => T | undefined,
): Promise<Stoppable<T>> {
  try {
    return { ...(await work()), wasStopped: false };
  } catch (error) {
    const so = error instanceof StoppedError ? instead() : undefined;
    if (so === undefined) throw error;
    return { ...so, wasStopped: true };
  }
}
