/** What a comparison of tactics answers: what is worth doing, what it brings, what stands against it, and what would do better. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { startMoneyAnswer } from "../answer/money-answer.ts";
import { brokenInBrief } from "../run/plant-findings.ts";
import { together } from "../run/warnings.ts";
import { BASELINE, baselineOf, givenMin, makesNothing, nameOf } from "../text/baseline.ts";
import { duration, fromTime, items, listed, listedShort, number, percent, rate } from "../text/figures.ts";
import { asksAnswer, asksText, notesOn, tacticText } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";
import { luckComparisonAnswer } from "./luck-comparison-answer.ts";
import { standstillSentence, stopsAsItIs } from "./stopped-findings.ts";

export function comparisonAnswer(comparison: Comparison): AnswerLine[] {
  const { tactics, winner, replications: luck } = comparison;
  if (luck !== undefined) return luckComparisonAnswer(comparison, luck);
  const best = tactics.find(({ id }) => id === winner);
  if (best === undefined) return [{ what: "Do", text: standstillSentence(comparison).replace(/\.$/, ""), isBad: true }];
  const base = baselineOf(comparison);
  return [
    doing(comparison, best),
    ...(best.settled_per_min === null ? [] : [{ what: "Makes", text: makes(best, base) }]),
    { what: "From", text: from(comparison, best, base) },
    { what: "Lost", text: lost(best, base) },
    ...startMoneyAnswer(best.money),
    ...asksAnswer(best.asks_for),
    ...against(comparison, best, base),
    ...better(comparison),
    limits(comparison, best),
    ...notes(comparison),
  ];
}

function doing(comparison: Comparison, { id, does }: TacticResult): AnswerLine {
  const { tactics, nothing_qualifies: nothing } = comparison;
  if (id !== BASELINE) return { what: "Do", text: `${oneLine(id)}: ${oneLine(tacticText(does))}` };
  const why =
    tactics.length === 1
      ? "it is all that is compared"
      : nothing
        ? "none keeps output and stock with only what the floor grants"
        : "no tactic that the floor grants is better";
  return { what: "Do", text: `nothing: ${why}` };
}

function makes(best: TacticResult, base: TacticResult | undefined): string {
  const own = rate(best.settled_per_min ?? 0);
  if (best.id === BASELINE || base === undefined) return `${own} in the long run`;
  if (makesNothing(base)) return `${own} in the long run; with nothing done the line stops`;
  const other = rate(base.settled_per_min ?? 0);
  return own === other ? `${own} in the long run, as with nothing done` : `${own} in the long run instead of ${other}`;
}

function from(comparison: Comparison, best: TacticResult, base: TacticResult | undefined): string {
  const { to_95_min: at, settling_min: full } = best;
  if (at === null || full === null) return `not settled within ${duration(givenMin(comparison))}`;
  const beside = best.id === BASELINE ? undefined : base;
  return `95\u00a0% ${fromTime(at)}${instead(at, beside?.to_95_min)}, all of it ${fromTime(full)}${instead(full, beside?.settling_min)}`;
}

function instead(own: number, other: number | null | undefined): string {
  return other === null || other === undefined || duration(other) === duration(own)
    ? ""
    : ` instead of ${duration(other)}`;
}

function lost(best: TacticResult, base: TacticResult | undefined): string {
  const { ramp_up_loss: loss, items_handled: handled, id } = best;
  const beside = id === BASELINE || base === undefined ? null : base.ramp_up_loss;
  const own = loss === null ? "not known" : inItems(loss);
  const other = beside === null || inItems(beside) === own ? "" : ` instead of ${inItems(beside)}`;
  return `${own}${other}; ${handled === 0 ? "nothing" : items(handled)} handled`;
}

function inItems(loss: number): string {
  return Math.round(loss) < 0 ? `${items(-loss)} gained` : items(loss);
}

/** Less is no reason. */
const LEAST_MIN = 0.05;

