/** From a run to its result and its curves. */
import type { Run } from "../engine/simulate.ts";
import { offeredPerMin, sharesOf } from "../network/feeds.ts";
import { finalMachines } from "../network/graph.ts";
import { carriedAtMost } from "../network/headroom.ts";
import type { Network } from "../network/network.ts";
import { exact, ONE, type Rational, rational, whole, ZERO } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { batchResults } from "./batch-feeds.ts";
import { bottlenecksOf } from "./bottlenecks.ts";
import { flowBufferNames } from "./buffers.ts";
import { traceCauses } from "./causes.ts";
import { curvesOf } from "./curves.ts";
import { rateCuts } from "./cuts.ts";
import type { FlowRefusal, FlowSolution } from "./flow/flow.ts";
import { fullLoops } from "./full-loops.ts";
import { dwellOf, holdUpOf } from "./inventory.ts";
import { findJams, withDividers } from "./jams.ts";
import { limitResults } from "./limits.ts";
import { lineResults } from "./lines.ts";
import { type LongRun, longRunOf } from "./long-run.ts";
import { type MachineOutline, machineOutline, machineResults } from "./machines.ts";
import { hasMachines, outputPerCycle } from "./makers.ts";
import { findMixes } from "./mixes.ts";
import { lossMoney } from "./money.ts";
import { averageTicks } from "./moving-average.ts";
import { outletResults } from "./outlets.ts";
import type { OutletResult } from "./plant-results.ts";
import { profileStretches } from "./profile-stretches.ts";
import type {
  BeltResult,
  Exact,
  FeedResult,
  FlowResult,
  PlantOutput,
  PlantSettling,
  Result,
  Settling,
} from "./result.ts";
import type { Series } from "./series.ts";
import { settledView } from "./settled-view.ts";
import { type GroupSettling, judgedBy, makersOf, settlingByMaker, settlingTogether } from "./settling.ts";
import { stillChanging } from "./still-changing.ts";
import { waysOf } from "./ways.ts";

export interface Analysis {
  readonly result: Result;
  /** Drawn up when it is first asked for. */
  readonly series: Series;
  /** The width of its moving average. */
  readonly averageTicks: number;
}

/**
 * @param scenario its feeds say when a profile changes; the run's own may also change since a tactic has them
 * @param flow the flow solution of the same network, or why there is none
 * @param warnings sentences to carry along, such as those of the reader
 */
export function analyse(
  run: Run,
  scenario: Pick<Scenario, "title" | "seed"> & Partial<Pick<Scenario, "machines" | "feeds" | "costs">>,
  flow: FlowSolution | FlowRefusal,
  warnings: readonly string[] = [],
): Analysis {
  const { network, tickS } = run.program;
  const solution = flow.applies ? flow : null;
  const longRun = longRunOf(run, solution);
  const { toMinutes } = longRun;
  const judged = judgedBy(run, longRun, scenario.feeds ?? network.feeds);
  const byMachine = settlingByMaker(judged);
  const { events, ...plant } = settlingTogether(judged, outputPerCycle(network), byMachine);
  const view = settledView(run, longRun);
  const ways = waysOf(network);
  const found = findJams(run, longRun);
  const { mixes, inTheWay } = findMixes(network, longRun, view, found?.jams ?? null);
  const causes = view && traceCauses(view, found, inTheWay);

  const outlets = outletResults(run, longRun, ways);
  const result: Result = {
    title: scenario.title,
    tick_s: exact(tickS),
    horizon_min: toMinutes(run.horizonTicks),
    seed: scenario.seed,
    ...(longRun.found === null ? {} : { chance: longRun.found.chance }),
    settling: {
      proved: longRun.basis === "recurrence",
      basis: longRun.basis,
      ...plant.settling,
      flow_time_min: solution && exact(solution.settlingMin),
      period_min: run.recurrence && toMinutes(run.recurrence.periodTicks),
      full_share: plant.fullShare,
      still_changing: stillChanging(run, longRun, solution),
      stretches: profileStretches(judged, makersOf(outputPerCycle(network)), solution),
    },
    output: { ...plant.output, ...byItem(run, longRun, outlets) },
    ...lossMoney(scenario.costs, plant.output.ramp_up_loss),
    lines: lineResults(judged, byMachine, plant, ways),
    machines: machineResults(judged, byMachine, plant.settling, { view, causes }, speedsBelowFull(scenario)),
    belts: beltResults(run, longRun),
    hold_up: holdUpOf(run, longRun),
    dwell: dwellOf(run, longRun),
    feeds: feedResults(run, longRun),
    outlets,
    bottlenecks: view && causes && bottlenecksOf(network, view, causes),
    jams: found && withDividers(found.jams, mixes, network, ways),
    mixes,
    cuts: rateCuts(run, longRun),
    batches: batchResults(run, longRun),
    limits: limitResults(run, longRun),
    flow: solution && flowResult(network, solution),
    no_flow: flow.applies ? null : flow.reason,
    warnings,
  };
  let series: Series | null = null;
  return {
    result,
    get series() {
      series ??= curvesOf(run, longRun, events);
      return series;
    },
    averageTicks: averageTicks(run, longRun),
  };
}

