/** report.md of a search for the best start: the answer, pictures, the list, the operator's card, where stock helps, cautions. */

import type { BestStart, BestStudy } from "../../study/best/best-results.ts";
import { answerTable } from "../answer/answer.ts";
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
import { CAUTIONS, HAND_CAUTIONS, TACTIC_CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { reportTable } from "../text/study-table.ts";
import { tacticText } from "../text/tactic-words.ts";
import { bestAnswer } from "./best-answer.ts";
import { PLACEMENTS, startColumns, UNDER_CHANCE } from "./best-table.ts";
import { byHand, LIST_NOTE } from "./best-text.ts";
import { cardTold } from "./card-text.ts";

/** The file in the report's folder that states the starts of the list. */
export const STARTS_FILE = "starts.yaml";

export function bestMarkdown(study: BestStudy, pictures: readonly PictureLink[]): string {
  const { starts, placements, card } = study;
  const sections = [
    `# The best start: ${escapeMarkdown(study.title)}`,
    answerTable(bestAnswer(study)),
    ...cardSection(study, card),
    ...pictureSections(pictures),
    "## Starts",
    reportTable(startColumns(study), starts),
    `${escapeMarkdown(LIST_NOTE)} \`fillfront compare ${STARTS_FILE}\` plays them again.`,
    markdownTable(
      [left("start"), left("does")],
      starts.map(({ id, does }) => [escapeMarkdown(id), escapeMarkdown(tacticText(does))]),
    ),
  ];
  if (placements !== null && placements.length > 0)
    sections.push("## Where stock helps", reportTable(PLACEMENTS, placements));
  if (study.under_chance !== undefined) sections.push("## Under chance", chanceTable(study.under_chance));
  sections.push(
    "## Assumptions",
    bullets([
      `Horizon ${duration(study.horizon_min)}, tick ${escapeMarkdown(study.tick_s)} s, seed ${escapeMarkdown(study.seed)}.`,
      "Doses lie on a grid: whole buffers, a few levels, speeds and times; the recommended start is then looked at item by item. A better start may lie between doses.",
      WHEN_SETTLED,
    ]),
    "## Cautions",
    bullets(cautions(starts)),
  );
  return `${plain(sections.join("\n\n"))}\n`;
}

function cardSection({ recommended }: BestStudy, card: BestStudy["card"]): string[] {
  if (card.length === 0) return [];
  const steps = cardTold(card).map(({ when, what }, i) => [String(i + 1), escapeMarkdown(when), escapeMarkdown(what)]);
  return [
    `## Card for the operator: ${escapeMarkdown(recommended ?? "")}`,
    markdownTable([right("step"), left("when"), left("what")], steps),
    "The cautions below belong to it.",
  ];
}

function chanceTable({ n, starts }: NonNullable<BestStudy["under_chance"]>): string {
  return [
    `Means of ${number(n)} replications on the same luck; all else on this page is of the line without chance.`,
    reportTable(UNDER_CHANCE, starts),
  ].join("\n\n");
}

function cautions(starts: readonly BestStart[]): string[] {
  const [estimate = "", hands = "", goods = ""] = CAUTIONS;
  const names = byHand(starts).map(escapeMarkdown);
  const forHands =
    names.length === 0 ? [hands] : [`Hands go into the line with ${names.join(", ")}.`, ...HAND_CAUTIONS];
  return [estimate, ...forHands, ...TACTIC_CAUTIONS, goods];
}
