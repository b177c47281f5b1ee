/** What a study of a dip of the feed says, in a few plain sentences, each with a code. */
import type { Dip, DipResult } from "../../study/shortage/shortage-results.ts";
import { brokenText } from "../comparison/outcome-words.ts";
import { duration, items, listed, listedShort, longRun, number, percent, rate } from "../text/figures.ts";
import { type PlantNoteCode, plantNotes } from "./plant-notes.ts";
import { extremes, levelText, variantName } from "./shortage-figures.ts";

export type DipFindingCode =
  | "lost"
  | "limits"
  | "stopped"
  | "lowest"
  | "recovery"
  | "tolerance"
  | "stock"
  | "early"
  | "not-recovered"
  | "unproved"
  | PlantNoteCode;

export interface DipFinding {
  readonly code: DipFindingCode;
  readonly text: string;
}

export function dipFindings(dip: Dip): DipFinding[] {
  // What stands still before the dip has nothing more to lose.
  const running = { ...dip, results: dip.results.filter((result) => !standsBefore(dip, result)) };
  const all = running.results.length === dip.results.length ? "every variant" : "every other variant";
  return [
    ...stopped(dip),
    ...limits(dip),
    lost(running, all),
    ...lowest(running, all),
    ...recovery(running, all),
    ...stock(running),
    ...early(running),
    ...unproved(running),
    ...plantNotes(dip),
  ];
}

export const ALIKE = 0.005;

export function keepsLimits({ limits_broken: broken }: DipResult): boolean {
  return (broken ?? []).length === 0;
}

/** How far and for how long, and whether that is the dip's doing; nothing where no limit is stated. */
function limits({ results }: Dip): DipFinding[] {
  const stated = results.filter(({ limits_broken: broken }) => broken !== null);
  if (stated.length === 0) return [];
  const kept = stated.filter(keepsLimits).map(({ id }) => variantName(id));
  const parts = [
    ...(kept.length > 0 ? [`all are kept by ${listedShort(kept)}`] : []),
    ...stated
      .filter((one) => !keepsLimits(one))
      .map((one) => `${variantName(one.id)}: ${brokenText(one.limits_broken ?? [])}, ${brokenBy(one)}`),
  ];
  return [{ code: "limits", text: `Limits with the dip: ${parts.join("; ")}.` }];
}

export function brokenBy({ limits_broken_without: before }: DipResult): string {
  return (before ?? []).length > 0 ? "some even without the dip" : "which only the dip brings about";
}

/** The same said of several variants once. */
function grouped(results: readonly DipResult[], all: string, textOf: (result: DipResult) => string): string {
  const groups = new Map<string, string[]>();
  for (const result of results) {
    const text = textOf(result);
    groups.set(text, [...(groups.get(text) ?? []), variantName(result.id)]);
  }
  const [only] = groups.keys();
  if (only !== undefined && groups.size === 1 && results.length > 1) return `${all} ${only}`;
  return [...groups].map(([text, names]) => `${listed(names)} ${text}`).join("; ");
}

function lost({ dip, withheld, results }: Dip, all: string): DipFinding {
  const given = `The feed at ${levelText(dip.level)} for ${duration(dip.for_min)} is ${items(withheld)} short`;
  if (results.length === 0) return { code: "lost", text: `${given}.` };
  const range = extremes(results.map((result) => result.lost));
  // Runs end with their cycles at different points, which comes to some products more or fewer.
  const alike = range !== null && results.length > 1 && range.high - range.low <= ALIKE * range.high;
  const text = alike
    ? `${given}. Products not made up to the horizon: about ${number((range.low + range.high) / 2)} in ${all}.`
    : `${given}. Products not made up to the horizon: ${grouped(results, all, (result) => number(result.lost))}.`;
  return { code: "lost", text };
}

/** It has nothing to lose. */
export function standsBefore({ dip }: Pick<Dip, "dip">, { stops_without_min: stop }: DipResult): boolean {
  return stop !== null && stop <= dip.from_min;
}

/** Whether that is the dip's doing. */
function stopped(dip: Dip): DipFinding[] {
  const found = (
    results: readonly DipResult[],
    what: string,
    of: (result: DipResult) => number | null,
  ): DipFinding[] =>
    results.length === 0 ? [] : [{ code: "stopped", text: `${what}: ${listed(results.map(named(of)))}.` }];
  const before = dip.results.filter((result) => standsBefore(dip, result));
  const others = dip.results.filter((result) => !standsBefore(dip, result));
  return [
    ...found(before, "Stands still before the dip", (result) => result.stops_without_min),
    ...found(
      others.filter((result) => result.stops_without_min !== null),
      "Comes to a standstill even without the dip",
      (result) => result.stops_without_min,
    ),
    ...found(
      others.filter((result) => result.stops_without_min === null && result.stops_at_min !== null),
      "The dip brings the plant to a standstill",
      (result) => result.stops_at_min,
    ),
  ];
}

