/** The best starts for the terminal: the answer and the list; the card, what each does, placements and cautions as details. */
import type { BestStart, BestStudy } from "../../study/best/best-results.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { minutesOrDash } from "../text/cells.ts";
import { terminalTable } from "../text/study-table.ts";
import { tacticText } from "../text/tactic-words.ts";
import { bullet, COLUMNS, HANDS, handCautions, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine, wrap } from "../text/text-width.ts";
import { bestAnswer, lossText, placedText } from "./best-answer.ts";
import { startColumns, WHAT } from "./best-table.ts";
import { cardTold } from "./card-text.ts";

/** @returns lines with a line break at the end of each */
export function bestText(study: BestStudy, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const { starts, card, placements } = study;
  const hands = byHand(starts);
  const page = {
    title: study.title,
    answer: bestAnswer(study),
    table: terminalTable([...startColumns(study), WHAT], starts, style),
    details: [
      card.length === 0
        ? []
        : [
            style.heading("Card for the operator"),
            ...cardTold(card).flatMap(({ when, what }) => bullet(`${when}: ${oneLine(what)}`)),
          ],
      starts.flatMap(({ id, does }) => bullet(`${oneLine(id)}: ${oneLine(tacticText(does))}`)),
      lessLines(starts, style),
      (placements ?? []).length === 0
        ? []
        : [
            style.heading("Where stock helps, by the number of buffers filled"),
            ...(placements ?? []).flatMap((one) => bullet(placedText(one))),
          ],
      wrap(LIST_NOTE, COLUMNS),
      handCautions(hands, style),
    ],
    caution: hands.length > 0 ? HANDS : null,
  };
  return pageText(page, style, shown);
}

export const LIST_NOTE =
  "> Recommended. No start of the list but doing nothing, and what only chance makes best, is beaten by another; to beat is to be at least as good in loss, 95\u00a0% time, items handled and reserve, and better in one. Reserve is the settled stock in infeed buffers against nothing done, and counts up to all of it.";

/** Names of starts for which hands go into the line. */
export function byHand(starts: readonly BestStart[]): string[] {
  return starts.flatMap(({ id, items_handled: handled }) => (handled > 0 ? [oneLine(id)] : []));
}

function lessLines(starts: readonly BestStart[], style: Style): string[] {
  const told = starts.flatMap(({ id, one_less: less }) =>
    less === null
      ? []
      : bullet(
          `${oneLine(id)}, ${oneLine(less.what)}: ${lossText(less.ramp_up_loss)}, 95\u00a0% at ${minutesOrDash(less.to_95_min)} min`,
        ),
  );
  return told.length === 0 ? [] : [style.heading("With one step less"), ...told];
}
