/** Which tactics may win a comparison, told before they are played: what the floor does not grant never wins. */
import { simulate } from "../../engine/simulate.ts";
import { compilePriming } from "../../network/priming.ts";
import { applyTactic } from "../../network/tactics/apply.ts";
import { total } from "../../quantity/counts.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import type { Tactic } from "../../scenario/tactic.ts";
import { settledPerMin } from "../outcome.ts";
import { type Played, plainNetwork, tryTactic, UnplayableError } from "../play.ts";
import { type AsksOf, asksIn } from "./asks.ts";
import { SHIFT_MIN } from "./starts.ts";

/**
 * Those without which the winner, and what is told of it, might come out otherwise.
 * @param none nothing done, as played
 */
export function thatMayWin(scenario: Scenario, none: Played, tactics: readonly Tactic[]): Tactic[] {
  // Where the line as it is makes nothing, all are held to the rate of the best of them.
  if (!settledPerMin(none.result.output)) return [...tactics];
  const network = plainNetwork(scenario);
  const asksOf = asksIn(scenario);
  return tactics.filter((tactic) => {
    const { placed, startsAfterMin } = applyTactic(scenario, network, tactic);
    // Losses are counted up to where the last has settled, if that is later.
    const mayCountOn = scenario.horizonMin.add(startsAfterMin).compare(SHIFT_MIN) > 0;
    return mayCountOn || mayBeGranted(scenario, tactic, placed, asksOf);
  });
}

/** @param placed before the start, so that hands place as many at least */
function mayBeGranted(scenario: Scenario, tactic: Tactic, placed: number, asksOf: AsksOf): boolean {
  const isGranted = (handled: number): boolean => asksOf(tactic, handled).every((ask) => ask.isGranted);
  if (placed > 0 || tactic.prefill === null || !isGranted(0)) return isGranted(placed);
  // Hands beside the running line that come in vain ask for nothing.
  return isGranted(1) || !placesAtFirst(scenario, tactic);
}

/** Whether hands beside the running line find room when they first come. What cannot be played does not win. */
function placesAtFirst(scenario: Scenario, tactic: Tactic): boolean {
  try {
    const { primed, prepared } = tryTactic(scenario, tactic);
    const { program, horizonTicks } = prepared;
    const priming = compilePriming(program, primed.priming);
    const hands = priming.interventions.find(({ actions }) => actions.some((action) => action.do === "place"));
    const firstTick = Math.min(horizonTicks, hands?.afterTicks ?? 1);
    const run = simulate(program, { horizonTicks: firstTick, seed: scenario.seed, priming, stepAll: true });
    return total(run.totals.placed) > 0;
  } catch (error) {
    if (error instanceof UnplayableError) return true;
    throw error;
  }
}
