/** One horizon for all layouts of a line, so that what is counted up to its end can be compared: that of the one that settles last. */
import { approximate } from "../../quantity/rational.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { type SettlesAt, settlesAt, withHorizon } from "../horizon.ts";
import { NO_TACTIC, tryOut } from "../play.ts";
import type { Candidate } from "./candidates.ts";
import { playable } from "./layout-runs.ts";

export interface OnOneHorizon {
  readonly scenario: Scenario;
  readonly candidates: readonly Candidate[];
}

/** A horizon that the file states stays. Each layout's scenario states it, so that it gives the same figures when run by itself. */
export function onOneHorizon(given: Scenario, candidates: readonly Candidate[]): OnOneHorizon {
  if (!given.horizonIsAuto) return { scenario: given, candidates };
  const variants = candidates.flatMap(({ drawn, reason }): SettlesAt[] => {
    if (drawn === null || reason !== null) return [];
    return [
      ({ horizonMin, random }) => {
        const tried = playable({ ...drawn.scenario, horizonMin, random }, NO_TACTIC, tryOut);
        // What cannot be played has no say.
        return "played" in tried ? settlesAt(tried.played) : approximate(given.horizonMin) / 2;
      },
    ];
  });
  const { horizonMin } = withHorizon(given, variants);
  return {
    scenario: { ...given, horizonMin },
    candidates: candidates.map((candidate) => {
      const { drawn } = candidate;
      if (drawn === null) return candidate;
      const scenario = { ...drawn.scenario, horizonMin, horizonIsAuto: false };
      return { ...candidate, drawn: { ...drawn, scenario } };
    }),
  };
}
