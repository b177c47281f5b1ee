/** What a single run's result says besides, from further runs of a changed scenario: `run` and the page tell the same. */
import type { Result } from "../../analysis/result.ts";
import type { Run } from "../../engine/simulate.ts";
import type { Scenario } from "../../scenario/scenario.ts";
import { withCures } from "./cures.ts";
import { withFragileShares } from "./fragile.ts";
import { withNeededRooms } from "./needed-room.ts";
import { withSensitivity } from "./sensitivity.ts";

export function withFurtherRuns(found: Result, scenario: Scenario, run: Run): Result {
  const told = withFragileShares(withCures(withNeededRooms(found, scenario), scenario, run), scenario, run);
  return withSensitivity(told, scenario, run);
}
