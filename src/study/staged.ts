/** One line with one way to start it, with all that is needed to show it in motion. */
import { analyse } from "../analysis/analyse.ts";
import { solveFlow } from "../analysis/flow/flow.ts";
import type { Result } from "../analysis/result.ts";
import type { Series } from "../analysis/series.ts";
import { type Player, playerOf } from "../engine/player.ts";
import { type Run, simulate } from "../engine/simulate.ts";
import type { Network } from "../network/network.ts";
import type { Prepared } from "../network/prepare.ts";
import { type CompiledPriming, compilePriming } from "../network/priming.ts";
import type { Program } from "../network/program.ts";
import { approximate } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import type { Tactic } from "../scenario/tactic.ts";
import { endedByHorizon, tryTactic } from "./play.ts";

export interface Staged {
  readonly network: Network;
  readonly program: Program;
  readonly horizonTicks: number;
  readonly priming: CompiledPriming;
  /** How long hands delay the start: the clock of the run begins then. */
  readonly startsAfterMin: number;
  readonly seed: string;
}

/** As the file has it. */
export function staged(scenario: Scenario, prepared: Extract<Prepared, { ok: true }>): Staged {
  const { network, program, horizonTicks } = prepared;
  const priming = { stock: [], loaded: [], interventions: [] };
  return { network, program, horizonTicks, priming, startsAfterMin: 0, seed: scenario.seed };
}

/** Started by a tactic. @throws UnplayableError */
export function stagedWith(scenario: Scenario, tactic: Tactic): Staged {
  const { primed, prepared } = tryTactic(scenario, tactic);
  const { network, program, horizonTicks } = prepared;
  const priming = compilePriming(program, endedByHorizon(primed.priming, scenario.horizonMin));
  const startsAfterMin = approximate(primed.startsAfterMin);
  return { network, program, horizonTicks, priming, startsAfterMin, seed: scenario.seed };
}

export interface Shown {
  readonly run: Run;
  readonly result: Result;
  readonly series: Series;
}

/** @param warnings of the reading, as the result tells them */
export function shown({ network, program, ...rest }: Staged, scenario: Scenario, warnings: readonly string[]): Shown {
  const run = simulate(program, { ...rest, seed: scenario.seed });
  const { interventions, loaded, stock } = rest.priming;
  const isPlain = interventions.length + loaded.length + stock.length === 0;
  const flow = isPlain
    ? solveFlow(network)
    : ({ applies: false, reason: "the line is not started as the file has it" } as const);
  const analysis = analyse(run, scenario, flow, warnings);
  return { run, result: analysis.result, series: analysis.series };
}

export function playerFor({ program, priming, seed }: Staged): Player {
  return playerOf(program, priming, seed);
}
