/** One line played with one tactic, seen from the moment at which its feed could have started. */
import { analyse, type Outline, outlineOf, outputAlone } from "../analysis/analyse.ts";
import { type Train, trainOf } from "../analysis/events.ts";
import type { Exact } from "../analysis/exact.ts";
import { type FlowRefusal, type FlowSolution, solveFlow } from "../analysis/flow/flow.ts";
import { outputPerCycle } from "../analysis/makers.ts";
import type { Result } from "../analysis/result.ts";
import type { Sampling } from "../engine/samples.ts";
import { type Run, simulate } from "../engine/simulate.ts";
import type { Totals } from "../engine/totals.ts";
import { expand } from "../network/expand.ts";
import type { Network } from "../network/network.ts";
import { type Prepared, prepareNetwork } from "../network/prepare.ts";
import { compilePriming, type Priming } from "../network/priming.ts";
import { applyTactic } from "../network/tactics/apply.ts";
import type { Primed, TacticNote } from "../network/tactics/contribution.ts";
import { total } from "../quantity/counts.ts";
import { once } from "../quantity/once.ts";
import { approximate, type Rational, whole } from "../quantity/rational.ts";
import type { FileFinding } from "../scenario/file-finding.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { NO_TACTIC, type Tactic } from "../scenario/tactic.ts";
import { flowUnlessProved } from "./second-opinion.ts";

export { NO_TACTIC };

export interface Played {
  readonly tactic: Tactic;
  readonly result: Outline;
  /** Items placed by hand, before the start and beside the running line. */
  readonly itemsHandled: number;
  /** How long hands delay the start; times of `result` count from then. */
  readonly startsAfterMin: number;
  /** Products of the plant, as far as `knownUpToMin` after the start. */
  readonly output: Output;
  readonly notes: readonly TacticNote[];
  /**
   * What is beyond the scenario's limits: item-minutes up to the horizon, and how many a minute in the long run, which the phases
   * of cycles, and so the tick, may move by `oneCycle`, the items that machines take in a cycle of each.
   */
  readonly over: { readonly itemMin: number; readonly perMin: number; readonly oneCycle: number };
}

/** With all that is told of a run. */
export interface FullyPlayed extends Played {
  readonly result: Result;
}

export interface Output {
  readonly made: Train;
  readonly minutesPerTick: number;
  /** Up to here they are known. */
  readonly endTick: number;
  readonly windowTicks: number;
  /** Products of one cycle of each final machine. */
  readonly oneCycle: number;
}

/** The line as a study plays it: with a tactic, as it is, on a share of the feed, with a dip to one, or without that. */
export type PlayedLine =
  | { readonly as: "tactic"; readonly id: string }
  | { readonly as: "it-is" | "without-dip" }
  | { readonly as: "short-fed"; readonly level: Exact }
  | { readonly as: "with-dip"; readonly level: Exact | null };

/** A network that a tactic or a lower feed has made impossible to simulate. */
export class UnplayableError extends Error {
  override readonly name = "UnplayableError";
  readonly played: PlayedLine;
  readonly findings: readonly FileFinding[];
  constructor(played: PlayedLine, findings: readonly FileFinding[]) {
    super(`not to be simulated: ${Object.values(played).join(" ")}`);
    this.played = played;
    this.findings = findings;
  }
}

/** @throws UnplayableError */
export function play(scenario: Scenario, tactic: Tactic): FullyPlayed {
  return playedBy(runTactic(scenario, tactic, "throughout"), scenario, tactic, analyse).played;
}

/** In outline. @throws UnplayableError */
export function tryOut(scenario: Scenario, tactic: Tactic): Played {
  return tryOutRun(scenario, tactic).played;
}

/** The same with the run. @param sampling of what lay on the line @throws UnplayableError */
export function tryOutRun(
  scenario: Scenario,
  tactic: Tactic,
  sampling: Sampling = "late",
): { readonly played: Played; readonly run: Run } {
  return playedBy(runTactic(scenario, tactic, sampling), scenario, tactic, outlineOf);
}

function playedBy<R extends Outline>(
  { run, primed, flow }: ReturnType<typeof runTactic>,
  scenario: Scenario,
  tactic: Tactic,
  analysed: (run: Run, scenario: Scenario, flow: FlowSolution | FlowRefusal) => { result: R; averageTicks: number },
) {
  const { result, averageTicks } = analysed(run, scenario, flow());
  const played = { ...playedAs(tactic, run, result, averageTicks), ...handsIn(run, primed), notes: primed.notes };
  return { played, run };
}