/** "even dividers from 5.4 min on". */
function named(of: (result: DipResult) => number | null): (result: DipResult) => string {
  return (result) => `${variantName(result.id)} from ${duration(of(result) ?? 0)} on`;
}

function lowest({ results }: Dip, all: string): DipFinding[] {
  if (results.length === 0) return [];
  const text = grouped(results, all, (result) => `${rate(result.lowest_per_min)}${ofSettled(result)}`);
  return [
    {
      code: "lowest",
      text: `Lowest output from the dip on, averaged over about ten cycles of each machine: ${text}.`,
    },
  ];
}

function ofSettled(result: DipResult): string {
  const settled = longRun(result) ?? 0;
  return settled > 0 ? ` (${percent(result.lowest_per_min / settled)} of the settled output)` : "";
}

/** Never out of its pattern, and nothing missing. */
function notFelt({ recovery_min: recovery, lost: missing }: DipResult): boolean {
  return recovery === 0 && missing === 0;
}

function recovery({ results }: Dip, all: string): DipFinding[] {
  const unfelt = results.filter(notFelt);
  const back = results.filter((result) => !notFelt(result) && result.recovery_min !== null);
  const never = results.filter(({ recovery_min: after, stops_at_min: stop }) => after === null && stop === null);
  const found: DipFinding[] = [];
  if (unfelt.length > 0) {
    const names = listed(unfelt.map(({ id }) => variantName(id)));
    found.push({ code: "recovery", text: `The output does not feel the dip: ${names}.` });
  }
  if (back.length > 0) {
    const sooner = (of: (result: DipResult) => number | null): DipResult[] =>
      back.toSorted((a, b) => (of(a) ?? Infinity) - (of(b) ?? Infinity));
    const pattern = grouped(
      sooner(({ recovery_min: after }) => after),
      all,
      ({ recovery_min: after }) => duration(after ?? 0),
    );
    const near = grouped(
      sooner(({ within_tolerance_min: within }) => within),
      all,
      ({ within_tolerance_min: within }) => (within === null ? "never" : duration(within)),
    );
    const since = "for good, counted from the feed's return";
    found.push({ code: "recovery", text: `The output keeps up with all that it settles at ${since}: ${pattern}.` });
    found.push({
      code: "tolerance",
      text: `It keeps up with 95 % of it ${since}: ${near}.`,
    });
  }
  if (never.length > 0) {
    const names = listed(never.map(({ id }) => variantName(id)));
    found.push({ code: "not-recovered", text: `Not settled again within the horizon: ${names}.` });
  }
  return found;
}

/** From this difference on, as a share of what lay there before. */
const WORTH_SAYING = 0.01;

function stock({ results }: Dip): DipFinding[] {
  const parts = results.flatMap(({ id, hold_up_before: before, hold_up_settled: after, proved }) => {
    if (before === null || !proved || Math.abs(after - before) < Math.max(1, WORTH_SAYING * before)) return [];
    return [`${variantName(id)} from ${number(before)} to ${number(after)}`];
  });
  if (parts.length === 0) return [];
  const text = `The dip changes for good how many items lie on the line: ${parts.join(", ")}.`;
  return [{ code: "stock", text }];
}

function early({ dip, results }: Dip): DipFinding[] {
  const unsettled = results.filter(({ settled_before: before }) => before !== true);
  if (unsettled.length === 0) return [];
  const names = listed(unsettled.map(({ id }) => variantName(id)));
  const text = `Not settled, as far as is known, when the dip comes (${duration(dip.from_min)}): ${names}. What is said of the dip there is also the ramp-up's doing.`;
  return [{ code: "early", text }];
}

function unproved({ results }: Dip): DipFinding[] {
  const lacking = results.filter(({ proved, recovery_min: after }) => !proved && after !== null);
  if (lacking.length === 0) return [];
  const names = listedShort(lacking.map(({ id }) => variantName(id)));
  return [{ code: "unproved", text: `Read from the run and the flow solution, not proved by recurrence: ${names}.` }];
}
