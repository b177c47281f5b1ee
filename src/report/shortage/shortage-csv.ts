/** shortage.csv: a row for each level and variant; the machines' shares of their needs in columns of their own. */
import type { Shortage } from "../../study/shortage/shortage-results.ts";
import { type Cell, csv } from "../text/csv.ts";
import { approximately } from "../text/figures.ts";
import { jainOf, settledOf, shareOf } from "./shortage-figures.ts";

export function shortageCsv({ levels }: Shortage): string {
  const machines = levels[0]?.variants[0]?.machines.map(({ id }) => id) ?? [];
  return csv([
    [
      "feed_share",
      "variant",
      "ideal_items_per_min",
      "settled_items_per_min",
      "basis",
      "share_of_full",
      "settling_min",
      "stops_at_min",
      "low_items_per_min",
      "high_items_per_min",
      "swings",
      "period_min",
      "jain_index",
      "jain_line",
      "starving_machines",
      "hold_up_settled_items",
      "over_limit_min",
      "over_limit_items",
      ...machines.map((id) => `share_of_need:${id}`),
    ],
    ...levels.flatMap(({ level, ideal_per_min: ideal, variants }) =>
      variants.map((result): Cell[] => [
        approximately(level),
        result.id,
        ideal,
        settledOf(result),
        result.basis,
        result.share_of_full,
        result.settling_min,
        result.stops_at_min,
        result.fluctuation.low_per_min,
        result.fluctuation.high_per_min,
        result.fluctuation.swings ? "yes" : "no",
        result.fluctuation.period_min,
        jainOf(result),
        result.jain_line,
        result.starving.length,
        result.hold_up_settled,
        result.over_limit_min,
        result.over_limit_items,
        ...result.machines.map(shareOf),
      ]),
    ),
  ]);
}
