/** What tactics compared on the same luck answer: what is likely, what is sure of it, and what to do for more. */

import type { SameLuck } from "../../study/luck-results.ts";
import type { Comparison, TacticResult } from "../../study/results.ts";
import { type AnswerLine, toldIn } from "../answer/answer.ts";
import { startMoneyAnswer } from "../answer/money-answer.ts";
import { sureAndMore } from "../luck/luck-answer.ts";
import { figureOf, lossOnLuck } from "../luck/luck-figures.ts";
import { BASELINE, makesNothing } from "../text/baseline.ts";
import { duration, items, number, rate } from "../text/figures.ts";
import { asksAnswer } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";
import { hasLead, luckComparisonFindings, luckWinnerSentence } from "./luck-comparison-findings.ts";

export function luckComparisonAnswer(comparison: Comparison, luck: SameLuck): AnswerLine[] {
  const found = luckComparisonFindings(comparison, luck);
  const loss = luck.deciding ?? figureOf(luck, "ramp_up_loss");
  const best = comparison.tactics.find(({ id }) => id === (comparison.winner ?? loss?.leader ?? BASELINE));
  return [
    { what: "Do", text: luckWinnerSentence(comparison, luck).replace(/\.$/, "") },
    ...(best === undefined || makesNothing(best) ? [] : likely(best, luck)),
    ...(loss === undefined || !hasLead(comparison, luck) ? [] : sureAndMore(luck, loss)),
    ...toldIn(found, ["stopped", "slower", "no-end"], "Against it", { isBad: true }),
    {
      what: "Figures",
      text: `means of ${number(luck.n)} runs of each tactic on the same luck, up to ${duration(luck.counted_from_min)}`,
      isMore: true,
    },
    ...toldIn(found, ["few-stops"], "Seldom", { isMore: true }),
    ...toldIn(found, ["beyond-means"], "Or", { isMore: true }),
    ...toldIn(found, ["against-none"], "Beside", { isMore: true }),
  ];
}

function likely(best: TacticResult, luck: SameLuck): AnswerLine[] {
  const { id, settled_per_min: settled, to_95_min: at, items_handled: handled, asks_for: asks } = best;
  return [
    {
      what: "Makes",
      text: `${settled === null ? "not known" : `likely ${rate(settled)}`} in the long run with ${id === BASELINE ? "nothing done" : oneLine(id)}`,
    },
    {
      what: "From",
      text: at === null ? "95\u00a0% not within half of the horizon" : `95\u00a0% of it from ${duration(at)} on`,
    },
    { what: "Lost", text: `${lossOnLuck(luck, id)}; ${handled === 0 ? "nothing" : items(handled)} handled` },
    ...startMoneyAnswer(best.money),
    ...asksAnswer(asks),
  ];
}