/** Of a result what tells one start of a line from another. */
export interface Outline extends Pick<Result, "tick_s" | "horizon_min" | "hold_up" | "dwell" | "feeds" | "limits"> {
  readonly settling: Settling & Pick<PlantSettling, "proved" | "basis" | "period_min">;
  readonly output: PlantOutput;
  readonly machines: readonly MachineOutline[];
}

/** The same as `analyse` has it, in less time. */
export function outlineOf(
  run: Run,
  scenario: Partial<Pick<Scenario, "feeds">>,
  flow: FlowSolution | FlowRefusal,
): { readonly result: Outline; readonly averageTicks: number } {
  const { network, tickS } = run.program;
  const longRun = longRunOf(run, flow.applies ? flow : null);
  const judged = judgedBy(run, longRun, scenario.feeds ?? network.feeds);
  const { settling, output } = settlingTogether(judged, outputPerCycle(network), settlingByMaker(judged));
  const result = {
    tick_s: exact(tickS),
    horizon_min: longRun.toMinutes(run.horizonTicks),
    settling: {
      ...settling,
      proved: longRun.basis === "recurrence",
      basis: longRun.basis,
      period_min: run.recurrence && longRun.toMinutes(run.recurrence.periodTicks),
    },
    output: {
      ...output,
      ...byItem(run, longRun, hasMachines(network) ? [] : outletResults(run, longRun, waysOf(network))),
    },
    machines: network.machines.map((machine, m) => machineOutline(run, longRun, machine, m)),
    hold_up: holdUpOf(run, longRun),
    dwell: dwellOf(run, longRun),
    feeds: feedResults(run, longRun),
    limits: limitResults(run, longRun),
  };
  return { result, averageTicks: averageTicks(run, longRun) };
}

/** Of the plant's output alone, as in the result: for those who ask nothing else of a run. */
export function outputAlone(
  run: Run,
  scenario: Partial<Pick<Scenario, "feeds">>,
  flow: FlowSolution | FlowRefusal,
): Pick<GroupSettling, "settling" | "output"> {
  const { network } = run.program;
  const judged = judgedBy(run, longRunOf(run, flow.applies ? flow : null), scenario.feeds ?? network.feeds);
  return settlingTogether(judged, outputPerCycle(network), settlingByMaker(judged));
}

function speedsBelowFull({ machines = [] }: Partial<Pick<Scenario, "machines">>): ReadonlyMap<string, Rational> {
  return new Map(
    machines.flatMap(({ members, speeds }) =>
      members.flatMap((id, i): [string, Rational][] => {
        const speed = speeds[i];
        return speed !== undefined && speed.compare(ONE) < 0 ? [[id, speed]] : [];
      }),
    ),
  );
}

