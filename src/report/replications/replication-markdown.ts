/** The part of report.md that tells of replications. */
import type { Replications } from "../../analysis/chance-results.ts";
import { duration, number } from "../figures.ts";
import { bullets, escapeMarkdown, left, markdownTable, right } from "../markdown-text.ts";
import { namedFigures } from "./replication-figures.ts";

export function replicationSections(replications: Replications): string[] {
  return ["## Replications", figures(replications), "### End of the ramp-up", ends(replications), bullets(NOTES)];
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

function ends({ ramp_up_end: found, counted_from_min: from }: Replications): string {
  const at = (minutes: number | null, why: string | null): string =>
    minutes === null ? escapeMarkdown(`none: ${why ?? "not by half of the horizon"}`) : number(minutes, 1);
  const over = found.welch_window_min === null ? "" : `, moving average over ${duration(found.welch_window_min)}`;
  return markdownTable(
    [left("measure"), right("at, min")],
    [
      ["MSER-5 on the mean output", at(found.mser5_min, found.mser5_why)],
      [`Welch's procedure${over}`, at(found.welch_min, found.welch_why)],
      [`band, moving average of the mean output over ${duration(found.band_average_min)}`, at(found.band_min, null)],
      ["settled figures are counted from", number(from, 1)],
    ],
  );
}

const NOTES: readonly string[] = [
  "The mean is that over replications, the interval Student's t for it; the percentiles are those of single runs. A new run falls outside the interval of the mean far more often than outside the percentiles.",
  "Settled figures of a replication are its own, after the later of the ends that MSER-5 and Welch's procedure find on the mean output.",
  "The settling time of a replication is the time from which its own moving average stays within the tolerance of its own settled output. That average is the narrowest with which half of the replications come to stay there by half of the horizon; those that don't have no settling time, and the mean is of the others.",
  "The ramp-up loss of a replication is counted up to where settled figures begin, against its own settled output.",
];
