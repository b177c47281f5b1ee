/** What is worth doing, what it asks for, which limits it breaks, and what would do better at which price. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { BASELINE, baselineOf, givenMin, nameOf } from "../text/baseline.ts";
import { duration, items, listed, listedShort } from "../text/figures.ts";
import { asksText } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";
import { beside, brokenText, equalOf, handledText, losesText, reservePrice, timeText } from "./outcome-words.ts";
import { standstillSentence, stopsAsItIs } from "./stopped-findings.ts";

export interface RecommendedFinding {
  readonly code: "winner" | "limits" | "without-reserve" | "with-hands" | "with-other-means";
  readonly text: string;
}

export function recommendedFindings(comparison: Comparison): RecommendedFinding[] {
  if (comparison.tactics.length === 0) return [];
  return [{ code: "winner", text: winnerSentence(comparison) }, ...limits(comparison), ...better(comparison)];
}

/** One sentence, or two: what to do and why. */
export function winnerSentence(comparison: Comparison): string {
  const { winner, tactics, nothing_qualifies: nothing } = comparison;
  const best = tactics.find(({ id }) => id === winner);
  if (winner === null || best === undefined) return standstillSentence(comparison);
  const base = baselineOf(comparison);
  if (winner === BASELINE) {
    const why =
      tactics.length === 1
        ? "Doing nothing is all that is compared"
        : nothing
          ? `Doing nothing is what is left: no tactic here needs only what the floor grants, makes as much and leaves the stock in the buffers`
          : "No tactic that the floor grants is better than doing nothing";
    return `${why}. As it is, the line ${outcomeOf(best, comparison)}.`;
  }
  const asks = best.asks_for.length === 0 ? "" : ` It asks for ${asksText(best.asks_for)}.`;
  const still = stopsAsItIs(comparison);
  const what = beside(best, still === "" ? base : undefined, equalOf(comparison));
  return `${oneLine(winner)} is worth doing: ${what}, with ${handledText(best.items_handled)}.${asks}${still}`;
}

function outcomeOf({ ramp_up_loss: loss, to_95_min: at, settling_min: full }: TacticResult, of: Comparison): string {
  if (full === null) return `has not settled within ${duration(givenMin(of))}`;
  const parts = [
    ...(loss === null ? [] : [losesText(loss)]),
    ...(at === null ? [] : [timeText(at)]),
    `full output from ${duration(full)} on`,
  ];
  return listed(parts);
}

/** How far what is recommended is over the limits, and what keeps them; or that it keeps what doing nothing breaks. */
function limits(comparison: Comparison): RecommendedFinding[] {
  const { tactics, winner } = comparison;
  const best = tactics.find(({ id }) => id === winner);
  const breaking = tactics.filter(({ limits_broken: broken }) => broken.length > 0);
  if (best === undefined || breaking.length === 0) return [];
  const keeping = tactics.filter(({ limits_broken: broken }) => broken.length === 0).map(({ id }) => nameOf(id));
  if (best.limits_broken.length === 0) {
    const base = baselineOf(comparison);
    const told = base !== undefined && base.limits_broken.length > 0 ? base : breaking[0];
    if (told === undefined) return [];
    return [
      { code: "limits", text: `The limits are kept; with ${nameOf(told.id)} ${brokenText(told.limits_broken)}.` },
    ];
  }
  const kept = keeping.length === 0 ? "None keeps all limits." : `All limits are kept by ${listedShort(keeping, 6)}.`;
  const who = winner === BASELINE ? "As it is, the line breaks limits" : `${oneLine(best.id)} breaks limits`;
  return [{ code: "limits", text: `${who}: ${brokenText(best.limits_broken)}. ${kept}` }];
}

/** Beside what is recommended: what does better, and what it gives up or asks for. */
function better(comparison: Comparison): RecommendedFinding[] {
  const { tactics, best_without_reserve, best_with_hands, best_with_other_means } = comparison;
  const found = (id: string | null): TacticResult | undefined => tactics.find((one) => one.id === id);
  const told = (
    code: RecommendedFinding["code"],
    id: string | null,
    lead: string,
    price: (one: TacticResult) => string,
  ): RecommendedFinding[] => {
    const one = found(id);
    if (one === undefined) return [];
    const asks = one.asks_for.length === 0 ? "" : ` It asks for ${asksText(one.asks_for)}.`;
    return [{ code, text: `${lead}${oneLine(one.id)} ${outcome(one, comparison)}${price(one)}.${asks}` }];
  };
  return [
    ...told("without-reserve", best_without_reserve, "With less reserve, ", (one) =>
      reservePrice(one, "doing nothing"),
    ),
    ...told("with-hands", best_with_hands, "With hands that the floor does not grant, ", () => ""),
    ...told("with-other-means", best_with_other_means, "With means that the floor does not grant, ", () => ""),
  ];
}

function outcome(one: TacticResult, comparison: Comparison): string {
  const { ramp_up_loss: loss, to_95_min: at, limits_broken: broken } = one;
  const best = comparison.tactics.find(({ id }) => id === comparison.winner);
  const keeps = best !== undefined && best.limits_broken.length > 0 && broken.length === 0 ? ["keeps the limits"] : [];
  return listed([
    ...keeps,
    ...(loss === null ? [] : [losesText(loss)]),
    ...(at === null ? [] : [timeText(at)]),
    ...(one.items_handled === 0 ? [] : [`has ${items(one.items_handled)} handled`]),
  ]);
}
