/** What tactics compared on the same luck answer. */
import type { SameLuck } from "../../study/luck/luck-results.ts";
import type { Comparison } from "../../study/results.ts";
import { type AnswerLine, toldIn } from "../answer/answer.ts";
import { BASELINE, makesNothing } from "../comparison/baseline.ts";
import { duration, items, listed, number, rate } from "../figures.ts";
import { oneLine } from "../text-width.ts";
import { luckComparisonFindings, luckWinnerSentence } from "./luck-comparison-findings.ts";
import { figureOf } from "./luck-figures.ts";

export function luckComparisonAnswer(comparison: Comparison, luck: SameLuck): AnswerLine[] {
  const found = luckComparisonFindings(comparison, luck);
  const loss = luck.deciding ?? figureOf(luck, "ramp_up_loss");
  const best = comparison.tactics.find(({ id }) => id === (comparison.winner ?? loss?.leader ?? BASELINE));
  const runs = `means of ${number(luck.n)} runs of each tactic on the same luck, up to ${duration(luck.counted_from_min)}`;
  return [
    { what: "Do", text: luckWinnerSentence(comparison, luck).replace(/\.$/, "") },
    ...(best === undefined || makesNothing(best)
      ? []
      : [
          {
            what: "Makes",
            text: `${best.settled_per_min === null ? "not known" : rate(best.settled_per_min)} in the long run with ${best.id === BASELINE ? "nothing done" : oneLine(best.id)}`,
          },
          {
            what: "From",
            text:
              best.to_95_min === null
                ? "95\u00a0% not within the horizon"
                : `95\u00a0% of it from ${duration(best.to_95_min)} on`,
          },
          {
            what: "Lost",
            text: `${best.ramp_up_loss === null ? "not known" : items(best.ramp_up_loss)}; ${best.items_handled === 0 ? "nothing" : items(best.items_handled)} handled`,
          },
          ...(best.asks_for.length === 0 ? [] : [{ what: "Asks for", text: listed(best.asks_for.map(oneLine)) }]),
        ]),
    ...toldIn(found, ["stopped"], "Against it", { isBad: true }),
    ...toldIn(found, ["slower"], "Against it", { isBad: true }),
    ...toldIn(found, ["no-end"], "Against it", { isBad: true }),
    { what: "Figures", text: runs },
    ...toldIn(found, ["few-stops"], "Sure", { isMore: true }),
    ...toldIn(found, ["beyond-means"], "Or", { isMore: true }),
    ...toldIn(found, ["against-none"], "Beside", { isMore: true }),
  ];
}
