/** Tactics side by side: each played on the same line, what is worth doing first, then what nothing beats. */
import { amountUpTo, trainOf } from "../../analysis/events.ts";
import { outputPerCycle } from "../../analysis/makers.ts";
import { averageAt } from "../../analysis/moving-average.ts";
import { simulate } from "../../engine/simulate.ts";
import { expand } from "../../network/expand.ts";
import type { FeedElement, Network } from "../../network/network.ts";
import { prepareNetwork } from "../../network/prepare.ts";
import { compilePriming, type Intervention } from "../../network/priming.ts";
import { applyTactic } from "../../network/tactics/apply.ts";
import { approximate, whole, ZERO } from "../../quantity/rational.ts";
import { LONGEST_LOOK_MIN } from "../../scenario/horizon.ts";
import { hasChance } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import { statedText } from "../../scenario/tactic-form.ts";
import { settlesAt, withHorizon } from "../horizon.ts";
import { feedEnds, settledPerMin } from "../outcome.ts";
import { NO_TACTIC, type Played, play, playRun } from "../play.ts";
import { idleParts, partsOf, seenOf } from "../recommended/idle-parts.ts";
import { inOrder } from "../recommended/ranking.ts";
import type { StartPriority } from "../recommended/recommended.ts";
import { judgedStarts, type PlayedStart } from "../recommended/starts.ts";
import type { Comparison, Stops, TacticCurve, TacticResult } from "../results.ts";

export interface CompareOptions {
  readonly priority?: StartPriority;
  readonly onProgress?: (done: number, of: number) => void;
}

/** @throws UnplayableError */
export function compareTactics(
  given: Scenario,
  tactics: readonly Tactic[],
  { priority = "loss", onProgress }: CompareOptions = {},
): { comparison: Comparison; curves: TacticCurve[] } {
  const all = [NO_TACTIC, ...tactics];
  const variants = all.map((tactic) => (tried: Scenario) => settlesAt(play(tried, tactic)));
  const scenario = withHorizon(given, variants);
  const stops = hasChance(scenario.random) ? null : stopsOf(expand(scenario));
  const rows = new Map<string, Played[]>();
  for (const [done, tactic] of all.entries()) {
    onProgress?.(done, all.length);
    const { played, run } = playRun(scenario, tactic);
    const seen = seenOf(played, run);
    rows.set(seen, [...(rows.get(seen) ?? []), played]);
  }
  const [none = ""] = rows.keys();
  const played = [...rows].flatMap(([seen, alike]): PlayedStart[] => {
    const [one, ...others] = alike.toSorted(simplestFirst);
    if (one === undefined) return [];
    return [
      {
        ...one,
        known: settledLater(scenario, one),
        idle: idleParts(scenario, one, seen, none),
        alike: others.map((other) => ({ ...other, idle: idleParts(scenario, other, seen, none) })),
        whileStopped: madeWhileStopped(scenario, one.tactic, stops),
      },
    ];
  });
  return {
    comparison: { ...comparisonOf(scenario, played, priority), stops },
    curves: curvesOf(played.map((one) => ({ ...one, id: one.tactic.id }))),
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
  const later = play({ ...scenario, horizonMin: LONGEST_LOOK_MIN }, played.tactic);
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

function madeWhileStopped(given: Scenario, tactic: Tactic, stops: Stops | null): TacticResult["made_while_stopped"] {
  if (stops === null) return { machine: null, feeds: null };
  const scenario = { ...given, horizonMin: TO };
  const primed = applyTactic(scenario, expand(scenario), tactic);
  return {
    machine: madeWith(scenario, primed, stops.machine, []),
    feeds: stops.feeds.length === 0 ? null : madeWith(scenario, primed, null, stops.feeds),
  };
}

/** `null` where it cannot be simulated. */
function madeWith(
  scenario: Scenario,
  primed: ReturnType<typeof applyTactic>,
  machine: string | null,
  feeds: readonly string[],
): number | null {
  const isOwn = new Set(scenario.feeds.map(({ id }) => id));
  // A second feed is part of the feed.
  const isStopped = ({ id }: FeedElement): boolean => feeds.includes(id) || (feeds.length > 0 && !isOwn.has(id));
  const network = {
    ...primed.network,
    feeds: primed.network.feeds.map((feed) => (isStopped(feed) ? { ...feed, profile: stopped(feed.profile) } : feed)),
  };
  const prepared = prepareNetwork(scenario, network);
  if (!prepared.ok) return null;
  const { program, horizonTicks } = prepared;
  const interventions = [
    ...primed.priming.interventions.filter(({ whenFull, afterMin }) => whenFull !== null || afterMin.compare(TO) < 0),
    ...(machine === null ? [] : [stopOf(machine)]),
  ];
  const priming = compilePriming(program, { ...primed.priming, interventions });
  const run = simulate(program, { horizonTicks, seed: scenario.seed, priming, stepAll: true });
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
