/** A scenario run with one value after another in one or two places of its file. */
import { analyse } from "../../analysis/analyse.ts";
import { solveFlow } from "../../analysis/flow/flow.ts";
import { simulate } from "../../engine/simulate.ts";
import type { Prepared } from "../../network/prepare.ts";
import { readSteps, type StepsProblem } from "../../quantity/steps.ts";
import { composed, NAME_PATTERN } from "../../scenario/file-limits.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Setting } from "../../scenario/settings.ts";
import { settledPerMin, stopsAtMin } from "../outcome.ts";
import { flowUnlessProved } from "../second-opinion.ts";
import type { SweepPoint, SweptQuantity } from "./sweep-results.ts";

export const MOST_POINTS = 10_000;
/** No place of the file is deeper. */
const MOST_STEPS = 12;

export type SweepProblem = StepsProblem | "no-value" | "bad-path";

/** @param text a path and its values, such as "feeds.blender.rate=60/min..300/min:10/min" */
export function sweptQuantity(text: string): SweptQuantity | SweepProblem {
  const equals = text.indexOf("=");
  if (equals < 0) return "no-value";
  const path = composed(text.slice(0, equals).trim());
  const keys = path.split(".");
  if (keys.length > MOST_STEPS || !keys.every((key) => NAME_PATTERN.test(key))) return "bad-path";
  const steps = readSteps(text.slice(equals + 1), MOST_POINTS);
  return typeof steps === "string" ? steps : { path, values: steps.texts, unit: steps.unit, numbers: steps.numbers };
}

/** A point of the sweep before it is run. */
export interface PlannedPoint {
  /** From 1. */
  readonly point: number;
  readonly settings: readonly Setting[];
}

/** All of them, the first quantity changing slowest; none without quantities. */
export function plannedPoints(quantities: readonly SweptQuantity[]): PlannedPoint[] {
  const combined = quantities.reduce<readonly (readonly Setting[])[]>(
    (before, { path, values }) =>
      before.flatMap((settings) => values.map((value) => [...settings, { path: path.split("."), value }])),
    [[]],
  );
  return combined.filter((settings) => settings.length > 0).map((settings, i) => ({ point: i + 1, settings }));
}

/** Which of so many parts, from 1. */
export interface Shard {
  readonly part: number;
  readonly of: number;
}

/** Every n-th point: neighbours take much the same time, so that the parts do too. */
export function pointsOfShard(points: readonly PlannedPoint[], { part, of }: Shard): PlannedPoint[] {
  return points.filter(({ point }) => (point - part) % of === 0);
}

/** Runs one point. @param scenario read with the point's settings, and prepared */
export function playPoint(
  { point, settings }: PlannedPoint,
  scenario: Scenario,
  { program, horizonTicks, network }: Extract<Prepared, { ok: true }>,
): SweepPoint {
  const run = simulate(program, { horizonTicks, seed: scenario.seed });
  const { result } = analyse(
    run,
    scenario,
    flowUnlessProved(run, () => solveFlow(network)),
  );
  const { settling, output, hold_up: holdUp } = result;
  const isStopped = settledPerMin(output) === 0;
  return {
    point,
    values: settings.map(({ value }) => value),
    proved: settling.proved,
    basis: settling.basis,
    settling_min: isStopped ? null : settling.time_min,
    stops_at_min: stopsAtMin(result),
    within_tolerance_min: isStopped ? null : settling.within_tolerance_min,
    ramp_up_loss: isStopped ? null : output.ramp_up_loss,
    full_per_min: output.full_per_min,
    settled_per_min: output.settled_per_min,
    ...(output.measured_per_min === undefined ? {} : { measured_per_min: output.measured_per_min }),
    made: output.made,
    hold_up_peak: holdUp.peak,
    hold_up_settled: holdUp.settled,
  };
}
