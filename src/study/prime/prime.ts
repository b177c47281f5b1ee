/** The least dose of each tactic that reaches a goal, by bisection, with the proof that one less does not. */
import { hasChance, NO_RANDOM } from "../../scenario/random-elements.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { withHorizon } from "../horizon.ts";
import { feedEnds, outcomeOf, settledPerMin, stopsAtMin, type TacticOutcome } from "../outcome.ts";
import { NO_TACTIC, type Played, play } from "../play.ts";
import { type Goals, goalsTold, isAffordable, type Reached, shortOf } from "../recommended/goals.ts";
import { paceOf } from "../recommended/made-up-to.ts";
import { judgedStarts } from "../recommended/starts.ts";
import type { DoseResult, PrimeStudy } from "../results.ts";
import { type Dosed, dosedTactics } from "./doses.ts";

export interface PrimeOptions {
  readonly onProgress?: (done: number, of: number) => void;
}

/**
 * Where something is left to chance on the line of the means: a single run tells no 95 % time, and a search among replications
 * would take the lucky for the good.
 * @throws UnplayableError
 */
export function leastDoses(given: Scenario, goals: Goals, { onProgress }: PrimeOptions = {}): PrimeStudy {
  // What has not settled when the line as it is would have is of no use.
  const scenario = withHorizon({ ...given, random: NO_RANDOM });
  const dosed = dosedTactics(scenario);
  const none = play(scenario, NO_TACTIC);
  const { result } = none;
  const outcome = outcomeOf(none);
  const baselinePerMin = settledPerMin(result.output);
  const found = dosed.map((one, done) => {
    onProgress?.(done, dosed.length);
    return leastDose(scenario, one, goals, baselinePerMin);
  });
  const reaching = dosed.flatMap(({ tacticOf }, i): Played[] => {
    const { reaches = false, dose = null } = found[i] ?? {};
    return reaches && dose !== null ? [play(scenario, tacticOf(dose))] : [];
  });
  const { starts, recommended } = judgedStarts(
    scenario,
    [none, ...reaching],
    "loss",
    shortOf(figuresOf(outcome), goals) <= 0,
  );
  return {
    title: scenario.title,
    goals: goalsTold(goals),
    by_means: hasChance(given.random),
    baseline_stops_at_min: stopsAtMin(result),
    baseline_to_95_min: outcome.to_95_min,
    baseline_loss: outcome.ramp_up_loss,
    best: reaching.length === 0 ? null : recommended.winner,
    best_without_reserve: recommended.withoutReserve,
    best_with_hands: recommended.withHands,
    best_with_other_means: recommended.withOtherMeans,
    feed_ends: feedEnds(result),
    tactics: found.map((one) => {
      const start = starts.find(({ id }) => id === one.id);
      if (start === undefined || !one.reaches) return one;
      const { ramp_up_loss, reserve_kept, over_limit_item_min, asks_for, granted } = start;
      return { ...one, ramp_up_loss, reserve_kept, over_limit_item_min, asks_for, granted };
    }),
  };
}

/** The index of the first dose is the weakest. Exported for the test that holds it against an exhaustive search. */
export function leastDose(
  scenario: Scenario,
  dosed: Dosed,
  goals: Goals,
  baselinePerMin: number | null = settledPerMin(play(scenario, NO_TACTIC).result.output),
): DoseResult {
  const played = new Map<number, TacticOutcome & { readonly isSlower: boolean }>();
  const at = (index: number): TacticOutcome & { readonly isSlower: boolean } => {
    const known = played.get(index);
    if (known !== undefined) return known;
    const one = play(scenario, dosed.tacticOf(dosed.doses[index] ?? 0));
    const outcome = { ...outcomeOf(one), isSlower: paceOf(one, baselinePerMin).isSlower };
    played.set(index, outcome);
    return outcome;
  };
  const mayHandle = (index: number): boolean => isAffordable(figuresOf(at(index)), goals);
  const shortAt = (index: number): number => (at(index).isSlower ? Infinity : shortOf(figuresOf(at(index)), goals));
  const reaches = (index: number): boolean => shortAt(index) <= 0;

  const strongest = lastThat(mayHandle, dosed.doses.length - 1);
  if (strongest < 0) return doseResult(dosed, false, undefined, undefined, null, played.size);
  const looks = looksUpTo(strongest);
  const found = looks.find(reaches);
  if (found === undefined) {
    const [nearest = 0] = looks.toSorted((a, b) => (shortAt(a) === shortAt(b) ? a - b : shortAt(a) - shortAt(b)));
    return doseResult(dosed, false, nearest, at(nearest), null, played.size);
  }
  let fails = looks[looks.indexOf(found) - 1] ?? -1;
  let least = found;
  while (least - fails > 1) {
    const middle = Math.floor((least + fails) / 2);
    if (reaches(middle)) least = middle;
    else fails = middle;
  }
  const less = fails < 0 ? null : { dose: dosed.doses[fails] ?? 0, outcome: at(fails) };
  return doseResult(dosed, true, least, at(least), less, played.size);
}

/**
 * Doses looked at for one that reaches the goal, from the weakest: doubled from one to the next, and eighths of the
 * strongest. More is not always better (a line held off for too long settles late), and then what does lies near the
 * weak end, or in between.
 */
function looksUpTo(strongest: number): number[] {
  const looks = new Set([0]);
  for (let look = 1; look < strongest; look *= 2) looks.add(look);
  for (let eighth = 1; eighth <= 8; eighth++) looks.add(Math.round((eighth * strongest) / 8));
  return [...looks].toSorted((a, b) => a - b);
}

/** The last index up to `most` for which something holds that holds up to some index and no further; -1 for none. */
function lastThat(holds: (index: number) => boolean, most: number): number {
  if (holds(most)) return most;
  let last = -1;
  let beyond = most;
  while (beyond - last > 1) {
    const middle = Math.floor((last + beyond) / 2);
    if (holds(middle)) last = middle;
    else beyond = middle;
  }
  return last;
}

function figuresOf({ to_95_min: timeMin, ramp_up_loss: lost, items_handled: handled }: TacticOutcome): Reached {
  return { timeMin, lost, handled };
}

function doseResult(
  { id, unit, doses, byHand }: Dosed,
  reaches: boolean,
  index: number | undefined,
  outcome: TacticOutcome | undefined,
  less: { readonly dose: number; readonly outcome: TacticOutcome } | null,
  runs: number,
): DoseResult {
  return {
    id,
    reaches,
    dose: index === undefined ? null : (doses[index] ?? null),
    unit,
    stops_at_min: outcome?.stops_at_min ?? null,
    settling_min: outcome?.settling_min ?? null,
    to_95_min: outcome?.to_95_min ?? null,
    ramp_up_loss: outcome?.ramp_up_loss ?? null,
    items_handled: outcome?.items_handled ?? 0,
    reserve_kept: null,
    over_limit_item_min: null,
    asks_for: [],
    granted: false,
    one_less: less && {
      dose: less.dose,
      stops_at_min: less.outcome.stops_at_min,
      settling_min: less.outcome.settling_min,
      to_95_min: less.outcome.to_95_min,
      ramp_up_loss: less.outcome.ramp_up_loss,
    },
    by_hand: byHand,
    runs,
  };
}
