/**
 * A line of the plant drawn up as a chain, a tree, a loop and mixtures of them; each run as it is, on half the feed and
 * primed; weighed, and one recommended.
 */
import { type PlantDrawing, plantDrawing } from "../../analysis/plant-drawing.ts";
import { asCustom } from "../../network/as-custom.ts";
import { offeredPerMin } from "../../network/feeds.ts";
import { offeredTo } from "../../network/headroom.ts";
import { leadsToOutlets } from "../../network/needs.ts";
import type { Ways } from "../../network/shares.ts";
import { total } from "../../quantity/counts.ts";
import { approximate, exact, sum } from "../../quantity/rational.ts";
import type { Lengths, Scenario } from "../../scenario/scenario.ts";
import { curvesOf } from "../comparison/compare.ts";
import { knownTactics } from "../comparison/standard-tactics.ts";
import type { FullyPlayed } from "../play.ts";
import type { TacticCurve } from "../results.ts";
import { type Candidate, candidatesFor, type Given, givenFor } from "./candidates.ts";
import { onOneHorizon } from "./common-horizon.ts";
import { growthOf } from "./growth-paths.ts";
import { withMoney } from "./layout-money.ts";
import { type LayoutStudy, type Priority, TODAY } from "./layout-results.ts";
import { feedsCut, type LaidOut, layOut } from "./layout-runs.ts";
import { type LayoutsRefusal, lineToLayOut } from "./line.ts";
import { withIfs } from "./possible-if.ts";
import { recommendationOf } from "./recommended-layout.ts";
import { grainOf, withReserve } from "./reserve.ts";
import { weighed } from "./weighed.ts";

export interface LayoutsOptions {
  /** The line to lay out; the only chain, tree or loop if left out. */
  readonly line?: string | undefined;
  /** The most outlets that dividers can have; what the line states, else 3, if left out. */
  readonly ways?: Ways | undefined;
  readonly priority: Priority;
  /** What the file states if left out. */
  readonly lengths?: Lengths | undefined;
  /** A number of machines to which growth is told, beside one more and twice as many. */
  readonly growTo?: number | undefined;
  readonly onProgress?: (done: number, of: number) => void;
}

/** A line's layouts as they are drawn up, each of them to be run by itself. */
export interface LayoutsDrawn {
  readonly ok: true;
  readonly given: Given;
  readonly candidates: readonly Candidate[];
  /** How often each is run. */
  readonly runs: readonly number[];
  /** @param onRun is told before each run */
  readonly layOut: (index: number, onRun?: () => void) => LaidOut;
}

export interface LayoutsDone {
  readonly ok: true;
  readonly study: LayoutStudy;
  /** By layout, those that can be built: the plant as a custom scenario, ready to be written. */
  readonly scenarios: ReadonlyMap<string, Scenario>;
  readonly drawings: ReadonlyMap<string, PlantDrawing>;
  /** Output over time; their ids are the layouts'. */
  readonly curves: readonly TacticCurve[];
}

export function layoutStudy(scenario: Scenario, options: LayoutsOptions): LayoutsDone | LayoutsRefusal {
  const drawn = layoutsDrawn(scenario, options);
  return drawn.ok ? layoutsWeighed(scenario, drawn, laidOut(drawn, options.onProgress), options) : drawn;
}

export function layoutsDrawn(
  scenario: Scenario,
  { line, ways, lengths, growTo }: Pick<LayoutsOptions, "line" | "ways" | "lengths" | "growTo">,
): LayoutsDrawn | LayoutsRefusal {
  const chosen = lineToLayOut(scenario, line);
  if (!chosen.ok) return chosen;
  const drawn = givenFor(scenario, chosen.line, ways ?? null, lengths);
  const feeds = feedsCut(scenario, chosen.line);
  const { candidates, scenario: lasting } = onOneHorizon(scenario, withIfs(drawn, candidatesFor(drawn)));
  const given = { ...drawn, scenario: lasting };
  const planned = candidates.map((candidate) => {
    const { drawn, reason } = candidate;
    return { candidate, tactics: drawn === null || reason !== null ? null : knownTactics(drawn.scenario) };
  });
  return {
    ok: true,
    given,
    candidates,
    runs: planned.map(({ tactics }) => (tactics === null ? 0 : 2 + tactics.length)),
    layOut: (index, onRun = () => undefined) => {
      const one = planned[index];
      if (one === undefined) throw new RangeError(`there is no layout ${index}`);
      const { result, base } = layOut(one.candidate, given.chain.id, feeds, one.tactics ?? [], onRun);
      return { base, result: { ...result, growth: growthOf(given, one.candidate, growTo) } };
    },
  };
}

