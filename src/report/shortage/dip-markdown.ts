/** report.md of a study of a dip: findings, picture, a row for each variant, assumptions and cautions. */
import type { Dip } from "../../study/shortage/shortage-results.ts";
import { answerTable } from "../answer/answer.ts";
import { duration, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS } from "../text/notes.ts";
import { reportTable } from "../text/study-table.ts";
import { dipAnswer } from "./dip-answer.ts";
import { dipFindings } from "./dip-findings.ts";
import { dipColumns } from "./dip-table.ts";
import { levelText } from "./shortage-figures.ts";
import { studied, variantsTable } from "./shortage-markdown.ts";

export function dipMarkdown(dip: Dip, pictures: readonly PictureLink[]): string {
  const { level, from_min: fromMin, for_min: forMin } = dip.dip;
  const sections = [
    `# Dip of the feed: ${escapeMarkdown(dip.title)}`,
    answerTable(dipAnswer(dip)),
    ...pictureSections(pictures),
    "## Findings",
    `${studied(dip)} The dip: ${levelText(level)} of the feed from ${duration(fromMin)} for ${duration(forMin)}.`,
    bullets(dipFindings(dip).map(({ text }) => escapeMarkdown(text))),
  ];
  sections.push("## Outcome", reportTable(dipColumns(dip), dip.results), "## Variants", variantsTable(dip));
  sections.push("## Assumptions", bullets(ASSUMPTIONS), "## Cautions", bullets(CAUTIONS));
  return `${plain(sections.join("\n\n"))}\n`;
}

const ASSUMPTIONS: readonly string[] = [
  "Every variant has the same machines, feeds, buffers and collecting belts, and is run twice from empty, without the dip and with it; lost is what the second run makes less up to the horizon.",
  "An even tree has a chain's belt inside and its branch at the machines; all its dividers are even, their ways the prime factors of the number of machines. A return loop has dividers of two and three ways, and what nobody has a share of goes back on a belt like the chain's.",
  "Recovery counts from the moment at which the feed is whole again: until the output keeps up with all of what it settles at, or until it keeps up with 95 % of that.",
];
