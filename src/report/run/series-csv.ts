/** series.csv: the curves of the pictures, a row for each sample. */
import type { Series } from "../../analysis/series.ts";
import { type Cell, csv } from "../text/csv.ts";

const STATES = ["running", "starved", "blocked", "down", "held"] as const;

/**
 * A row for each sample, which lasts from the row before (or 0) to its `time_min`: rates and shares are means over it,
 * levels those at its end.
 */
export function seriesCsv(series: Series): string {
  const columns: { name: string; values: readonly number[] }[] = [
    { name: "time_min", values: series.timesMin },
    { name: "output_items_per_min", values: series.output.perMin },
    { name: "output_moving_average_items_per_min", values: series.output.movingAveragePerMin },
  ];
  for (const { item, level } of series.holdUp) columns.push({ name: `hold_up_items:${item}`, values: level });
  for (const { feed, level } of series.surges) columns.push({ name: `surge_items:${feed}`, values: level });
  for (const machine of series.machines) {
    for (const { item, level } of machine.infeed) {
      columns.push({ name: `infeed_items:${machine.id}:${item}`, values: level });
    }
    for (const state of STATES) columns.push({ name: `${state}_share:${machine.id}`, values: machine[state] });
  }
  return csv([
    columns.map(({ name }) => name),
    ...series.timesMin.map((_, i) => columns.map(({ values }): Cell => values[i] ?? null)),
  ]);
}