/** One after the other. */
export function laidOut(
  { candidates, runs, layOut }: LayoutsDrawn,
  onProgress: LayoutsOptions["onProgress"],
): LaidOut[] {
  const of = total(runs);
  let done = 0;
  return candidates.map((_, index) => layOut(index, () => onProgress?.(done++, of)));
}

/** @param all of each, in its order, what `layOut` gives */
export function layoutsWeighed(
  scenario: Scenario,
  { given, candidates }: Pick<LayoutsDrawn, "given" | "candidates">,
  all: readonly LaidOut[],
  options: Pick<LayoutsOptions, "priority">,
): LayoutsDone {
  const today = standingIn(given, candidates);
  const laid = withTactics(all, candidates);
  const layouts = withMoney(weighed(withReserve(laid, today)), today, scenario.costs);
  const held = { today, grain: grainOf(laid, today) };
  const chosen = recommendationOf(layouts, options.priority, held);
  const built = builtFrom(candidates, all);
  return {
    ok: true,
    study: {
      ...headOf(given, built, today),
      priority: options.priority,
      equal_within_items: held.grain.products,
      layouts,
      recommended: chosen.recommended,
      recommended_because: chosen.because,
      best_without_reserve: chosen.withoutReserve,
      best_without_reserve_because: chosen.withoutReserveBecause,
    },
    ...writtenAndDrawn(built),
    curves: built.length === 0 ? [] : curvesOf(built.map(({ id, base }) => ({ ...base, id }))),
  };
}

function withTactics(all: readonly LaidOut[], candidates: readonly Candidate[]) {
  return all.map(({ result, base }, index) => {
    const { primed } = result;
    const drawn = candidates[index]?.drawn;
    const does = primed && drawn && knownTactics(drawn.scenario).find(({ id }) => id === primed.tactic);
    if (!primed || !does) return { base, result: { ...result, primed: null } };
    const { tactic, ...figures } = primed;
    return { base, result: { ...result, primed: { tactic, does, ...figures } } };
  });
}

/** A layout that can be built, as it is run. */
export type Built = Pick<Candidate, "id"> &
  Pick<NonNullable<Candidate["drawn"]>, "scenario" | "network"> & { readonly base: FullyPlayed };

export function builtFrom(candidates: readonly Candidate[], all: readonly Pick<LaidOut, "base">[]): Built[] {
  return candidates.flatMap((candidate, index) => {
    const base = all[index]?.base ?? null;
    return base === null || candidate.drawn === null ? [] : [{ ...candidate, ...candidate.drawn, base }];
  });
}

type Head = Omit<
  LayoutStudy,
  | "priority"
  | "layouts"
  | "equal_within_items"
  | "recommended"
  | "recommended_because"
  | "best_without_reserve"
  | "best_without_reserve_because"
>;

/** The layout that shows the line as it stands. */
export function standingIn({ line }: Given, candidates: readonly Candidate[]): string | null {
  const standing = candidates.find(({ id }) => id === TODAY) ?? candidates.find(({ id }) => id === line.layout);
  return standing?.id ?? null;
}

/** @param today what `standingIn` gives, if it is among the layouts */
export function headOf(given: Given, built: readonly Built[], today: string | null): Head {
  const { scenario, consumers, plant } = given;
  const areOutlets = leadsToOutlets(consumers, plant);
  const fed = approximate(offeredTo(given.chain, plant, offeredPerMin));
  return {
    title: scenario.title,
    line: given.chain.id,
    machines: consumers.length,
    leads_to: areOutlets ? "outlets" : "machines",
    ways: given.ways,
    lengths: given.lengths,
    length_unit: scenario.lengthUnit,
    feed_per_min: fed,
    needs_per_min: areOutlets ? fed : approximate(sum(given.needs.values())),
    seed: scenario.seed,
    tick_s: built[0]?.base.result.tick_s ?? (scenario.tickS === "auto" ? "auto" : exact(scenario.tickS)),
    horizon_min: approximate(scenario.horizonMin),
    today,
  };
}

/** All of them with the plant's title. */
export function writtenAndDrawn(built: readonly Built[]): Pick<LayoutsDone, "scenarios" | "drawings"> {
  return {
    scenarios: new Map(built.map(({ id, scenario, network }) => [id, asCustom(scenario, network)])),
    drawings: new Map(built.map(({ id, network, base }) => [id, plantDrawing(network, base.result)])),
  };
}
