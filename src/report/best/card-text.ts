/** The operator's card in words. */
import { formatDuration } from "../../quantity/units.ts";
import type { CardTime } from "../../study/card-steps.ts";
import type { CardStep } from "../../study/tactic-parts.ts";
import { deedText } from "../text/tactic-words.ts";

/** What `best --json` prints. */
export interface CardStepTold {
  readonly when: string;
  readonly what: string;
}

export function cardTold(card: readonly CardStep[]): CardStepTold[] {
  return card.map(({ when, what }) => ({ when: timeText(when), what: deedText(what) }));
}

function timeText(when: CardTime): string {
  return typeof when === "string" ? TIMES[when] : `After ${formatDuration(when.afterMin)}`;
}

const TIMES: Readonly<Record<Extract<CardTime, string>, string>> = {
  before: "Before",
  "before-shift": "Before the shift",
  "while-waiting": "Before, while the start waits",
  "beside-line": "Beside the running line",
  start: "At the start",
  "own-full": "When its buffers are full",
  "all-full": "When all buffers are full",
  "tail-full": "When the last machine is full",
};
