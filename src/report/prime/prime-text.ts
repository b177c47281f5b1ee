/** Least doses for the terminal: the goal, what reaches it and with how much, and the proof that a weaker dose does not. */

import type { DoseResult, GoalsTold, PrimeStudy } from "../../study/results.ts";
import { pageText, type Shown } from "../answer/printed.ts";
import { leavesStock, losesText, timeText } from "../comparison/outcome-words.ts";
import { duration, items, listed, percent } from "../text/figures.ts";
import { CHANGE_FIRST } from "../text/standstill.ts";
import { count, minutes, type StudyColumn, terminalTable, text } from "../text/study-table.ts";
import { asksText, askText, type Told } from "../text/tactic-words.ts";
import { bullet, COLUMNS, HANDS, handCautions, PLAIN_STYLE, type Style } from "../text/terminal-lines.ts";
import { oneLine, shorten, wrap } from "../text/text-width.ts";
import { doseText, unitText } from "./dose-words.ts";
import { primeAnswer, timeBeyond } from "./prime-answer.ts";

/** What `prime --json` prints. */
export interface PrimeTold extends Omit<PrimeStudy, "tactics"> {
  readonly tactics: readonly DoseTold[];
}

interface DoseTold extends Omit<Told<DoseResult>, "unit"> {
  readonly unit: string;
}

export function primeTold(study: PrimeStudy): PrimeTold {
  const { tactics } = study;
  return {
    ...study,
    tactics: tactics.map((one) => ({ ...one, unit: unitText(one.unit), asks_for: one.asks_for.map(askText) })),
  };
}

/** @returns lines with a line break at the end of each */
export function primeText(study: PrimeStudy, style: Style = PLAIN_STYLE, shown: Shown = {}): string {
  const inOrder = study.tactics.toSorted((a, b) => byRule(a, b, study.best));
  const reached = inOrder.filter(({ reaches }) => reaches);
  const missed = inOrder.filter(({ reaches }) => !reaches);
  const hands = study.tactics.filter(({ by_hand: byHand }) => byHand).map(({ id }) => oneLine(id));
  const page = {
    title: study.title,
    answer: primeAnswer(study),
    table: terminalTable(DOSES, [...reached, ...missed], style),
    details: [
      [
        ...standstill(study)
          .flatMap((text) => wrap(text, COLUMNS))
          .map(style.warning),
        ...[verdict(reached, study), ...beyondMeans(study)].flatMap((text) => wrap(text, COLUMNS)),
      ],
      told(
        "Weakest doses that reach it, the least loss first",
        reached,
        (tactic) => reaching(tactic, study.goals),
        style,
      ),
      told("Out of reach", missed, missing, style),
      handCautions(hands, style),
    ],
    caution: hands.length > 0 ? HANDS : null,
  };
  return pageText(page, style, shown);
}

function told(
  heading: string,
  tactics: readonly DoseResult[],
  text: (tactic: DoseResult) => string,
  style: Style,
): string[] {
  return tactics.length === 0 ? [] : [style.heading(heading), ...tactics.flatMap((tactic) => bullet(text(tactic)))];
}

const MOST_DOSE = 34;

/** Of those that do not reach the goal the dose that comes nearest. */
const DOSES: readonly StudyColumn<DoseResult>[] = [
  text(({ id }) => id, { terminal: ["  tactic", 99], mark: ({ reaches }) => (reaches ? "+" : " ") }),
  minutes(({ to_95_min: at }) => at, { terminal: ["95 %|from|min", 10] }),
  count(({ ramp_up_loss: loss }) => loss, { terminal: ["lost|items", 9] }),
  count(({ items_handled: handled }) => handled, { terminal: ["handled|items", 8] }),
  text(({ dose, unit }) => (dose === null ? "nothing to dose" : shorten(doseText(dose, unit), MOST_DOSE)), {
    terminal: ["+ reaches the goal with this dose,|the least; else the nearest", 7],
  }),
];

/** Where the line stops with nothing done. */
function standstill({ baseline_stops_at_min: stop, feed_ends: feedEnds, tactics }: PrimeStudy): string[] {
  if (stop === null) return [];
  if (feedEnds) return ["No feed offers anything in the end, so the line stops whatever is done."];
  const when = stop === 0 ? "it never makes anything" : `it makes nothing from ${duration(stop)} on`;
  const any = tactics.some(({ reaches }) => reaches);
  const first = `${any ? "" : "A standstill reaches no goal: "}${CHANGE_FIRST}`;
  return [`As it is, the line comes to a standstill: ${when}. ${first.charAt(0).toUpperCase()}${first.slice(1)}.`];
}

