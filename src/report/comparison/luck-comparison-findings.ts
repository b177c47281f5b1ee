/** What tactics compared on the same luck say, the winner first, if there is one. */

import type { SameLuck } from "../../study/luck-results.ts";
import type { Comparison } from "../../study/results.ts";
import { FIGURES, figureOf, halfWidth, others } from "../luck/luck-figures.ts";
import {
  aboutSo,
  figureFindings,
  type LuckFinding,
  luckFindings,
  moreOf,
  notToldApart,
  sureOf,
} from "../luck/luck-findings.ts";
import { BASELINE, makesNothing, nameOf } from "../text/baseline.ts";
import { duration, items, listed, listedShort, number, rate } from "../text/figures.ts";
import { asksText, notesOn } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";
import { standstillSentence } from "./stopped-findings.ts";

export interface LuckComparisonFinding {
  readonly code:
    | LuckFinding["code"]
    | "winner"
    | "sure"
    | "more"
    | "without-reserve"
    | "beyond-means"
    | "against-none"
    | "choice"
    | "beaten"
    | "stopped"
    | "note";
  readonly text: string;
}

export const WHAT_COUNTS_ON_LUCK = "ramp-up loss and items handled";

export function luckComparisonFindings(comparison: Comparison, luck: SameLuck): LuckComparisonFinding[] {
  return [
    { code: "winner", text: luckWinnerSentence(comparison, luck) },
    ...sureAndMore(comparison, luck),
    ...withoutReserve(comparison, luck),
    ...beyondMeans(comparison),
    ...againstNone(luck),
    ...figureFindings(luck, ["ramp_up_loss"]),
    ...choice(comparison),
    ...beaten(comparison),
    ...stopped(comparison),
    ...luckFindings(luck, "tactic"),
    ...notesOn(comparison.tactics).map(({ id, text }) => {
      return { code: "note", text: `Note on ${nameOf(id)}: ${oneLine(text)}` } as const;
    }),
  ];
}

/** Only the interval makes one a winner. */
export function luckWinnerSentence(comparison: Comparison, luck: SameLuck): string {
  const figure = luck.deciding ?? figureOf(luck, "ramp_up_loss");
  const leader = figure?.leader ?? null;
  const value = figure?.variants.find(({ id }) => id === leader)?.value ?? null;
  if (comparison.tactics.every(makesNothing)) return standstillSentence(comparison);
  if (comparison.winner === BASELINE && comparison.nothing_qualifies && comparison.tactics.length > 1) {
    return "Doing nothing is what is left: no tactic here needs only what the floor grants and keeps up what the line makes.";
  }
  if (figure === undefined || leader === null || value === null) {
    const { winner } = comparison;
    // Of one alone there are no differences.
    if (winner !== null) {
      return `There is no choice but ${nameOf(winner)}: nothing else that the floor grants keeps the limits and what the line makes.`;
    }
    return "There is no winner: fewer than two of them keep up what the line makes.";
  }
  const upTo = `up to ${duration(luck.counted_from_min)}`;
  const lost = value.mean < 0 ? `a gain of ${items(-value.mean)}` : items(value.mean);
  const open = notToldApart(luck, figure);
  // Where nothing is told apart, what is best without chance may stay.
  const who = comparison.winner === null ? "No winner" : `${nameOf(comparison.winner)} stays recommended`;
  if (open !== null) return `${who}: ${nameOf(leader)} likely loses least ${upTo}, ${lost}, but is ${open}.`;
  if (leader === BASELINE) {
    return `No tactic that the floor grants is better than none: as it is, the line likely loses least ${upTo}, ${lost}.`;
  }
  const base = figure.variants.find(({ id }) => id === BASELINE)?.value ?? null;
  const instead = base === null ? "" : ` instead of ${number(base.mean)} with nothing done`;
  return `${oneLine(leader)} wins: it likely loses least ${upTo}, ${lost}${instead}.`;
}

/** Not where there are not two that could win. */
export function hasLead({ tactics }: Comparison, luck: SameLuck): boolean {
  const figure = luck.deciding ?? figureOf(luck, "ramp_up_loss");
  return figure !== undefined && figure.leader !== null && !tactics.every(makesNothing);
}

function sureAndMore(comparison: Comparison, luck: SameLuck): LuckComparisonFinding[] {
  const figure = luck.deciding ?? figureOf(luck, "ramp_up_loss");
  if (figure === undefined || !hasLead(comparison, luck)) return [];
  return [
    { code: "sure", text: `Sure, but for one study in twenty: ${sureOf(luck, figure)}.` },
    { code: "more", text: `For more: ${moreOf(luck, figure)}.` },
  ];
}