/** What it gives up beside doing nothing. */
function against({ tactics }: Comparison, best: TacticResult, base: TacticResult | undefined): AnswerLine[] {
  const parts: string[] = [];
  if (base !== undefined && best.id !== BASELINE) {
    if (best.hold_up_peak > base.hold_up_peak)
      parts.push(`${number(best.hold_up_peak)} items on the line at most instead of ${number(base.hold_up_peak)}`);
    if (best.reserve_kept !== null && best.reserve_kept < 0.995)
      parts.push(`${percent(best.reserve_kept)} of the stock is left`);
    if (best.bridges_less_min > LEAST_MIN)
      parts.push(`a feed stop is bridged for ${duration(best.bridges_less_min)} less`);
  }
  const slower = tactics.filter((one) => one.slower_for_good && !makesNothing(one)).length;
  const stopping = tactics.filter(makesNothing).length;
  if (stopping > 0) parts.push(`the line stops for good with ${number(stopping)} of ${number(tactics.length)}`);
  if (slower > 0) parts.push(`slower for good with ${number(slower)} of ${number(tactics.length)}`);
  return parts.length === 0 ? [] : [{ what: "Against it", text: parts.join("; ") }];
}

function limits({ tactics }: Comparison, best: TacticResult): AnswerLine {
  const stated = tactics.some((one) => one.over_limit_min !== null || one.over_limit_items !== null);
  if (!stated) return { what: "Limits", text: "none stated", isMore: true };
  const keeping = tactics.filter(({ limits_broken: broken }) => broken.length === 0).map(({ id }) => nameOf(id));
  const all =
    keeping.length === tactics.length
      ? ""
      : keeping.length === 0
        ? "; none keeps them"
        : `; kept by ${listedShort(keeping, 2)}`;
  if (best.limits_broken.length === 0) return { what: "Limits", text: `kept${all.replace(/^; kept/, ",")}` };
  return {
    what: "Limits",
    text: `broken: ${listedShort(best.limits_broken.map(brokenInBrief), 2)}${all}`,
    isBad: true,
  };
}

/** What does better, and what it gives up or asks for. */
function better({ tactics, best_without_reserve, best_with_hands, best_with_other_means }: Comparison): AnswerLine[] {
  const found = [
    ["Less stock", best_without_reserve],
    ["With hands", best_with_hands],
    ["Other means", best_with_other_means],
  ] as const;
  return found.flatMap(([what, id]) => {
    const one = tactics.find((tactic) => tactic.id === id);
    if (one === undefined) return [];
    const { ramp_up_loss: loss, to_95_min: at, items_handled: handled, reserve_kept: kept, asks_for: all } = one;
    const outcome = [
      ...(loss === null ? [] : [Math.round(loss) < 0 ? inItems(loss) : `${inItems(loss)} lost`]),
      ...(at === null ? [] : [`95\u00a0% ${fromTime(at)}`]),
      ...(handled === 0 ? [] : [`${items(handled)} handled`]),
    ];
    const price = [
      ...(what === "Less stock" && kept !== null ? [`it leaves ${percent(kept)} of the stock`] : []),
      ...(all.length === 0 ? [] : [`it asks for ${asksText(all)}`]),
    ];
    return [{ what, text: [`${oneLine(one.id)}: ${listed(outcome)}`, ...price].join("; "), isMore: true }];
  });
}

function notes(comparison: Comparison): AnswerLine[] {
  const all = notesOn(comparison.tactics).map(({ id, text }) =>
    id === BASELINE ? oneLine(text) : `${oneLine(id)}: ${oneLine(text)}`,
  );
  const still = stopsAsItIs(comparison).trim().replace(/\.$/, "");
  return [
    ...(still === "" ? [] : [{ what: "As it is", text: still.replace(/^Without a tactic /, "") }]),
    ...together(all).map((text) => ({ what: "Note", text, isMore: true })),
  ];
}
