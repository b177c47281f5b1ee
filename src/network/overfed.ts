/** Loops that are fed more than their machines take: what those refuse comes back too, beyond what the plan returns. */
import { type Rational, sum } from "../quantity/rational.ts";
import type { Scenario } from "../scenario/scenario.ts";
import { plantOf } from "./collect.ts";
import { offeredPerMin } from "./feeds.ts";
import { beltLoads, offeredTo } from "./headroom.ts";
import { sharingOf } from "./shared-line.ts";

export interface OverfedLoop {
  readonly line: string;
  readonly fedPerMin: Rational;
  readonly takesPerMin: Rational;
  /** The stretch where feed and return have merged. */
  readonly belt: string;
  /** What it would carry, fed just what the machines take, and what it carries at most. */
  readonly plannedPerMin: Rational;
  readonly atMostPerMin: Rational;
}

export function overfedLoops(scenario: Scenario): OverfedLoop[] {
  const plant = plantOf(scenario);
  return scenario.lines.flatMap((line): OverfedLoop[] => {
    if (line.layout !== "loop") return [];
    const sharing = sharingOf(line, plant);
    if (!sharing.ok) return [];
    const [fedPerMin, takesPerMin] = [offeredTo(line, plant, offeredPerMin), sum(sharing.needs)];
    // The loads are those of what the machines take, which is less than what comes.
    const [first] = beltLoads(line, sharing, plant);
    if (first === undefined || fedPerMin.compare(takesPerMin) <= 0) return [];
    const { connection: belt, flowPerMin: plannedPerMin, ratePerMin: atMostPerMin } = first;
    return [{ line: line.id, fedPerMin, takesPerMin, belt, plannedPerMin, atMostPerMin }];
  });
}
