/** One variant of a plant at one feed: run, analysed, and how its settled output fluctuates. */
import { type Outline, outlineOf } from "../../analysis/analyse.ts";
import { eventsUpTo, type Train, trainOf } from "../../analysis/events.ts";
import { solveFlow } from "../../analysis/flow/flow.ts";
import { longRunOf } from "../../analysis/long-run.ts";
import { outputPerCycle } from "../../analysis/makers.ts";
import { tenCycles } from "../../analysis/moving-average.ts";
import { TOLERANCE } from "../../analysis/settling.ts";
import { type Run, simulate } from "../../engine/simulate.ts";
import type { Network } from "../../network/network.ts";
import { prepareNetwork } from "../../network/prepare.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { settledPerMin } from "../outcome.ts";
import { type PlayedLine, UnplayableError } from "../play.ts";
import { flowUnlessProved } from "../second-opinion.ts";
import type { Fluctuation } from "./shortage-results.ts";
import { swingOf } from "./swing.ts";

export interface VariantRun {
  readonly network: Network;
  readonly result: Outline;
  readonly run: Run;
  /** The plant's products. */
  readonly made: Train;
  /** Half the moving average of about ten cycles of each machine, ticks. */
  readonly halfTicks: number;
  readonly toMinutes: (ticks: number) => number;
  /** A cycle's products of every final machine that runs in the long run. */
  readonly cycleOfEach: number;
}

/**
 * @param as what it is played, to be told where it cannot be
 * @throws UnplayableError
 */
export function runVariant(scenario: Scenario, given: Network, as: PlayedLine): VariantRun {
  const prepared = prepareNetwork(scenario, given);
  if (!prepared.ok) throw new UnplayableError(as, prepared.findings);
  const { network, program, horizonTicks } = prepared;
  const run = simulate(program, { horizonTicks, seed: scenario.seed, sampling: "late" });
  const flow = flowUnlessProved(run, () => solveFlow(network));
  const longRun = longRunOf(run, flow.applies ? flow : null);
  const perCycle = outputPerCycle(network);
  const half = Math.ceil(tenCycles(run, longRun) / 2);
  return {
    network,
    result: outlineOf(run, scenario, flow).result,
    run,
    made: trainOf(run, (machine) => perCycle[machine] ?? 0),
    halfTicks: Math.max(1, Math.min(half, Math.floor(horizonTicks / 2))),
    toMinutes: longRun.toMinutes,
    cycleOfEach: perCycle.reduce((all, one, m) => all + (longRun.measuredCycles[m] === 0 ? 0 : one), 0),
  };
}

/** Of the settled output: over one period, or without one over the last quarter of the horizon. */
export function fluctuationOf(played: VariantRun): Fluctuation {
  const { run, result, made, halfTicks, toMinutes, cycleOfEach } = played;
  const { recurrence, horizonTicks } = run;
  const windowMin = toMinutes(2 * halfTicks);
  const fromTick = recurrence ? recurrence.atTick + halfTicks : Math.floor((3 * horizonTicks) / 4);
  const toTick = recurrence ? fromTick + recurrence.periodTicks : horizonTicks - halfTicks;
  const { low, high } = swingOf(
    eventsUpTo(made, toTick + halfTicks),
    halfTicks,
    Math.min(fromTick, Math.max(halfTicks, toTick)),
    Math.max(halfTicks, toTick),
  );
  const settled = (settledPerMin(result.output) ?? 0) * windowMin;
  // A rate of the flow solution's that the run has not come to yet says nothing about what the run does.
  const isThere = result.settling.basis !== "flow" || result.settling.time_min !== null;
  const leeway = Math.max(TOLERANCE * settled, cycleOfEach) + 1e-6;
  return {
    period_min: result.settling.period_min,
    window_min: windowMin,
    low_per_min: low / windowMin,
    high_per_min: high / windowMin,
    swings: isThere && (high > settled + leeway || low < settled - leeway),
  };
}
