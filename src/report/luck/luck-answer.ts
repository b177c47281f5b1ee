/** Of who leads on the same luck: what is sure, and what to do for more, as lines of an answer. */
import type { LuckFigure, SameLuck } from "../../study/luck-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { moreOf, sureOf } from "./luck-findings.ts";

export function sureAndMore(luck: SameLuck, figure: LuckFigure): AnswerLine[] {
  const sure = sureOf(luck, figure);
  return [
    { what: "Sure", text: sure.startsWith("nothing") ? sure : `${sure} (but for one study in twenty)` },
    { what: "To do", text: moreOf(luck, figure) },
  ];
}
