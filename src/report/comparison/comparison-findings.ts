/** What a comparison of tactics says, the winner first, in a few plain sentences, each with a code. */
import type { Comparison, TacticResult } from "../../study/results.ts";
import { duration, items, listed, listedShort, number, plain } from "../figures.ts";
import { luckWinnerSentence } from "../luck/luck-comparison-findings.ts";
import { oneLine } from "../text-width.ts";
import { BASELINE, baselineOf, makesNothing, nameOf } from "./baseline.ts";
import { standstillSentence, stopped, stopsAsItIs } from "./stopped-findings.ts";

export type ComparisonFindingCode =
  | "winner"
  | "least-loss"
  | "without-hands"
  | "choice"
  | "beaten"
  | "stopped"
  | "unsettled"
  | "unproved"
  | "baseline"
  | "note";

export interface ComparisonFinding {
  readonly code: ComparisonFindingCode;
  readonly text: string;
}

export const WHAT_COUNTS = "settling time, ramp-up loss, items handled and peak hold-up";

export function comparisonFindings(comparison: Comparison): ComparisonFinding[] {
  return [
    ...winner(comparison),
    ...leastLoss(comparison),
    ...withoutHands(comparison),
    ...choice(comparison),
    ...beaten(comparison),
    ...stopped(comparison),
    ...unsettled(comparison),
    ...unproved(comparison),
    ...baseline(comparison),
    ...comparison.tactics.flatMap(({ id, notes }) =>
      notes.map((note): ComparisonFinding => ({ code: "note", text: `Note on ${nameOf(id)}: ${oneLine(note)}` })),
    ),
  ];
}

/** One sentence: who comes first and why. */
export function winnerSentence(comparison: Comparison): string {
  const { tactics, winner: id, horizon_min: horizon } = comparison;
  if (id === null) return standstillSentence(comparison);
  const won = tactics.find((tactic) => tactic.id === id);
  if (won === undefined) return "No tactic was compared.";
  const stops = stopsAsItIs(comparison);
  const base = baselineOf(comparison);
  if (id === BASELINE) {
    return `No tactic is better than none: as it is, the line ${outcome(won, horizon)}.`;
  }
  const name = oneLine(id);
  if (won.settling_min === null) {
    const more = won.made_more.min_60 ?? won.made_more.min_30 ?? won.made_more.min_10;
    const made = more === null || more <= 0 ? "" : `; it makes ${items(more)} more than without a tactic at first`;
    return `${name} comes first, though it does not settle within ${duration(horizon)}${made}.${stops}`;
  }
  const others = tactics.filter((tactic) => tactic !== won);
  const quickest = others.filter(isSettled).reduce((least, tactic) => Math.min(least, tactic.settling_min), Infinity);
  const at = `${won.settling_min < quickest ? "soonest, " : ""}at ${duration(won.settling_min)}`;
  const instead = base === undefined || base.settling_min === null ? "" : ` instead of ${duration(base.settling_min)}`;
  return `${name} comes first: it settles ${at}${instead}${lossAgainst(won, base)}, ${handling(won)}.${stops}${sooner(won, others)}`;
}

function winner(comparison: Comparison): ComparisonFinding[] {
  return comparison.tactics.length === 0 ? [] : [{ code: "winner", text: winnerSentence(comparison) }];
}

function outcome({ settling_min: at, ramp_up_loss: loss }: TacticResult, horizon: number): string {
  if (at === null) return `does not settle within ${duration(horizon)}`;
  return `settles at ${duration(at)}${loss === null ? "" : ` and ${loses(loss)}`}`;
}

function loses(loss: number): string {
  return loss < 0 ? `makes ${items(-loss)} more than at its settled output from the start` : `loses ${items(loss)}`;
}

function lossAgainst({ ramp_up_loss: loss }: TacticResult, base: TacticResult | undefined): string {
  if (loss === null) return "";
  const lost = base?.ramp_up_loss ?? null;
  const instead = lost === null || loss < 0 ? "" : ` instead of ${number(lost)}`;
  return `, ${lost !== null && loss > lost ? "but" : "and"} ${loses(loss)}${instead}`;
}

function handling({ items_handled: handled }: TacticResult): string {
  return handled === 0 ? "with nothing handled" : `for ${items(handled)} handled`;
}

/** Where another settles sooner, what speaks against it. */
function sooner(won: TacticResult, others: readonly TacticResult[]): string {
  const wonAt = won.settling_min ?? Infinity;
  const [other] = others
    .filter(isSettled)
    .filter(({ settling_min: at }) => at < wonAt)
    .toSorted((a, b) => a.settling_min - b.settling_min);
  if (other === undefined) return "";
  const worse: string[] = [];
  const lost = other.ramp_up_loss;
  if (lost !== null && lost > (won.ramp_up_loss ?? Infinity)) worse.push(`loses ${items(lost)}`);
  if (other.items_handled > won.items_handled) worse.push(`has ${items(other.items_handled)} handled`);
  if (other.hold_up_peak > won.hold_up_peak) worse.push(`holds up to ${items(other.hold_up_peak)} on the line`);
  const but = worse.length === 0 ? "" : `, but ${listed(worse)}`;
  return ` ${nameOf(other.id)} settles sooner, at ${duration(other.settling_min)}${but}.`;
}

type Settled = TacticResult & { readonly settling_min: number };

/** At the full output: what makes the line slower for good is no choice. */
function isSettled(tactic: TacticResult): tactic is Settled {
  return tactic.settling_min !== null && !tactic.slower_for_good;
}

function settledOf({ tactics }: Comparison): Settled[] {
  return tactics.filter(isSettled);
}