/** The run alone, with what hands do. @throws UnplayableError */
export function runOnly(scenario: Scenario, tactic: Tactic): ReturnType<typeof handsIn> & { readonly run: Run } {
  const { run, primed } = runTactic(scenario, tactic, "late");
  return { ...handsIn(run, primed), run };
}

function handsIn(run: Run, { startsAfterMin }: Primed): Pick<Played, "itemsHandled" | "startsAfterMin"> {
  return { itemsHandled: total(run.totals.placed), startsAfterMin: approximate(startsAfterMin) };
}

/** A run in which hands do nothing. */
export function playedAs<R extends Outline>(
  tactic: Tactic,
  run: Run,
  result: R,
  windowTicks: number,
): Played & { readonly result: R } {
  const output = outputOf(run, windowTicks);
  return { tactic, result, itemsHandled: 0, startsAfterMin: 0, output, notes: [], over: overLimits(run) };
}

/** What the untouched line makes, and nothing else of it. @throws UnplayableError */
export function playForOutput(scenario: Scenario): ReturnType<typeof outputAlone> {
  const { run, flow } = runTactic(scenario, NO_TACTIC, "late");
  return outputAlone(run, scenario, flow());
}

function runTactic(scenario: Scenario, tactic: Tactic, sampling: Sampling) {
  const { primed, prepared } = tryTactic(scenario, tactic);
  const { network, program, horizonTicks } = prepared;
  const priming = endedByHorizon(primed.priming, scenario.horizonMin);
  const { seed } = scenario;
  const run = simulate(program, { horizonTicks, seed, sampling, priming: compilePriming(program, priming) });
  return { run, primed, flow: () => flowUnlessProved(run, () => flowOf(network, priming)) };
}

/** What would be simulated. @throws UnplayableError */
export function tryTactic(scenario: Scenario, tactic: Tactic) {
  const primed = applyTactic(scenario, plainNetwork(scenario), tactic);
  const prepared = preparedWith(scenario, primed.network);
  if (!prepared.ok) throw new UnplayableError({ as: "tactic", id: tactic.id }, prepared.findings);
  return { primed, prepared };
}

/** What a scenario's runs have in common, for as long as it is played. */
export const plainNetwork = once(expand);
const plainPrepared = once((scenario: Scenario) => prepareNetwork(scenario, plainNetwork(scenario)));

/** Most tactics leave the network as it is. */
export function preparedWith(scenario: Scenario, network: Network): Prepared {
  return network === plainNetwork(scenario) ? plainPrepared(scenario) : prepareNetwork(scenario, network);
}

/** Without what would be done after the horizon, which would keep the line from being proved to have settled. */
export function endedByHorizon(priming: Priming, horizonMin: Rational): Priming {
  const interventions = priming.interventions.filter(
    ({ whenFull, afterMin }) => whenFull !== null || afterMin.compare(horizonMin) < 0,
  );
  return { ...priming, interventions };
}

/** Stock is a start that the flow solution knows; interventions and loaded belts it does not. */
function flowOf(network: Network, priming: Priming): FlowSolution | FlowRefusal {
  if (priming.interventions.length > 0 || priming.loaded.length > 0) {
    return { applies: false, reason: "it knows neither interventions nor loaded belts" };
  }
  const initialLevels = priming.stock.map(({ machine, item, count }) => ({ machine, item, level: whole(count) }));
  return solveFlow(network, { initialLevels });
}

function outputOf(run: Run, windowTicks: number): Output {
  const { program, horizonTicks } = run;
  const perCycle = outputPerCycle(program.network);
  return {
    made: trainOf(run, (machine) => perCycle[machine] ?? 0),
    minutesPerTick: approximate(program.tickS.div(60n)),
    endTick: horizonTicks,
    windowTicks,
    oneCycle: total(perCycle),
  };
}

function overLimits({ program, totals, recurrence, lastQuarter, horizonTicks }: Run): Played["over"] {
  const itemTicks = ({ overLimitItemTicks: held, overDwellTicks: stayed }: Totals): number =>
    total(held) + total(stayed);
  const late = recurrence
    ? { totals: recurrence.period, ticks: recurrence.periodTicks }
    : { totals: lastQuarter?.totals ?? totals, ticks: horizonTicks - (lastQuarter?.fromTick ?? 0) };
  const minutesPerTick = approximate(program.tickS.div(60n));
  return {
    itemMin: itemTicks(totals) * minutesPerTick,
    perMin: itemTicks(late.totals) / late.ticks,
    oneCycle: total(program.network.machines.flatMap(({ takes }) => takes.map(({ count }) => count))),
  };
}