/** @param outlets asked for only where there are no machines */
function byItem(
  run: Run,
  longRun: LongRun,
  outlets: readonly OutletResult[],
): Pick<PlantOutput, "made_by_item" | "settled_by_item_per_min"> {
  const isFinal = finalMachines(run.program.network);
  return {
    made_by_item: madeByItem(run, isFinal),
    settled_by_item_per_min: settledByItem(run, isFinal, longRun, outlets),
  };
}

function madeByItem({ program, totals }: Run, isFinal: ReadonlySet<string>): Record<string, number> {
  if (!hasMachines(program.network)) {
    return Object.fromEntries(program.network.items.map((item, i) => [item, totals.left[i] ?? 0]));
  }
  const made = new Map<string, number>();
  for (const [m, { id, makes }] of program.network.machines.entries()) {
    if (!isFinal.has(id)) continue;
    for (const { item, count } of makes) made.set(item, (made.get(item) ?? 0) + count * (totals.cycles[m] ?? 0));
  }
  return Object.fromEntries(made);
}

function settledByItem(
  run: Run,
  isFinal: ReadonlySet<string>,
  { exactCycles }: LongRun,
  outlets: readonly OutletResult[],
): Record<string, Exact> | null {
  if (exactCycles === null) return null;
  const rates = new Map<string, Rational>();
  for (const { items } of hasMachines(run.program.network) ? [] : outlets) {
    for (const { item, settled_per_min: perMin } of items) {
      if (perMin !== null) rates.set(item, (rates.get(item) ?? ZERO).add(rational(perMin)));
    }
  }
  for (const [m, { id, makes }] of run.program.network.machines.entries()) {
    if (!isFinal.has(id)) continue;
    for (const { item, count } of makes) {
      rates.set(item, (rates.get(item) ?? ZERO).add((exactCycles[m] ?? ZERO).mul(whole(count))));
    }
  }
  return Object.fromEntries(Array.from(rates, ([item, rate]) => [item, exact(rate)]));
}

function beltResults(run: Run, { exactPassed, measuredPassed }: LongRun): BeltResult[] {
  const circling = fullLoops(run);
  return run.program.network.connections.flatMap(({ id, from, to, belt }, c) => {
    if (belt === null) return [];
    const settled = circling.has(c) ? null : (exactPassed?.[c] ?? null);
    const most = carriedAtMost(belt);
    return {
      id,
      from,
      to,
      rate_per_min: exact(belt.ratePerMin),
      ...(most.equals(belt.ratePerMin) ? {} : { at_most_per_min: exact(most) }),
      settled_per_min: settled && exact(settled),
      ...(settled ? {} : { measured_per_min: measuredPassed[c] ?? 0 }),
      headroom_per_min: settled && exact(most.sub(settled)),
    };
  });
}

function feedResults({ program, totals }: Run, { exactFed, measuredFed }: LongRun): FeedResult[] {
  return program.network.feeds.map((feed, f) => {
    const settled = exactFed?.[f] ?? null;
    return {
      id: feed.id,
      items: sharesOf(feed).map(({ item, share }) => ({ item, share: exact(share) })),
      rate_per_min: exact(offeredPerMin(feed)),
      settled_per_min: settled && exact(settled),
      ...(settled ? {} : { measured_per_min: measuredFed[f] ?? 0 }),
      fed: totals.fed[f] ?? 0,
    };
  });
}

/** With hundreds of events, each time is a fraction of thousands of digits. */
const MOST_FLOW_EVENTS = 200;

function flowResult(network: Network, { settledPerMin, settlingMin, rampUpLoss, phases }: FlowSolution): FlowResult {
  const listed = phases.length <= MOST_FLOW_EVENTS ? phases : [];
  const nameOf = flowBufferNames(network);
  return {
    settled_per_min: exact(settledPerMin),
    settling_min: exact(settlingMin),
    ramp_up_loss: exact(rampUpLoss),
    events: listed.flatMap(({ fromMin, events }) =>
      events.map((event) => ({
        at_min: exact(fromMin),
        what: event.what,
        where: event.what === "feed" ? event.feed : nameOf(event),
      })),
    ),
  };
}