/** The first of them with the least. */
function least<T>(those: readonly T[], of: (one: T) => number): T | undefined {
  return those.reduce<T | undefined>((best, one) => (best === undefined || of(one) < of(best) ? one : best), undefined);
}

/** Where that is not the winner; and without hands, where it needs them. */
function leastLoss(comparison: Comparison): ComparisonFinding[] {
  const loss = ({ ramp_up_loss: lost }: Settled): number => lost ?? Infinity;
  const all = settledOf(comparison);
  const best = least(all, loss);
  const won = all.find(({ id }) => id === comparison.winner);
  if (best === undefined || won === undefined || loss(best) >= loss(won)) return [];
  const other = best.by_hand
    ? least(
        all.filter(({ by_hand: byHand }) => !byHand),
        loss,
      )
    : undefined;
  const text = `Of all, ${nameOf(best.id)} ${lossAndTime(best)}, ${handling(best)}`;
  const without =
    other === undefined ? "" : `; of those without hands in the line ${nameOf(other.id)} ${lossAndTime(other)}`;
  return [{ code: "least-loss", text: `${text}${without}.` }];
}

function lossAndTime({ ramp_up_loss: loss, settling_min: at }: Settled): string {
  const what = loss === null || loss < 0 ? "loses nothing" : `loses least, ${items(loss)}`;
  return `${what}, and settles at ${duration(at)}`;
}

/** Where the winner needs hands: the soonest of the others. */
function withoutHands(comparison: Comparison): ComparisonFinding[] {
  if (comparison.tactics.find(({ id }) => id === comparison.winner)?.by_hand !== true) return [];
  const best = least(
    settledOf(comparison).filter(({ by_hand: byHand }) => !byHand),
    ({ settling_min: at }) => at,
  );
  if (best === undefined)
    return [{ code: "without-hands", text: "None settles at the full output without hands in the line." }];
  const lost = best.ramp_up_loss === null ? "" : ` and ${loses(best.ramp_up_loss)}`;
  const text = `Without hands in the line ${nameOf(best.id)} settles soonest, at ${duration(best.settling_min)},${lost}.`;
  return [{ code: "without-hands", text }];
}

function choice({ tactics }: Comparison): ComparisonFinding[] {
  const names = tactics.filter(({ undominated }) => undominated).map(({ id }) => nameOf(id));
  if (names.length === 0) return [];
  const which = tactics.some(makesNothing) ? "of those with which the line goes on none" : "none";
  const text =
    names.length === 1
      ? `There is nothing to weigh: ${which} is better than ${names[0]} in any of ${WHAT_COUNTS}.`
      : `The choice is between ${listed(names)}: none of these is beaten.`;
  return [{ code: "choice", text }];
}

/** Gathered by who beats them. */
function beaten({ tactics }: Comparison): ComparisonFinding[] {
  const groups = new Map<string, string[]>();
  for (const { id, beaten_by: by } of tactics.filter((tactic) => !makesNothing(tactic))) {
    if (by === null) continue;
    groups.set(by, [...(groups.get(by) ?? []), nameOf(id)]);
  }
  if (groups.size === 0) return [];
  const parts = [...groups].map(([by, names]) => `${listed(names)} by ${nameOf(by)}`);
  return [
    { code: "beaten", text: `Beaten, that is no better in ${WHAT_COUNTS} and worse in one: ${parts.join("; ")}.` },
  ];
}

function unsettled({ tactics, horizon_min: horizon }: Comparison): ComparisonFinding[] {
  const names = tactics
    .filter((tactic) => tactic.settling_min === null && !makesNothing(tactic))
    .map(({ id }) => nameOf(id));
  if (names.length === 0) return [];
  return [{ code: "unsettled", text: `Not settled within ${duration(horizon)}: ${listed(names)}.` }];
}

function unproved({ tactics }: Comparison): ComparisonFinding[] {
  const names = tactics.filter(({ settling_min: at, proved }) => at !== null && !proved).map(({ id }) => nameOf(id));
  if (names.length === 0) return [];
  const all = names.length === tactics.length;
  const whose = all
    ? "All settling times"
    : `The settling ${names.length === 1 ? "time" : "times"} of ${listedShort(names)}`;
  const verb = names.length === 1 && !all ? "is" : "are";
  return [{ code: "unproved", text: `${whose} ${verb} read from the run, not proved.` }];
}

/** What the line makes at first without a tactic, to which the tables' differences belong. */
function baseline(comparison: Comparison): ComparisonFinding[] {
  const base = baselineOf(comparison);
  if (base === undefined) return [];
  const { min_10: ten, min_30: thirty, min_60: sixty } = base.made;
  const parts = [
    { made: ten, min: 10 },
    { made: thirty, min: 30 },
    { made: sixty, min: 60 },
  ].flatMap(({ made, min }) => (made === null ? [] : [`${items(made)} in the first ${min}\u00a0min`]));
  if (parts.length === 0) return [];
  return [{ code: "baseline", text: `Without a tactic the line makes ${listed(parts)}.` }];
}

/** For pictures: the winner in a line. */
export function winnerInBrief(comparison: Comparison): string {
  const { tactics, winner: id, horizon_min: horizon, replications: luck } = comparison;
  if (luck !== undefined) return plain(luckWinnerSentence(comparison, luck));
  if (id === null) return standstillSentence(comparison);
  const won = tactics.find((tactic) => tactic.id === id);
  if (won === undefined) return "No tactic was compared.";
  const what = outcome(won, horizon);
  return plain(`${id === BASELINE ? "Doing nothing" : oneLine(id)} ${what}, ${handling(won)}.`);
}
