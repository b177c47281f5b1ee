/** What sizing a plant answers: how many machines, how busy, whether it reaches what is wanted, and what is too small. */
import type { PlantSize } from "../../study/size/size-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { sizeFindings } from "./size-findings.ts";

const LABELS = {
  counts: "Needs",
  choice: "Choice",
  "too-small": "Too small",
  returns: "Returns",
  slowed: "Slowed",
  run: "Makes",
  chance: "Makes",
} as const;

export function sizeAnswer(size: PlantSize): AnswerLine[] {
  const told = sizeFindings(size).map(({ code, text, isBad }): AnswerLine => {
    const short = text.replace(/^Too small: /, "").replace(/\.$/, "");
    return {
      what: LABELS[code],
      text: short,
      isBad,
      ...(code === "counts" || code === "run" || code === "chance" ? {} : { isMore: true }),
    };
  });
  const first = ["Needs", "Makes"];
  return [...told.filter(({ what }) => first.includes(what)), ...told.filter(({ what }) => !first.includes(what))];
}
