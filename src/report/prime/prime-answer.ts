/** What a search for least doses answers: what is worth doing for the goal, and how far everything else comes. */

import type { DoseResult, GoalsTold, PrimeStudy } from "../../study/results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { leavesStock } from "../comparison/outcome-words.ts";
import { duration, fromTime, items, number, percent } from "../text/figures.ts";
import { goalsText } from "../text/goals-text.ts";
import { asksAnswer, asksText } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";
import { doseText } from "./dose-words.ts";

export function primeAnswer(study: PrimeStudy): AnswerLine[] {
  const { tactics, best: id, baseline_loss: loss, baseline_to_95_min: at } = study;
  const reached = tactics.filter(({ reaches }) => reaches);
  const best = reached.find((one) => one.id === id);
  const runs = tactics.reduce((total, tactic) => total + tactic.runs, 0);
  return [
    { what: "Goal", text: goalsText(study.goals) },
    { what: "Do", text: doing(study, reached, best), isBad: reached.length === 0 },
    ...(best === undefined ? [] : outcome(best, study)),
    ...(best !== undefined || study.baseline_stops_at_min !== null
      ? standing(study)
      : [{ what: "As it is", text: `95\u00a0% ${timeText(at)}, ${lostText(loss)}` }]),
    ...(study.by_means ? BY_MEANS : []),
    ...other("Less stock", study.best_without_reserve, tactics),
    ...other("With hands", study.best_with_hands, tactics),
    ...other("Other means", study.best_with_other_means, tactics),
    {
      what: "Tried",
      text: `${number(tactics.length)} tactics in ${number(runs)} runs; ${number(reached.length)} reach the goal`,
      isMore: true,
    },
  ];
}

const BY_MEANS: readonly AnswerLine[] = [
  { what: "Sure", text: "nothing yet: likely figures, of the line if nothing were left to chance" },
  { what: "To do", text: "state the dose as a tactic in the file, then compare with --replications 30" },
];

function doing({ best: id }: PrimeStudy, reached: readonly DoseResult[], best: DoseResult | undefined): string {
  if (reached.length === 0) return "none of what was tried reaches it";
  if (id === "none")
    return "nothing: the line reaches it as it is, and none of those tried that the floor grants is better";
  if (best === undefined) return "none that the floor grants reaches it and keeps output and stock";
  return `${oneLine(best.id)}${best.dose === null ? "" : `, ${doseText(best.dose, best.unit)}`}`;
}

/** @param missed a goal that the time must not seem to reach by rounding */
export function timeBeyond(minutes: number, missed: GoalsTold | undefined): string {
  const shown = duration(minutes);
  const within = missed?.within_min ?? null;
  if (within === null || shown !== duration(within)) return shown;
  return `${number(minutes, 4)}\u00a0min`;
}

function outcome(best: DoseResult, { baseline_to_95_min: at, baseline_loss: loss, goals }: PrimeStudy): AnswerLine[] {
  const less = best.one_less;
  const weaker =
    less === null
      ? []
      : [
          {
            what: "One less",
            text: `${doseText(less.dose, best.unit)}: 95\u00a0% ${less.to_95_min === null ? timeText(null) : `from ${timeBeyond(less.to_95_min, goals)}`}, ${lostText(less.ramp_up_loss)}`,
          },
        ];
  const before = at === null ? "" : ` instead of ${duration(at)}`;
  const other = loss === null || lostText(loss) === lostText(best.ramp_up_loss) ? "" : ` instead of ${bare(loss)}`;
  return [
    { what: "From", text: `95\u00a0% ${timeText(best.to_95_min)}${before}` },
    {
      what: "Lost",
      text: `${bare(best.ramp_up_loss)}${other}; ${best.items_handled === 0 ? "nothing" : items(best.items_handled)} handled`,
    },
    ...asksAnswer(best.asks_for),
    ...weaker,
  ];
}

function standing({ baseline_stops_at_min: stop, feed_ends: ends }: PrimeStudy): AnswerLine[] {
  if (stop === null) return [];
  const text = ends
    ? "no feed offers anything in the end, so the line stops whatever is done"
    : `the line makes nothing from ${duration(stop)} on: change the mix, the take-off or the dividers first`;
  return [{ what: "As it is", text, isBad: true }];
}

function other(what: string, id: string | null, tactics: readonly DoseResult[]): AnswerLine[] {
  const one = tactics.find((tactic) => tactic.id === id);
  if (one === undefined) return [];
  const dose = one.dose === null ? "" : `, ${doseText(one.dose, one.unit)}`;
  const handled = one.items_handled === 0 ? "" : `, ${items(one.items_handled)} handled`;
  const kept =
    one.reserve_kept === null || leavesStock(one) ? "" : `; it leaves ${percent(one.reserve_kept)} of the stock`;
  const asks = one.asks_for.length === 0 ? "" : `; it asks for ${asksText(one.asks_for)}`;
  const text = `${oneLine(one.id)}${dose}: 95\u00a0% ${timeText(one.to_95_min)}, ${lostText(one.ramp_up_loss)}${handled}${kept}${asks}`;
  return [{ what, text, isMore: true }];
}

function timeText(minutes: number | null): string {
  return minutes === null ? "never for good" : fromTime(minutes);
}

/** Where "lost" is said already. */
function bare(loss: number | null): string {
  return lostText(loss).replace(/ lost$/, "");
}

function lostText(loss: number | null): string {
  if (loss === null) return "loss not known";
  return Math.round(loss) < 0 ? `${items(-loss)} gained` : `${items(loss)} lost`;
}
