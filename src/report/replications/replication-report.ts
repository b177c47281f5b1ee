/** Replications in the report of a run: answer, tables and files. */
import type { RampUpEnds, Replications } from "../../analysis/chance-results.ts";
import type { OutputBand } from "../../study/replications/output-band.ts";
import type { ReplicationsSummary } from "../../study/replications/replications.ts";
import { csv } from "../text/csv.ts";
import { duration, number } from "../text/figures.ts";
import { bullets, escapeMarkdown, left, markdownTable, right } from "../text/markdown-text.ts";
import { namedFigures } from "./replication-figures.ts";
import { whyTooShort } from "./replication-findings.ts";
import { stopName } from "./stops-text.ts";

/** The part of report.md that tells of replications. */
export function replicationSections(replications: Replications): string[] {
  const seen = stops(replications);
  return [
    "## Replications",
    figures(replications),
    "### End of the ramp-up",
    ends(replications),
    ...(seen === "" ? [] : ["### Stops seen", seen]),
    bullets(NOTES),
  ];
}

function figures(replications: Replications): string {
  const columns = [
    left("figure"),
    left("unit"),
    right("mean"),
    right("95 % interval, from"),
    right("to"),
    right("5th percentile"),
    right("95th percentile"),
    right("replications"),
  ];
  const rows = namedFigures(replications).map(({ name, unit, figure, cell }) => [
    escapeMarkdown(name),
    unit,
    ...(figure === null
      ? ["–", "–", "–", "–", "–", "0"]
      : [
          cell(figure.mean),
          figure.ci95 === null ? "–" : cell(figure.ci95[0]),
          figure.ci95 === null ? "–" : cell(figure.ci95[1]),
          cell(figure.p5),
          cell(figure.p95),
          number(figure.n),
        ]),
  ]);
  return markdownTable(columns, rows);
}

function ends(replications: Replications): string {
  const { ramp_up_end: output, hold_up_ramp_up_end: held } = replications;
  const at = (minutes: number | null, why: string | null): string =>
    minutes === null ? escapeMarkdown(`none: ${why ?? "not by half of the horizon"}`) : number(minutes, 1);
  const from = (ends: RampUpEnds, minutes: number | null): string => at(minutes, whyTooShort(ends));
  const over = ({ welch_window_min: window }: RampUpEnds): string =>
    window === null ? "" : ` (moving average over ${duration(window)})`;
  return markdownTable(
    [left("measure"), right("output, min"), right("hold-up, min")],
    [
      ["MSER-5 on the mean curve", at(output.mser5_min, output.mser5_why), at(held.mser5_min, held.mser5_why)],
      [
        "Welch's procedure",
        `${at(output.welch_min, output.welch_why)}${over(output)}`,
        `${at(held.welch_min, held.welch_why)}${over(held)}`,
      ],
      ["counted from", from(output, replications.counted_from_min), from(held, replications.hold_up_counted_from_min)],
    ],
  );
}

function stops({ stops: seen, n }: Replications): string {
  if (seen.length === 0) return "";
  return markdownTable(
    [left("stops"), right(`seen in ${number(n)} replications`), right("replications for fifty")],
    seen.map((stop) => [
      escapeMarkdown(stopName(stop)),
      number(stop.seen),
      stop.replications_needed === null ? "–" : number(stop.replications_needed),
    ]),
  );
}

const NOTES: readonly string[] = [
  "The mean is that over replications, the interval Student's t for it; the percentiles are those of single runs. A new run falls outside the interval of the mean far more often than outside the percentiles.",
  "An interval is given once fifty stops of every kind that the file states were seen, in all replications together: one made from a handful is too sure of itself.",
  "Output and hold-up are cut each by its own mean curve: at an eighth, a quarter or half of the horizon, the first by which the ramp-up, as MSER-5 and Welch's procedure find it, has been over for as long as it took, and after which the first half does not differ from the second. Where there is none the horizon is too short, and no settled figure is given.",
  "The 95 % time is that of the mean output; single runs swing too much to have one of their own.",
  "The ramp-up loss of a replication is counted up to a quarter of the horizon, or half where the ramp-up takes longer, against its own settled output.",
];

/** replications.csv: a row for each replication. replications-series.csv: output over time, and mean levels. */
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