/** What is worth doing first; then loss, time and handling decide. */
function byRule(a: DoseResult, b: DoseResult, best: string | null): number {
  const key = (one: DoseResult): number[] => [
    one.id === best ? 0 : 1,
    one.ramp_up_loss ?? Infinity,
    one.to_95_min ?? Infinity,
    one.items_handled,
  ];
  const [own, its] = [key(a), key(b)];
  const first = own.findIndex((value, i) => value !== its[i]);
  return first < 0 ? 0 : (own[first] ?? 0) < (its[first] ?? 0) ? -1 : 1;
}

function verdict(reached: readonly DoseResult[], { tactics, best: id, ...study }: PrimeStudy): string {
  const all = tactics.length;
  if (reached.length === 0) {
    return all === 1 ? "The tactic does not reach it." : `None of the ${all} tactics reaches it.`;
  }
  const count = reached.length === all ? "All" : `${reached.length} of ${all}`;
  const head = all === 1 ? "It can be reached" : `${count} tactics ${reached.length === 1 ? "reaches" : "reach"} it`;
  const best = reached.find((one) => one.id === id);
  if (id === "none") return `${head}, and so does doing nothing: none that the floor grants is better.`;
  if (best === undefined) {
    return `${head}, but none that needs only what the floor grants, makes no less than doing nothing and leaves the stock in the buffers.`;
  }
  const { baseline_loss: loss, baseline_to_95_min: at } = study;
  const without = [
    ...(loss === null ? [] : [losesText(loss)]),
    ...(at === null ? ["never has 95\u00a0% for good"] : [timeText(at)]),
  ];
  return `${head}; ${oneLine(best.id)} is worth doing: ${costs(best)}. With nothing done the line ${listed(without)}.`;
}

/** What a dose costs: in products, in time, in handling. */
function costs(one: DoseResult): string {
  return listed([
    ...(one.ramp_up_loss === null ? [] : [`it ${losesText(one.ramp_up_loss)}`]),
    ...(one.to_95_min === null ? [] : [timeText(one.to_95_min)]),
    `has ${handled(one)}`,
  ]);
}

/** What would do better than what is granted. */
function beyondMeans(study: PrimeStudy): string[] {
  const told = (id: string | null, lead: string): string[] => {
    const one = study.tactics.find((tactic) => tactic.id === id);
    if (one === undefined) return [];
    const kept =
      one.reserve_kept === null || leavesStock(one)
        ? ""
        : `, and leaves ${percent(one.reserve_kept)} of the stock in the buffers`;
    return [`${lead} ${oneLine(one.id)}: ${costs(one)}${kept}. It asks for ${asksText(one.asks_for)}.`];
  };
  return [
    ...told(study.best_without_reserve, "With less reserve,"),
    ...told(study.best_with_hands, "With hands that the floor does not grant,"),
    ...told(study.best_with_other_means, "With means that the floor does not grant,"),
  ];
}

function reaching(tactic: DoseResult, goals: GoalsTold): string {
  const { dose, one_less: less } = tactic;
  const name = oneLine(tactic.id);
  const gives = `${outcome(tactic)}, ${handled(tactic)}`;
  if (dose === null) return `${name} reaches it, there being nothing to dose: ${gives}.`;
  const least = `${name}, ${doseText(dose, tactic.unit)}`;
  if (less === null) return `${least}, the weakest there is: ${gives}.`;
  return `${least}: ${gives}. ${weaker(dose, less.dose)}, ${doseText(less.dose, tactic.unit)}, gives: ${outcome(less, goals)}.`;
}

/** Doses may be steps apart, and of some things less is more: of room, of what a branch carries over the need. */
function weaker(dose: number, less: number): string {
  return dose - less === 1 ? "One less" : "One step weaker";
}

function missing(tactic: DoseResult): string {
  const name = oneLine(tactic.id);
  const gives = `${outcome(tactic)}, ${handled(tactic)}`;
  if (tactic.dose === null) return `${name} does not reach it: ${gives}.`;
  if (tactic.stops_at_min !== null) {
    return `${name}: no dose reaches it, of those looked at. With ${doseText(tactic.dose, tactic.unit)}: ${gives}.`;
  }
  return `${name}: no dose reaches it, of those looked at. The nearest is ${doseText(tactic.dose, tactic.unit)}: ${gives}.`;
}

type Outcome = Pick<DoseResult, "stops_at_min" | "to_95_min" | "ramp_up_loss">;

/** @param missed a goal that the figures must not seem to reach by rounding */
function outcome({ stops_at_min: stop, to_95_min: at, ramp_up_loss: loss }: Outcome, missed?: GoalsTold): string {
  if (stop !== null) return stop === 0 ? "never makes anything" : `stops for good at ${duration(stop)}`;
  const parts = [at === null ? "not settled yet" : `95\u00a0% from ${timeBeyond(at, missed)} on`];
  if (loss !== null) parts.push(loss < 0 ? `${items(-loss)} gained` : `${items(loss)} lost`);
  return parts.join(", ");
}

function handled({ items_handled: count }: DoseResult): string {
  return count === 0 ? "nothing handled" : `${items(count)} handled`;
}
