/** report.md of a sweep: the answer, findings, pictures, a row for each point, assumptions and cautions. */

import type { Sweep } from "../../study/sweep/sweep-results.ts";
import { answerTable } from "../answer/answer.ts";
import { number, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { reportTable } from "../text/study-table.ts";
import { sweepAnswer } from "./sweep-answer.ts";
import { sweepFindings } from "./sweep-findings.ts";
import { sweepColumns } from "./sweep-table.ts";

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
    reportTable(sweepColumns(sweep), sweep.points.slice(0, MOST_ROWS)),
  ];
  if (sweep.points.length > MOST_ROWS) {
    sections.push(`The first ${number(MOST_ROWS)} of ${number(sweep.points.length)}; all are in sweep.csv.`);
  }
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

const ASSUMPTIONS: readonly string[] = [
  "Each point is the scenario with these values in place of the file's own, run by itself from an empty line.",
  WHEN_SETTLED,
  "The ramp-up loss is counted against running at the settled output of the same point from the start.",
];
