/** Tactics side by side: each played on the same line, what is worth doing first, then what nothing beats. */
import { amountUpTo, trainOf } from "../../analysis/events.ts";
import { outputPerCycle } from "../../analysis/makers.ts";
import { averageAt } from "../../analysis/moving-average.ts";
import { simulate } from "../../engine/simulate.ts";
import type { FeedElement, Network } from "../../network/network.ts";
import { compilePriming, type Intervention, type Priming } from "../../network/priming.ts";
import { applyTactic } from "../../network/tactics/apply.ts";
import { groupBy } from "../../quantity/counts.ts";
import { approximate, whole, ZERO } from "../../quantity/rational.ts";
import { LONGEST_LOOK_MIN } from "../../scenario/horizon.ts";
import { hasChance } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { statedText, type Tactic } from "../../scenario/tactic.ts";
import { settlesAt, withHorizon } from "../horizon.ts";
import { oneAfterAnother } from "../one-after-another.ts";
import { feedEnds, settledPerMin } from "../outcome.ts";
import {
  endedByHorizon,
  NO_TACTIC,
  type Played,
  plainNetwork,
  preparedWith,
  tryOut,
  tryOutRun,
  tryTactic,
} from "../play.ts";
import { idleParts, partsOf, seenAlone, seenOf, withoutParts } from "../recommended/idle-parts.ts";
import { inOrder } from "../recommended/ranking.ts";
import { judgedStarts, type PlayedStart } from "../recommended/starts.ts";
import type { Comparison, StartPriority, Stops, TacticCurve, TacticResult } from "../results.ts";

export interface CompareOptions {
  readonly priority?: StartPriority;
  readonly onProgress?: (done: number, of: number) => void;
}

/** Tactics to be compared, each to be played by itself: whoever plays which, and when, they come to the same. */
export interface Comparing {
  /** With the horizon of all. */
  readonly scenario: Scenario;
  readonly of: number;
  /** By place. @throws UnplayableError */
  readonly play: (place: number) => TacticPlayed;
  /** @param all by place, what `play` gives, or a copy of it */
  readonly compared: (all: readonly TacticPlayed[]) => { comparison: Comparison; curves: TacticCurve[] };
}

export interface TacticPlayed {
  /** `null` where it cannot be simulated. */
  readonly seen: string | null;
  /** `null` of a tactic that is only looked at. */
  readonly start: {
    readonly played: Played;
    /** Where it has not settled, but does in a longer time. */
    readonly later: Played | null;
    readonly whileStopped: TacticResult["made_while_stopped"];
  } | null;
}

/** @throws UnplayableError */
export function compareTactics(
  given: Scenario,
  tactics: readonly Tactic[],
  { priority, onProgress }: CompareOptions = {},
): { comparison: Comparison; curves: TacticCurve[] } {
  const { of, play, compared } = comparing(given, tactics, priority);
  return compared(oneAfterAnother(of, play, onProgress));
}

/** @throws UnplayableError */
export function comparing(given: Scenario, tactics: readonly Tactic[], priority: StartPriority = "loss"): Comparing {
  const all = [NO_TACTIC, ...tactics];
  const variants = all.map((tactic) => (tried: Scenario) => settlesAt(tryOut(tried, tactic)));
  const scenario = withHorizon(given, variants);
  const isLuck = hasChance(scenario.random);
  const stops = isLuck ? null : stopsOf(plainNetwork(scenario));
  const stopping = { ...scenario, horizonMin: TO };
  const asides = withoutParts(scenario, all);
  return {
    scenario,
    of: all.length + asides.length,
    play: (place) => {
      const tactic = all[place];
      if (tactic === undefined)
        return { seen: seenAlone(scenario, asides[place - all.length] ?? NO_TACTIC), start: null };
      const { played, run } = tryOutRun(scenario, tactic);
      const later = settledLater(scenario, played);
      const whileStopped = madeWhileStopped(stopping, tactic, stops);
      return { seen: seenOf(played, run), start: { played, later: later === played ? null : later, whileStopped } };
    },
    compared: (found) => {
      const seen = new Map(
        [...all, ...asides].map((tactic, place) => [statedText(tactic), found[place]?.seen ?? null]),
      );
      const rows = groupBy([...all.entries()], ([place]) => found[place]?.seen ?? "");
      const played = [...rows.values()].flatMap((alike): PlayedStart[] => {
        const starts = alike.flatMap(([place, tactic]) => {
          const { start = null } = found[place] ?? {};
          if (start === null) return [];
          // A copy that comes from another thread has no fractions any more.
          const own = { tactic, notes: tryTactic(scenario, tactic).primed.notes };
          const played = { ...start.played, ...own };
          const idle = isLuck ? [] : idleParts(own, seen);
          return [{ ...played, known: start.later ?? played, idle, whileStopped: start.whileStopped }];
        });
        const [one, ...others] = starts.toSorted(simplestFirst);
        return one === undefined ? [] : [{ ...one, alike: others }];
      });
      return {
        comparison: { ...comparisonOf(scenario, played, priority), stops },
        curves: curvesOf(played.map((one) => ({ ...one, id: one.tactic.id }))),
      };
    },
  };
}

/** Of those that do the same, the one that is stated most simply stands for all. */
function simplestFirst({ tactic: a }: Played, { tactic: b }: Played): number {
  const byText = (one: string, other: string): number => (one === other ? 0 : one < other ? -1 : 1);
  return partsOf(a).length - partsOf(b).length || byText(statedText(a), statedText(b)) || byText(a.id, b.id);
}

