/** What a comparison of tactics says, the winner first, in a few plain sentences, each with a code. */
import type { Comparison } from "../../study/results.ts";
import { BASELINE, baselineOf, givenMin, makesNothing, nameOf } from "../text/baseline.ts";
import { duration, items, listed, listedShort, number, plain } from "../text/figures.ts";
import { notesOn } from "../text/tactic-words.ts";
import { oneLine } from "../text/text-width.ts";
import { luckWinnerSentence } from "./luck-comparison-findings.ts";
import { beside, equalOf, handledText } from "./outcome-words.ts";
import { recommendedFindings } from "./recommended-findings.ts";
import { standstillSentence, stopped } from "./stopped-findings.ts";

export type ComparisonFindingCode =
  | "winner"
  | "limits"
  | "without-reserve"
  | "with-hands"
  | "with-other-means"
  | "same"
  | "slower"
  | "while-stopped"
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
    ...recommendedFindings(comparison),
    ...whileStopped(comparison),
    ...choice(comparison),
    ...beaten(comparison),
    ...same(comparison),
    ...stopped(comparison),
    ...slower(comparison),
    ...unsettled(comparison),
    ...unproved(comparison),
    ...baseline(comparison),
    ...notesOn(comparison.tactics).map(
      ({ id, text }): ComparisonFinding => ({ code: "note", text: `Note on ${nameOf(id)}: ${oneLine(text)}` }),
    ),
  ];
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
  const parts = [...groups].map(([by, names]) => `${listedShort(names, 6)} by ${nameOf(by)}`);
  return [
    { code: "beaten", text: `Beaten, that is no better in ${WHAT_COUNTS} and worse in one: ${parts.join("; ")}.` },
  ];
}

/** Tactics without rows of their own. */
function same({ tactics }: Comparison): ComparisonFinding[] {
  const groups = tactics.filter(({ same_as: others }) => others.length > 0);
  if (groups.length === 0) return [];
  const parts = groups.map(
    ({ id, same_as: others }) =>
      `${listed(others.map(oneLine))} ${others.length === 1 ? "does" : "do"} the same as ${nameOf(id)}`,
  );
  return [{ code: "same", text: `Item for item, ${parts.join("; ")}.` }];
}

/** In the middle of the ramp-up: who makes most and least then, and the line as it is. */
function whileStopped(comparison: Comparison): ComparisonFinding[] {
  const { stops, tactics } = comparison;
  if (stops === null || tactics.length < 2) return [];
  const going = tactics.filter((one) => !makesNothing(one) && !one.slower_for_good);
  const known = going.flatMap(({ id, made_while_stopped: { feeds } }) => (feeds === null ? [] : [{ id, made: feeds }]));
  const [first] = known;
  if (first === undefined) return [];
  const [most, least] = [Math.max(...known.map(({ made }) => made)), Math.min(...known.map(({ made }) => made))];
  const span = `While the feed stops, from ${duration(stops.from_min)} to ${duration(stops.to_min)} after the start, the line makes`;
  const at = (made: number): string =>
    listedShort(
      known.filter((one) => one.made === made).map(({ id }) => nameOf(id)),
      4,
    );
  const told = [comparison.winner, comparison.best_without_reserve, BASELINE];
  const between = known
    .filter(({ id, made }) => told.includes(id) && made !== most && made !== least)
    .map(({ id, made }) => `${number(made)} with ${nameOf(id)}`);
  if (most === least) return [{ code: "while-stopped", text: `${span} ${items(most)} whatever is done.` }];
  const text = listed([
    `${items(most)} with ${at(most)}, the most`,
    ...between,
    `${number(least)} with ${at(least)}, the least`,
  ]);
  return [{ code: "while-stopped", text: `${span} ${text}.` }];
}

function slower({ tactics }: Comparison): ComparisonFinding[] {
  const names = tactics.filter((one) => one.slower_for_good && !makesNothing(one)).map(({ id }) => nameOf(id));
  return names.length === 0
    ? []
    : [{ code: "slower", text: `Slower for good, which no start makes up for: ${listed(names)}.` }];
}

function unsettled(comparison: Comparison): ComparisonFinding[] {
  const names = comparison.tactics
    .filter((tactic) => tactic.settling_min === null && !makesNothing(tactic))
    .map(({ id }) => nameOf(id));
  if (names.length === 0) return [];
  return [{ code: "unsettled", text: `Not settled yet within ${duration(givenMin(comparison))}: ${listed(names)}.` }];
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

/** For pictures: what is recommended, in a line. */
export function winnerInBrief(comparison: Comparison): string {
  const { tactics, winner: id, replications: luck } = comparison;
  if (luck !== undefined) return plain(luckWinnerSentence(comparison, luck));
  const won = tactics.find((tactic) => tactic.id === id);
  if (id === null || won === undefined) return standstillSentence(comparison);
  const what = beside(won, id === BASELINE ? undefined : baselineOf(comparison), equalOf(comparison));
  return plain(`${id === BASELINE ? "Doing nothing" : oneLine(id)} ${what}, with ${handledText(won.items_handled)}.`);
}
