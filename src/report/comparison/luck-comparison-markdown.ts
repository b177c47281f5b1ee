/** report.md of tactics compared on the same luck. */

import type { SameLuck } from "../../study/luck-results.ts";
import type { Comparison } from "../../study/results.ts";
import { answerTable } from "../answer/answer.ts";
import { LUCK_ASSUMPTIONS, LUCK_NOTE, luckSections } from "../luck/luck-table.ts";
import { duration, number, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { HANDS_WORK, notCharged } from "../text/notes.ts";
import { reportTable } from "../text/study-table.ts";
import { notesOn } from "../text/tactic-words.ts";
import { cautions } from "./comparison-markdown.ts";
import { luckComparisonAnswer } from "./luck-comparison-answer.ts";
import { luckComparisonFindings, WHAT_COUNTS_ON_LUCK } from "./luck-comparison-findings.ts";
import { luckComparisonColumns } from "./luck-comparison-text.ts";
import { MADE, WHAT_EACH_DOES } from "./tactics-table.ts";

export function luckComparisonMarkdown(
  comparison: Comparison,
  luck: SameLuck,
  pictures: readonly PictureLink[],
): string {
  const { tactics } = comparison;
  const sections = [
    `# Tactics compared: ${escapeMarkdown(comparison.title)}`,
    answerTable(luckComparisonAnswer(comparison, luck)),
    ...pictureSections(pictures),
    "## Findings",
    `Horizon ${duration(comparison.horizon_min)}, tick ${escapeMarkdown(comparison.tick_s)} s, seed ${escapeMarkdown(comparison.seed)}, ${number(luck.n)} replications of each on the same luck.`,
    bullets(
      luckComparisonFindings(comparison, luck)
        .filter(({ code }) => code !== "note")
        .map(({ text }) => escapeMarkdown(text)),
    ),
    "## Tactics",
    reportTable(luckComparisonColumns(luck), tactics),
    OUTCOMES_NOTE,
    "## Differences on the same luck",
    LUCK_NOTE,
    ...luckSections(luck),
  ];
  if (tactics.some((tactic) => tactic.made.min_10 !== null))
    sections.push("## Products made at first", reportTable(MADE, tactics));
  sections.push("## What each does", reportTable(WHAT_EACH_DOES, tactics));
  const notes = notesOn(tactics).map(({ id, text }) => `${escapeMarkdown(id)}: ${escapeMarkdown(text)}`);
  if (notes.length > 0) sections.push("## Notes", bullets(notes));
  sections.push("## Assumptions", bullets([...LUCK_ASSUMPTIONS, EMPTY, HANDS_WORK, notCharged(tactics)]));
  sections.push("## Cautions", bullets(cautions(tactics)));
  return `${plain(sections.join("\n\n"))}\n`;
}

const OUTCOMES_NOTE = [
  "Means over replications. Times run from the moment at which the feed could have started, so a start that waits for hands",
  `counts as late. Beaten is what is told worse in one of ${WHAT_COUNTS_ON_LUCK}, and better in none; where the`,
  "intervals tell nothing, nothing is beaten, but for what has more handled to no effect that is told.",
].join("\n");

const EMPTY = "Each run starts from an empty line but for what the tactic places itself.";
