/** growth.csv: a row for each size. */
import type { Growth } from "../../study/comparison/results.ts";
import { csv } from "../text/csv.ts";
import { approximately, longRun } from "../text/figures.ts";

export function growthCsv({ sizes }: Growth): string {
  return csv([
    [
      "machines",
      "needs_items_per_min",
      "feed_items_per_min",
      "settled_items_per_min",
      "settling_min",
      "stops_at_min",
      "proved",
      "within_tolerance_min",
      "ramp_up_loss_items",
      "hold_up_settled_items",
      "tightest_belt",
      "headroom_items_per_min",
    ],
    ...sizes.map((step) => [
      step.machines,
      approximately(step.needs_per_min),
      approximately(step.feed_per_min),
      longRun(step),
      step.settling_min,
      step.stops_at_min,
      step.proved ? "yes" : "no",
      step.within_tolerance_min,
      step.ramp_up_loss,
      step.hold_up_settled,
      step.tightest_belt,
      step.headroom_per_min === null ? null : approximately(step.headroom_per_min),
    ]),
  ]);
}
