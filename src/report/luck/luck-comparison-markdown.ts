/** report.md of tactics compared on the same luck. */

import type { Comparison } from "../../study/comparison/results.ts";
import type { SameLuck } from "../../study/luck/luck-results.ts";
import { answerTable } from "../answer/answer.ts";
import { cautions, made, whatEachDoes } from "../comparison/comparison-markdown.ts";
import { countOrDash, minutesOrDash, rateOrDash } from "../text/cells.ts";
import { duration, number, plain } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  left,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { HANDS_WORK, notCharged } from "../text/notes.ts";
import { luckComparisonAnswer } from "./luck-comparison-answer.ts";
import { luckComparisonFindings, WHAT_COUNTS_ON_LUCK } from "./luck-comparison-findings.ts";
import { lossMin } from "./luck-figures.ts";
import { LUCK_ASSUMPTIONS, LUCK_NOTE, luckSections } from "./luck-table.ts";

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
    outcomes(comparison, luck),
    OUTCOMES_NOTE,
    "## Differences on the same luck",
    LUCK_NOTE,
    ...luckSections(luck),
  ];
  if (tactics.some((tactic) => tactic.made.min_10 !== null)) sections.push("## Products made at first", made(tactics));
  sections.push("## What each does", whatEachDoes(tactics));
  const notes = tactics.flatMap(({ id, notes: own }) =>
    own.map((note) => `${escapeMarkdown(id)}: ${escapeMarkdown(note)}`),
  );
  if (notes.length > 0) sections.push("## Notes", bullets(notes));
  sections.push("## Assumptions", bullets([...LUCK_ASSUMPTIONS, EMPTY, HANDS_WORK, notCharged(tactics)]));
  sections.push("## Cautions", bullets(cautions(tactics)));
  return `${plain(sections.join("\n\n"))}\n`;
}

function outcomes({ tactics }: Comparison, luck: SameLuck): string {
  return markdownTable(
    [
      left("tactic"),
      left("choice"),
      right("lost, items"),
      right("lost, min of output"),
      right("95 % at, min"),
      right("handled, items"),
      right("settled, items/min"),
      right("first product, min"),
      right("peak hold-up, items"),
      right("settled hold-up, items"),
      left("beaten by"),
    ],
    tactics.map((tactic) => [
      escapeMarkdown(tactic.id),
      tactic.undominated ? "yes" : "",
      countOrDash(tactic.ramp_up_loss),
      minutesOrDash(lossMin(luck, tactic.id)),
      minutesOrDash(tactic.to_95_min),
      number(tactic.items_handled),
      rateOrDash(tactic.settled_per_min),
      minutesOrDash(tactic.first_product_min),
      number(tactic.hold_up_peak),
      number(tactic.hold_up_settled),
      tactic.beaten_by === null ? "" : escapeMarkdown(tactic.beaten_by),
    ]),
  );
}

const OUTCOMES_NOTE = [
  "Means over replications. Times run from the moment at which the feed could have started, so a start that waits for hands",
  `counts as late. Beaten is what is told worse in one of ${WHAT_COUNTS_ON_LUCK}, and better in none; where the`,
  "intervals tell nothing, nothing is beaten, but for what has more handled to no effect that is told.",
].join("\n");

const EMPTY = "Each run starts from an empty line but for what the tactic places itself.";
