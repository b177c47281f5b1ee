/** report.md of a comparison: the answer first, then pictures, findings, the table, what each does, cautions. */

import type { Comparison, TacticResult } from "../../study/results.ts";
import { answerTable } from "../answer/answer.ts";
import { duration, plain } from "../text/figures.ts";
import { bullets, escapeMarkdown, type PictureLink, pictureSections } from "../text/markdown-text.ts";
import { CAUTIONS, HAND_CAUTIONS, HANDS_WORK, notCharged, TACTIC_CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { reportTable } from "../text/study-table.ts";
import { notesOn } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";
import { comparisonAnswer } from "./comparison-answer.ts";
import { comparisonFindings, WHAT_COUNTS } from "./comparison-findings.ts";
import { MADE, tacticColumns, WHAT_EACH_DOES } from "./tactics-table.ts";

export function comparisonMarkdown(comparison: Comparison, pictures: readonly PictureLink[]): string {
  const { tactics } = comparison;
  const sections = [
    `# Tactics compared: ${escapeMarkdown(comparison.title)}`,
    answerTable(comparisonAnswer(comparison)),
    ...pictureSections(pictures),
    "## Findings",
    `Horizon ${duration(comparison.horizon_min)}, tick ${escapeMarkdown(comparison.tick_s)} s, seed ${escapeMarkdown(comparison.seed)}.`,
    bullets(
      comparisonFindings(comparison)
        .filter(({ code }) => code !== "note")
        .map(({ text }) => escapeMarkdown(text)),
    ),
  ];
  sections.push("## Tactics", reportTable(tacticColumns(tactics), tactics), OUTCOMES_NOTE);
  if (tactics.some(({ made }) => made.min_10 !== null))
    sections.push("### Products made at first", reportTable(MADE, tactics));
  sections.push("### What each does", reportTable(WHAT_EACH_DOES, tactics));
  const notes = notesOn(tactics).map(({ id, text }) => `${escapeMarkdown(id)}: ${escapeMarkdown(text)}`);
  if (notes.length > 0) sections.push("## Notes", bullets(notes));
  sections.push("## Assumptions", bullets(assumptions(tactics)), "## Cautions", bullets(cautions(tactics)));
  return `${plain(sections.join("\n\n"))}\n`;
}

const OUTCOMES_NOTE = [
  "Times run from the moment at which the feed could have started, so a start that waits for hands counts as late. Lost",
  "is what is missing from that moment on against what the line settles at with nothing done, up to one end for all; below 0",
  "it is a gain. Reserve is the settled stock in infeed buffers, against what it is with nothing done. What is made if something",
  "stops is made meanwhile, five minutes after the start, for five minutes. The choice are those that no other beats; to beat",
  `is to be at least as good in ${WHAT_COUNTS}, and better in one.`,
].join("\n");

const assumptions = (tactics: readonly TacticResult[]): string[] => [
  "All tactics run on the same line with the same seed, each from an empty line but for what it places itself.",
  WHEN_SETTLED,
  HANDS_WORK,
  notCharged(tactics),
  "Time runs in ticks, and every time here is right to a tick.",
];

export function cautions(tactics: readonly TacticResult[]): string[] {
  const [estimate = "", hands = "", goods = ""] = CAUTIONS;
  const byHand = tactics.filter((tactic) => tactic.by_hand).map(({ id }) => escapeMarkdown(oneLine(id)));
  const forHands =
    byHand.length === 0 ? [hands] : [`Hands go into the line with ${byHand.join(", ")}.`, ...HAND_CAUTIONS];
  return [estimate, ...forHands, ...TACTIC_CAUTIONS, goods];
}
