/** report.md of a search for the best start: the answer, pictures, the list, the operator's card, where stock helps, cautions. */
import type { BestStart, BestStudy, PlacedResult } from "../../study/best/best-results.ts";
import { answerTable } from "../answer/answer.ts";
import { countOrDash, minutesOrDash } from "../text/cells.ts";
import { duration, number, percentCell, plain } from "../text/figures.ts";
import {
  bullets,
  escapeMarkdown,
  left,
  markdownTable,
  type PictureLink,
  pictureSections,
  right,
} from "../text/markdown-text.ts";
import { savedCells, savedHeadings } from "../text/money-text.ts";
import { CAUTIONS, HAND_CAUTIONS, TACTIC_CAUTIONS, WHEN_SETTLED } from "../text/notes.ts";
import { bestAnswer } from "./best-answer.ts";
import { byHand, LIST_NOTE } from "./best-text.ts";

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
    startsTable(study),
    `${escapeMarkdown(LIST_NOTE)} \`fillfront compare ${STARTS_FILE}\` plays them again.`,
    markdownTable(
      [left("start"), left("does")],
      starts.map(({ id, does }) => [escapeMarkdown(id), escapeMarkdown(does)]),
    ),
  ];
  if (placements !== null && placements.length > 0) sections.push("## Where stock helps", placementsTable(placements));
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
  const steps = card.map(({ when, what }, i) => [String(i + 1), escapeMarkdown(when), escapeMarkdown(what)]);
  return [
    `## Card for the operator: ${escapeMarkdown(recommended ?? "")}`,
    markdownTable([right("step"), left("when"), left("what")], steps),
    "The cautions below belong to it.",
  ];
}

function startsTable({ starts, recommended }: BestStudy): string {
  return markdownTable(
    [
      left("start"),
      right("lost, items"),
      right("95 % at, min"),
      right("full output at, min"),
      right("handled, items"),
      right("peak hold-up, items"),
      right("reserve kept, %"),
      ...savedHeadings(starts).map(right),
      left("placed"),
      left("one step less"),
      right("then lost, items"),
    ],
    starts.map((one) => [
      one.id === recommended ? `**${escapeMarkdown(one.id)}**` : escapeMarkdown(one.id),
      countOrDash(one.ramp_up_loss),
      minutesOrDash(one.to_95_min),
      minutesOrDash(one.settling_min),
      number(one.items_handled),
      number(one.hold_up_peak),
      one.reserve_kept === null ? "–" : percentCell(one.reserve_kept),
      ...savedCells(one),
      escapeMarkdown(one.placed.map(({ machine, items }) => `${machine} ${items}`).join(", ")),
      escapeMarkdown(one.one_less?.what ?? ""),
      countOrDash(one.one_less?.ramp_up_loss ?? null),
    ]),
  );
}

function chanceTable({ n, starts }: NonNullable<BestStudy["under_chance"]>): string {
  const rows = starts.map((one) => [
    escapeMarkdown(one.id),
    countOrDash(one.ramp_up_loss),
    minutesOrDash(one.to_95_min),
    one.makes_less ? "likely" : "",
  ]);
  return [
    `Means of ${number(n)} replications on the same luck; all else on this page is of the line without chance.`,
    markdownTable([left("start"), right("lost, items"), right("95 % at, min"), left("makes less for good")], rows),
  ].join("\n\n");
}

function placementsTable(placements: readonly PlacedResult[]): string {
  const at = (one: PlacedResult["head"]): string => minutesOrDash(one?.settling_min ?? null);
  return markdownTable(
    [
      right("buffers"),
      right("items"),
      left("best at"),
      right("full output at, min"),
      right("from the head"),
      right("from the tail"),
      right("spread evenly"),
      left("how sure"),
    ],
    placements.map(({ buffers, best, head, tail, even, is_complete, is_proved }) => [
      number(buffers),
      number(best.items),
      escapeMarkdown(best.placed.map(({ machine }) => machine).join(", ")),
      at(best),
      at(head),
      at(tail),
      at(even),
      is_complete ? "all tried" : is_proved ? "no buffer moved is better" : "not all beside it tried",
    ]),
  );
}

function cautions(starts: readonly BestStart[]): string[] {
  const [estimate = "", hands = "", goods = ""] = CAUTIONS;
  const names = byHand(starts).map(escapeMarkdown);
  const forHands =
    names.length === 0 ? [hands] : [`Hands go into the line with ${names.join(", ")}.`, ...HAND_CAUTIONS];
  return [estimate, ...forHands, ...TACTIC_CAUTIONS, goods];
}
