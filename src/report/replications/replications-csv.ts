/** replications.csv: a row for each replication. replications-series.csv: output over time, and mean levels. */

import type { OutputBand } from "../../study/replications/output-band.ts";
import type { ReplicationsSummary } from "../../study/replications/replications.ts";
import { csv } from "../text/csv.ts";

export function replicationsCsv({ replications, each }: ReplicationsSummary): string {
  return csv([
    [
      "replication",
      "made_items",
      "settled_items_per_min",
      "ramp_up_loss_items",
      "hold_up_settled_items",
      ...replications.machines.map(({ id }) => `uptime:${id}`),
    ],
    ...each.map((one) => [one.replication, one.made, one.settledPerMin, one.lost, one.holdUp, ...one.uptimes]),
  ]);
}

export function replicationsSeriesCsv({ band, buffers }: ReplicationsSummary): string {
  const columns: { name: string; values: readonly number[] | null }[] = [
    { name: "time_min", values: band.timesMin },
    ...BAND_COLUMNS.map(([key, name]) => ({ name, values: band[key] })),
    ...buffers.map(({ machine, item, level }) => ({ name: `infeed_items:${machine}:${item}`, values: level })),
  ];
  return csv([
    columns.map(({ name }) => name),
    ...band.timesMin.map((_, i) => columns.map(({ values }) => values?.[i] ?? null)),
  ]);
}

const BAND_COLUMNS = [
  ["mean", "output_mean_items_per_min"],
  ["low", "output_mean_low_items_per_min"],
  ["high", "output_mean_high_items_per_min"],
  ["p5", "output_p5_items_per_min"],
  ["p95", "output_p95_items_per_min"],
  ["median", "output_median_run_items_per_min"],
  ["sample", "output_sample_run_items_per_min"],
] as const satisfies readonly (readonly [keyof OutputBand, string])[];