/** What is recommended must not hang on the horizon: what has not settled within it is judged by a day. */
export function settledLater(scenario: Scenario, played: Played): Played {
  if (settlesAt(played) !== null || hasChance(scenario.random)) return played;
  if (scenario.horizonMin.compare(LONGEST_LOOK_MIN) >= 0) return played;
  const later = tryOut({ ...scenario, horizonMin: LONGEST_LOOK_MIN }, played.tactic);
  return settlesAt(later) === null ? played : later;
}

/** @param played the baseline first */
export function comparisonOf(
  scenario: Scenario,
  played: readonly (Played & Partial<PlayedStart>)[],
  priority: StartPriority = "loss",
): Comparison {
  const [baseline] = played;
  if (baseline === undefined) throw new Error("a comparison has a baseline");
  const { result } = baseline;
  const { starts, recommended, equalWithin, countedUpTo } = judgedStarts(scenario, played, priority);
  return {
    title: scenario.title,
    seed: scenario.seed,
    tick_s: result.tick_s,
    horizon_min: result.horizon_min,
    settled_per_min: settledPerMin(result.output),
    feed_ends: feedEnds(result),
    priority,
    winner: recommended.winner,
    best_without_reserve: recommended.withoutReserve,
    best_with_hands: recommended.withHands,
    best_with_other_means: recommended.withOtherMeans,
    nothing_qualifies: recommended.nothingQualifies,
    equal_within_items: equalWithin,
    counted_up_to_min: countedUpTo,
    stops: null,
    tactics: inOrder(starts, recommended.winner),
  };
}

const CURVE_POINTS = 1500;
/** What is shown after the last of the tactics that settle has done so. */
const SHOWN_AFTER = 1.25;

/** On one time axis for all. */
export function curvesOf(
  played: readonly (Pick<Played, "result" | "output" | "startsAfterMin"> & { readonly id: string })[],
): TacticCurve[] {
  const settled = played.flatMap(({ result, startsAfterMin }) =>
    result.settling.time_min === null
      ? []
      : result.settling.counted_from_min + result.settling.time_min + startsAfterMin,
  );
  const horizonMin = Math.min(...played.map(({ result }) => result.horizon_min));
  const endMin = settled.length === 0 ? horizonMin : Math.min(horizonMin, Math.max(1, ...settled) * SHOWN_AFTER);
  const timesMin = Array.from({ length: CURVE_POINTS }, (_, i) => ((i + 1) * endMin) / CURVE_POINTS);
  return played.map(({ id, output, startsAfterMin }) => {
    const { minutesPerTick, endTick, windowTicks } = output;
    const ticks = timesMin.map((minutes) => Math.floor((minutes - startsAfterMin) / minutesPerTick));
    return {
      id,
      timesMin,
      made: ticks.map((tick) => amountUpTo(output.made, Math.min(tick, endTick))),
      outputPerMin: ticks.map((tick) =>
        tick < 0 ? 0 : averageAt(output.made, windowTicks, tick, endTick) / minutesPerTick,
      ),
    };
  });
}

const FROM = whole(5);
const TO = whole(10);

/** Vehicles are unloaded at their own rate, so that such feeds do not stop. */
export function stopsOf(network: Network): Stops | null {
  const machine = network.machines[0]?.id;
  if (machine === undefined) return null;
  const feeds = network.feeds.filter(({ batch }) => batch === null).map(({ id }) => id);
  return { machine, feeds, from_min: approximate(FROM), to_min: approximate(TO) };
}

/** @param scenario ended when what is made is counted */
function madeWhileStopped(scenario: Scenario, tactic: Tactic, stops: Stops | null): TacticResult["made_while_stopped"] {
  if (stops === null) return { machine: null, feeds: null };
  const { network, priming } = applyTactic(scenario, plainNetwork(scenario), tactic);
  const withStop = { ...priming, interventions: [...priming.interventions, stopOf(stops.machine)] };
  return {
    machine: madeWith(scenario, network, withStop),
    feeds: stops.feeds.length === 0 ? null : madeWith(scenario, withoutFeeds(scenario, network, stops.feeds), priming),
  };
}

function withoutFeeds(scenario: Scenario, network: Network, feeds: readonly string[]): Network {
  const isOwn = new Set(scenario.feeds.map(({ id }) => id));
  // A second feed is part of the feed.
  const isStopped = ({ id }: FeedElement): boolean => feeds.includes(id) || !isOwn.has(id);
  return {
    ...network,
    feeds: network.feeds.map((feed) => (isStopped(feed) ? { ...feed, profile: stopped(feed.profile) } : feed)),
  };
}

/** `null` where it cannot be simulated. */
function madeWith(scenario: Scenario, network: Network, given: Priming): number | null {
  const prepared = preparedWith(scenario, network);
  if (!prepared.ok) return null;
  const { program, horizonTicks } = prepared;
  const priming = compilePriming(program, endedByHorizon(given, TO));
  const run = simulate(program, { horizonTicks, seed: scenario.seed, priming, sampling: "late", stepAll: true });
  const perCycle = outputPerCycle(network);
  const made = trainOf(run, (m) => perCycle[m] ?? 0);
  const fromTick = Math.floor(approximate(FROM.div(program.tickS.div(60n))) + 1e-6);
  return amountUpTo(made, horizonTicks) - amountUpTo(made, fromTick);
}

function stopOf(machine: string): Intervention {
  return { whenFull: null, afterMin: FROM, actions: [{ do: "stop", machines: [machine] }] };
}

function stopped(profile: FeedElement["profile"]): FeedElement["profile"] {
  return [...profile.filter(({ fromMin }) => fromMin.compare(FROM) < 0), { fromMin: FROM, ratePerMin: ZERO }];
}
