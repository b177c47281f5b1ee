/** What a fit answers: what each unknown is, whether the model fits, what stands against it, and what to do. */
import type { Fit } from "../../study/fit/fit-results.ts";
import { type AnswerLine, toldIn } from "../answer/answer.ts";
import { number } from "../text/figures.ts";
import { oneLine } from "../text/text-width.ts";
import { worstMisfit } from "./fit-figures.ts";
import { fitFindings } from "./fit-findings.ts";

/** Beyond these an unknown has its row in the table only. */
const MOST_FOUND = 5;

export function fitAnswer(fit: Fit): AnswerLine[] {
  const found = fitFindings(fit);
  return [
    ...toldIn(found, ["pinned", "one-sided"], "Found").slice(0, MOST_FOUND),
    ...toldIn(found, ["alone-no-matter", "untold", "combination"], "Untold", { isBad: true }),
    goodness(fit),
    ...toldIn(found, ["at-bound"], "At bound", { isBad: true }),
    ...toldIn(found, ["starts"], "Search", { isBad: true }),
    ...toldIn(found, ["together"], "Together", { isMore: true }),
    { what: "To do", text: advice(fit) },
  ];
}

function goodness(fit: Fit): AnswerLine {
  const { reduced, fits } = fit;
  if (reduced === null) return { what: "Fits", text: "not known: there are no more counts than unknowns", isBad: true };
  const each = `χ² ${number(reduced, 2)} a degree of freedom, where counting errors alone make about 1`;
  return fits ? { what: "Fits", text: `yes: ${each}` } : { what: "Fits", text: `no: ${each}`, isBad: true };
}

function advice(fit: Fit): string {
  if (fit.reduced === null) return "count more often, or leave fewer values open";
  if (fit.fits) return "fitted.yaml in the report has these values; fillfront run shows what it does with them";
  const worst = worstMisfit(fit);
  return `look first at ${oneLine(worst?.name ?? "")}, which fits worst: something else differs there, or was counted less surely`;
}
