/** One layout run: with nothing done, on half the feed, and with the priming that comes first for it. */
import type { Result } from "../../analysis/result.ts";
import { changeBetween } from "../../network/changes.ts";
import type { LineElements, Network } from "../../network/network.ts";
import { approximate, rational, sum } from "../../quantity/rational.ts";
import { tightestBelts } from "../../quantity/tightest.ts";
import type { Line, Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import { comparisonOf } from "../comparison/compare.ts";
import { makesNothing, outcomeOf } from "../outcome.ts";
import { type FullyPlayed, NO_TACTIC, type Played, play, tryOut, UnplayableError } from "../play.ts";
import { thatMayWin } from "../recommended/may-win.ts";
import { brokenLimits } from "../recommended/starts.ts";
import { lowered } from "../shortage/lowered-feeds.ts";
import { jainIndex, sharedLines, sharesOf } from "../shortage/shares.ts";
import type { Candidate } from "./candidates.ts";
import type { LayoutPrimed, LayoutResult, Reason } from "./layout-results.ts";
import { notRun } from "./reasons.ts";

/** What a layout gives, before it is weighed against the others. */
export type Unweighed = Omit<LayoutResult, "undominated" | "beaten_by" | "file">;

export interface LaidOut {
  /** Plain data, for threads: the tactic by its name. */
  readonly result: Omit<Unweighed, "primed"> & { readonly primed: Primed | null };
  /** `null` where it cannot be built. */
  readonly base: FullyPlayed | null;
}

type Primed = Omit<LayoutPrimed, "does">;

/** @param step is called before each run: `2 + tactics.length` of them */
export function layOut(
  candidate: Candidate,
  line: string,
  feeds: readonly string[],
  tactics: readonly Tactic[],
  step: () => void,
): LaidOut {
  const { drawn, reason } = candidate;
  if (drawn === null || reason !== null) return { result: unbuilt(candidate, reason), base: null };
  const { scenario, network, elements, floor, toScale, grown } = drawn;
  step();
  const base = playable(scenario, NO_TACTIC, play);
  if (!("played" in base)) return { result: unbuilt(candidate, base.why), base: null };
  const { result } = base.played;
  const outcome = outcomeOf(base.played);
  const more = grown(1);
  return {
    base: base.played,
    result: {
      ...identity(candidate),
      feasible: true,
      reason: null,
      settled_per_min: outcome.settled_per_min,
      proved: outcome.proved,
      settling_min: outcome.settling_min,
      to_95_min: outcome.to_95_min,
      ramp_up_loss: outcome.ramp_up_loss,
      // What lies there at the horizon while it goes on changing is a chance, and may be nothing between two vehicles.
      hold_up_settled: outcome.settling_min === null && !makesNothing(outcome) ? null : outcome.hold_up_settled,
      hold_up_peak: outcome.hold_up_peak,
      dwell_mean_min: result.dwell.mean_min,
      dwell_longest_min: result.dwell.longest_min,
      over_limit_min: outcome.over_limit_min,
      over_limit_items: outcome.over_limit_items,
      ...UNKNOWN_RESERVE,
      limits_broken: brokenLimits(result),
      evenness_at_half_feed: evenness(scenario, network, line, feeds, step),
      ...counts(elements),
      to_scale: toScale,
      floor_m2: approximate(floor.m2),
      crossings: floor.crossings,
      ...tightest(result, elements),
      primed: bestPriming(scenario, base.played, tactics, step),
      growth: [],
      one_more: more && { layout: more.layout, ...changeBetween(more.before, more.after) },
    },
  };
}

/** Until it is held to the line as it stands. */
export const UNKNOWN_RESERVE = { reserve_kept: null, bridges_less_min: 0 } as const;

export function identity({
  id,
  layout,
  does,
  assuming,
}: Candidate): Pick<LayoutResult, "id" | "layout" | "does" | "assuming"> {
  return { id, layout, does, assuming };
}

export function unbuilt(candidate: Candidate, reason: Reason | null): Unweighed {
  const { drawn } = candidate;
  return {
    ...identity(candidate),
    feasible: false,
    reason,
    settled_per_min: null,
    proved: false,
    settling_min: null,
    to_95_min: null,
    ramp_up_loss: null,
    hold_up_settled: null,
    hold_up_peak: null,
    dwell_mean_min: null,
    dwell_longest_min: null,
    over_limit_min: null,
    over_limit_items: null,
    ...UNKNOWN_RESERVE,
    limits_broken: [],
    evenness_at_half_feed: null,
    ...(drawn === null ? { dividers: null, merges: null, belts: null, belt_m: null } : counts(drawn.elements)),
    to_scale: drawn?.toScale ?? false,
    floor_m2: null,
    crossings: null,
    tightest_belt: null,
    headroom_per_min: null,
    primed: null,
    one_more: null,
    growth: [],
  };
}

export function playable<P extends Played>(
  scenario: Scenario,
  tactic: Tactic,
  playedAs: (scenario: Scenario, tactic: Tactic) => P,
): { readonly played: P } | { readonly why: Reason } {
  try {
    return { played: playedAs(scenario, tactic) };
  } catch (error) {
    if (!(error instanceof UnplayableError)) throw error;
    return { why: notRun(error) };
  }
}

export function counts({ dividers, merges, connections }: LineElements) {
  const belts = connections.flatMap(({ belt }) => belt ?? []);
  const lengths = belts.flatMap(({ metres }) => metres?.lengthM ?? []);
  return {
    dividers: dividers.length,
    merges: merges.length,
    belts: belts.length,
    belt_m: lengths.length === 0 ? null : approximate(sum(lengths)),
  };
}

/** Jain's index of the line's machines, or of its outlets. */
export function evenness(
  scenario: Scenario,
  network: Network,
  line: string,
  feeds: readonly string[],
  step: () => void,
): number | null {
  step();
  const { scenario: half } = lowered(scenario, feeds, rational("1/2"));
  const outlets = outletsOf(network, line);
  if (outlets.size > 0) {
    const told = playable(half, NO_TACTIC, play);
    return "played" in told ? outletsEvenness(told.played.result, outlets) : null;
  }
  const tried = playable(half, NO_TACTIC, tryOut);
  if (!("played" in tried)) return null;
  const machines = sharedLines(scenario, network, feeds).filter(({ id }) => id === line);
  const { jain, measured_jain: measured } = sharesOf(tried.played.result, machines);
  return jain === null ? (measured ?? null) : approximate(rational(jain));
}

/** Those that the line leads to; a line that is laid out leads to outlets alone, or to machines alone. */
function outletsOf({ connections, outlets }: Network, line: string): Set<string> {
  const own = new Set(connections.filter((one) => one.line === line).map(({ to }) => to));
  return new Set(outlets.flatMap(({ id }) => (own.has(id) ? [id] : [])));
}

/** Of what leaves by each, since they need nothing. */
function outletsEvenness({ outlets }: Result, own: ReadonlySet<string>): number | null {
  const shares = outlets
    .filter(({ id }) => own.has(id))
    .map(({ settled_per_min: settled, measured_per_min: measured = 0 }) =>
      settled === null ? rational(measured.toFixed(12)) : rational(settled),
    );
  const jain = jainIndex(shares);
  return jain && approximate(jain);
}

/** The feeds that are cut short: the line's own, or where machines are among its sources all of the plant. */
export function feedsCut({ feeds }: Scenario, { from }: Pick<Exclude<Line, { layout: "custom" }>, "from">): string[] {
  const all = feeds.map(({ id }) => id);
  return from.every((source) => all.includes(source)) ? all.filter((id) => from.includes(id)) : all;
}

/** Of the line's belts. */
export function tightest(
  { belts, cuts }: Result,
  { connections }: LineElements,
): Pick<LayoutResult, "tightest_belt" | "headroom_per_min"> {
  const own = new Set(connections.map(({ id }) => id));
  const [first] = tightestBelts(
    belts.filter(({ id }) => own.has(id)),
    cuts,
  );
  return { tightest_belt: first?.belt.id ?? null, headroom_per_min: first?.headroomPerMin ?? null };
}

/** Tactics that cannot be played on the layout are left out, and those that cannot win are not played. */
function bestPriming(scenario: Scenario, base: Played, tactics: readonly Tactic[], step: () => void): Primed | null {
  const mayWin = new Set(thatMayWin(scenario, base, tactics));
  const played = tactics.flatMap((tactic) => {
    step();
    if (!mayWin.has(tactic)) return [];
    const one = playable(scenario, tactic, tryOut);
    return "played" in one ? [one.played] : [];
  });
  const { winner, tactics: ranked } = comparisonOf(scenario, [base, ...played]);
  const best = ranked.find(({ id }) => id === winner);
  if (best === undefined || best.id === NO_TACTIC.id || best.slower_for_good) return null;
  return {
    tactic: best.id,
    settling_min: best.settling_min,
    ramp_up_loss: best.ramp_up_loss,
    items_handled: best.items_handled,
    hold_up_peak: best.hold_up_peak,
    by_hand: best.by_hand,
  };
}
