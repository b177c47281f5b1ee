/** report.md of a sweep: the answer, findings, pictures, a row for each point, assumptions and cautions. */

import type { Sweep } from "../../study/sweep/sweep-results.ts";
import { answerTable } from "../answer/answer.ts";
import { countOrDash, exactRateOrDash, minutesOrDash, rateOrDash, settlingOrDash } from "../text/cells.ts";
import { number, plain } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { sweepAnswer } from "./sweep-answer.ts";
import { outputPerMin } from "./sweep-figures.ts";
import { sweepFindings } from "./sweep-findings.ts";

/** More would make a page that nobody reads. */
const MOST_ROWS = 500;

export function sweepMarkdown(sweep: Sweep, pictures: readonly PictureLink[]): string {
  const sections = [
    `# Sweep: ${escapeMarkdown(sweep.title)}`,
    answerTable(sweepAnswer(sweep)),
    "## Findings",
    bullets(sweepFindings(sweep).map(({ text }) => escapeMarkdown(text))),
    ...pictureSections(pictures),
    "## Points",
    pointsTable(sweep),
  ];
  if (sweep.points.length > MOST_ROWS) {
    sections.push(`The first ${number(MOST_ROWS)} of ${number(sweep.points.length)}; all are in sweep.csv.`);
  }
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

function pointsTable({ quantities, points }: Sweep): string {
  return markdownTable(
    [
      ...quantities.map(({ path }) => right(escapeMarkdown(path))),
      right("settles at, min"),
      right("95 % from, min"),
      right("lost, items"),
      right("long run, items/min"),
      right("full, items/min"),
      right("settled hold-up, items"),
      right("highest hold-up, items"),
    ],
    points
      .slice(0, MOST_ROWS)
      .map((point) => [
        ...point.values.map(escapeMarkdown),
        settlingOrDash(point.settling_min, point.proved),
        minutesOrDash(point.within_tolerance_min),
        countOrDash(point.ramp_up_loss),
        rateOrDash(outputPerMin(point)),
        exactRateOrDash(point.full_per_min),
        number(point.hold_up_settled),
        number(point.hold_up_peak),
      ]),
  );
}

const ASSUMPTIONS: readonly string[] = [
  "Each point is the scenario with these values in place of the file's own, run by itself from an empty line.",
  WHEN_SETTLED,
  "The ramp-up loss is counted against running at the settled output of the same point from the start.",
];
