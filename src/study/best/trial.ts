/** One start tried: played, and judged beside doing nothing by the rule of recommendations. */
import { LONGEST_LOOK_MIN } from "../../scenario/horizon.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { settledLater } from "../comparison/compare.ts";
import { settlesAt } from "../horizon.ts";
import { NO_TACTIC, tryOut, UnplayableError } from "../play.ts";
import type { Grain, Start } from "../recommended/recommended.ts";
import { judgedStarts } from "../recommended/starts.ts";
import { type Code, type Grid, keyOf, tacticOf } from "./grid.ts";

export interface Trial {
  readonly code: Code;
  readonly start: Start;
  /** Full output; the 95 % time is the start's own. */
  readonly fullMin: number | null;
  readonly grain: Grain;
}

/** `null` where a start cannot be simulated. */
export type Try = (code: Code) => Trial | null;

/** The line as it is is played once for all. @throws UnplayableError where not even that can be */
export function trialsOf(scenario: Scenario, grid: Grid): Try {
  const first = tryOut(scenario, NO_TACTIC);
  const none = { ...first, known: settledLater(scenario, first) };
  // What settles late is seen to the end at once.
  const longer = settlesAt(first) === null ? { ...scenario, horizonMin: LONGEST_LOOK_MIN } : scenario;
  return (code) => {
    try {
      const one = tryOut(longer, tacticOf(grid, code));
      const played = { ...one, known: settledLater(longer, one) };
      const { starts, judged, grain } = judgedStarts(scenario, [none, played], "loss");
      const [, start] = judged;
      const [, row] = starts;
      const own = start && { ...start, id: keyOf(code) };
      return own === undefined ? null : { code, start: own, fullMin: row?.settling_min ?? null, grain };
    } catch (error) {
      if (error instanceof UnplayableError) return null;
      throw error;
    }
  };
}
