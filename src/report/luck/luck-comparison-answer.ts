/** What tactics compared on the same luck answer. */
import type { SameLuck } from "../../study/luck/luck-results.ts";
import type { Comparison } from "../../study/results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { BASELINE, makesNothing } from "../comparison/baseline.ts";
import { duration, items, listed, number, rate } from "../figures.ts";
import { oneLine } from "../text-width.ts";
import { luckComparisonFindings, luckWinnerSentence } from "./luck-comparison-findings.ts";
import { figureOf } from "./luck-figures.ts";

export function luckComparisonAnswer(comparison: Comparison, luck: SameLuck): AnswerLine[] {
  const found = luckComparisonFindings(comparison, luck);
  const said = (code: string, what: string, rest: Pick<AnswerLine, "isBad" | "isMore"> = {}): AnswerLine[] =>
    found.filter((one) => one.code === code).map(({ text }) => ({ what, text: text.replace(/\.$/, ""), ...rest }));
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
    ...said("stopped", "Against it", { isBad: true }),
    ...said("slower", "Against it", { isBad: true }),
    ...said("no-end", "Against it", { isBad: true }),
    { what: "Figures", text: runs },
    ...said("few-stops", "Sure", { isMore: true }),
    ...said("beyond-means", "Or", { isMore: true }),
    ...said("against-none", "Beside", { isMore: true }),
  ];
}
