/** A horizon that the file leaves open: a quarter longer than it takes to settle, the same for all variants of a study. */
import { larger, type Rational, smaller, whole } from "../quantity/rational.ts";
import { LONGEST_LOOK_MIN } from "../scenario/horizon.ts";
import { hasChance, NO_RANDOM } from "../scenario/random-elements.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { NO_TACTIC, type Played, tryOut } from "./play.ts";

/** When a variant has settled, minutes from the start; `null`: not within the scenario's horizon. */
export type SettlesAt = (scenario: Scenario) => number | null;

const LONGER = 1.25;
/** Under chance the long run has to be seen, not only to be reached. */
const LONGER_BY_CHANCE = 6;

/**
 * @param variants each is tried with longer and longer horizons until it has settled, 24 h at most; the one that takes
 *   longest decides. The line as it is, if left out. Under chance they are tried without it
 * @returns the scenario with its horizon lengthened, perhaps to be lengthened again for more variants
 */
export function withHorizon(scenario: Scenario, variants: readonly SettlesAt[] = [asItIs]): Scenario {
  if (!scenario.horizonIsAuto) return scenario;
  const isByChance = hasChance(scenario.random);
  const most = larger(LONGEST_LOOK_MIN, scenario.horizonMin);
  const needed = variants.map((settlesAt) => {
    const tried = (horizonMin: Rational) => settlesAt({ ...scenario, horizonMin, random: NO_RANDOM });
    for (let horizon = scenario.horizonMin; ; horizon = smaller(horizon.mul(2n), most)) {
      const at = tried(horizon);
      if (at === null && horizon.compare(most) < 0) continue;
      if (at === null) return most;
      if (isByChance) return smaller(most, minutesUp(at * LONGER_BY_CHANCE));
      const enough = minutesUp(at * LONGER);
      // What a shorter horizon no longer shows to have settled gets the one that does.
      return enough.compare(horizon) >= 0 || tried(enough) !== null ? enough : horizon;
    }
  });
  return { ...scenario, horizonMin: needed.reduce(larger, scenario.horizonMin) };
}

function asItIs(scenario: Scenario): number | null {
  return settlesAt(tryOut(scenario, NO_TACTIC));
}

export function settlesAt({ result, startsAfterMin }: Pick<Played, "result" | "startsAfterMin">): number | null {
  const { time_min: settled, counted_from_min: counted } = result.settling;
  return settled === null ? null : counted + settled + startsAfterMin;
}

/** To the next whole minute, so that it reads well. */
function minutesUp(minutes: number): Rational {
  return whole(Math.ceil(minutes));
}
