/** sweep.csv: a row for each point. */
import type { Sweep } from "../../study/sweep/sweep-results.ts";
import { csv, yesNo } from "../text/csv.ts";
import { longRun } from "../text/figures.ts";
import { quantityHeading } from "./sweep-figures.ts";

export function sweepCsv({ quantities, points }: Sweep): string {
  return csv([
    [
      "point",
      ...quantities.map(quantityHeading),
      "settling_min",
      "proved",
      "stops_at_min",
      "within_tolerance_min",
      "ramp_up_loss_items",
      "long_run_items_per_min",
      "basis",
      "full_items_per_min",
      "made_items",
      "hold_up_peak_items",
      "hold_up_settled_items",
    ],
    ...points.map((point) => [
      point.point,
      ...quantities.map(({ values, numbers }, q) => {
        const value = point.values[q] ?? "";
        return numbers?.[values.indexOf(value)] ?? value;
      }),
      point.settling_min,
      yesNo(point.proved),
      point.stops_at_min,
      point.within_tolerance_min,
      point.ramp_up_loss,
      longRun(point),
      point.basis,
      longRun({ settled_per_min: point.full_per_min }),
      point.made,
      point.hold_up_peak,
      point.hold_up_settled,
    ]),
  ]);
}
