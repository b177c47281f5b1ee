/** report.md of a growth study: findings, pictures, a row for each size, assumptions and cautions. */

import type { Growth } from "../../study/comparison/results.ts";
import { answerTable } from "../answer/answer.ts";
import { plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { reportTable } from "../text/study-table.ts";
import { growthAnswer } from "./growth-answer.ts";
import { growthFindings } from "./growth-findings.ts";
import { GROWTH_COLUMNS } from "./growth-table.ts";

export function growthMarkdown(growth: Growth, pictures: readonly PictureLink[]): string {
  const sections = [
    `# Growth: ${escapeMarkdown(growth.title)}`,
    answerTable(growthAnswer(growth)),
    ...pictureSections(pictures),
    "## Findings",
    `The group ${escapeMarkdown(growth.group)} is lengthened machine by machine.`,
    bullets(growthFindings(growth).map(({ text }) => escapeMarkdown(text))),
  ];
  sections.push("## Sizes", reportTable(GROWTH_COLUMNS, growth.sizes), SIZES_NOTE);
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

const SIZES_NOTE = "Headroom below zero is what the belt cannot carry of the need.";

const ASSUMPTIONS: readonly string[] = [
  "Every added machine is like the others of its group, at the far end, with belts and dividers like theirs.",
  WHEN_SETTLED,
  "The ramp-up loss is counted against running at the settled output from the start.",
];