/** What is told to lose less on the way and seems to make less for good, since its buffers bridge less; by the figure that says so. */
function withoutReserve(
  { tactics, winner, best_without_reserve: id }: Comparison,
  { times, against_per_min: against }: SameLuck,
): LuckComparisonFinding[] {
  const [one, won] = [id, winner].map((wanted) => tactics.find((tactic) => tactic.id === wanted));
  const later = times.find((time) => time.id === id)?.later_less_per_min;
  if (one === undefined || won === undefined || one.ramp_up_loss === null || later === undefined) return [];
  const than = against > 0 ? nameOf(BASELINE) : "the one that makes most";
  const lost = FIGURES.ramp_up_loss.said(one.ramp_up_loss);
  const text = `With less reserve, ${oneLine(one.id)} is told to lose less than ${nameOf(won.id)} on the way, ${lost}, but makes ${rate(later)} less than ${than} in the later half of the counted time, on the same luck.`;
  return [{ code: "without-reserve", text }];
}

/** What the floor does not grant, and is told to lose less than what it does. */
function beyondMeans({ tactics, winner, best_with_hands, best_with_other_means }: Comparison): LuckComparisonFinding[] {
  return [best_with_hands, best_with_other_means].flatMap((id) => {
    const one = tactics.find((tactic) => tactic.id === id);
    if (one === undefined || one.ramp_up_loss === null || winner === null) return [];
    const lost = FIGURES.ramp_up_loss.said(one.ramp_up_loss);
    const text = `Beyond what the floor grants, ${oneLine(one.id)} is told to lose less than ${nameOf(winner)}, ${lost}. It asks for ${asksText(one.asks_for)}.`;
    return [{ code: "beyond-means" as const, text }];
  });
}

/** Who loses less than the line as it is, who more, and of whom that is not known. */
function againstNone(luck: SameLuck): LuckComparisonFinding[] {
  const figure = figureOf(luck, "ramp_up_loss");
  const all = (figure?.variants ?? []).flatMap(({ id, from_baseline: paired }) =>
    paired === null ? [] : [{ id, paired }],
  );
  if (all.length === 0) return [];
  const named = (told: "less" | "more"): string[] =>
    all
      .filter(({ paired }) => paired.told === told)
      .toSorted((a, b) => a.paired.mean - b.paired.mean)
      .map(({ id, paired }) => `${oneLine(id)} (${items(Math.abs(paired.mean))})`);
  const open = all
    .filter(({ paired }) => paired.told === null)
    .map(({ id, paired }) => {
      if (paired.mean === 0 && halfWidth(paired) === 0) return `${oneLine(id)} (no difference in any replication)`;
      return paired.about === null
        ? oneLine(id)
        : `${oneLine(id)} (about ${aboutSo(paired.about)} replications tell a lead like this 9 times in 10)`;
    });
  const [less, more] = [named("less"), named("more")];
  const parts = [
    ...(less.length > 0 ? [`fewer are lost with ${listed(less)}`] : []),
    ...(more.length > 0 ? [`more with ${listed(more)}`] : []),
    ...(open.length > 0 ? [`not told apart ${open.length === 1 ? "is" : "are"} ${listed(open)}`] : []),
  ];
  return [{ code: "against-none", text: `Against doing nothing, ${parts.join("; ")}.` }];
}

function choice({ tactics }: Comparison): LuckComparisonFinding[] {
  const names = others(tactics.filter(({ undominated }) => undominated).map(({ id }) => id));
  if (names.length === 0) return [];
  const text =
    names.length === 1
      ? `There is nothing to weigh: ${names[0]} is the only one that is not beaten.`
      : `The choice is between ${listed(names)}: none of these is beaten.`;
  return [{ code: "choice", text }];
}

function beaten({ tactics }: Comparison): LuckComparisonFinding[] {
  const names = tactics.filter((tactic) => tactic.beaten_by !== null && !makesNothing(tactic)).map(({ id }) => id);
  if (names.length === 0) return [];
  const text = `Beaten, that is told worse in one of ${WHAT_COUNTS_ON_LUCK}, and better in none: ${listedShort(others(names), 8)}.`;
  return [{ code: "beaten", text }];
}

function stopped({ tactics }: Comparison): LuckComparisonFinding[] {
  const names = tactics.filter(makesNothing).map(({ id }) => id);
  return names.length === 0 || names.length === tactics.length
    ? []
    : [{ code: "stopped", text: `The line comes to a standstill with ${listed(others(names))}.` }];
}
