/** What a study of a dip answers: what it costs, how low it goes, when the line is back, and who bears it best. */
import type { Dip, DipResult } from "../../study/shortage/shortage-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { brokenInBrief } from "../run/plant-findings.ts";
import { duration, fromTime, items, listedShort, longRun, number, rate } from "../text/figures.ts";
import { ALIKE, brokenBy, dipFindings, keepsLimits, standsBefore } from "./dip-findings.ts";
import { levelText, variantName } from "./shortage-figures.ts";

export function dipAnswer(dip: Dip): AnswerLine[] {
  const [written] = dip.results;
  const { level, from_min: from, for_min: minutes } = dip.dip;
  const bad = dipFindings(dip)
    .filter(({ code }) => ["stopped", "not-recovered", "early", "tree-needs", "products"].includes(code))
    .map(({ text }): AnswerLine => ({ what: "Mind", text: text.replace(/\.$/, ""), isBad: true }));
  const short = `the feed at ${levelText(level)} for ${duration(minutes)} ${fromTime(from)} on, ${items(dip.withheld)} short`;
  if (written === undefined || standsBefore(dip, written)) return [{ what: "Dip", text: short }, ...bad];
  return [
    { what: "Dip", text: short },
    limits(dip.results, written),
    { what: "Lost", text: `${items(written.lost)} not made up to the end, as written` },
    {
      what: "Lowest",
      text: `${rate(written.lowest_per_min)} of ${rate(longRun(written) ?? 0)}, at ${duration(written.lowest_at_min)}`,
    },
    { what: "Back", text: back(written) },
    ...stock(written),
    ...best(dip, written),
    ...bad,
  ];
}

function back({ recovery_min: full, within_tolerance_min: most, stops_at_min: stop }: DipResult): string {
  if (stop !== null) return `never: the line stops at ${duration(stop)}`;
  if (full === null) return "not by the end";
  return `95\u00a0% ${most === null ? "never" : `after ${duration(most)}`}, all of it after ${duration(full)}, from the feed's return on`;
}

function stock({ hold_up_before: before, hold_up_settled: after }: DipResult): AnswerLine[] {
  if (before === null) return [];
  return [
    { what: "On line", text: `${number(before)} items before, ${number(after)} once settled again`, isMore: true },
  ];
}

function limits(results: readonly DipResult[], written: DipResult): AnswerLine {
  const { limits_broken: broken } = written;
  if (broken === null) return { what: "Limits", text: "none stated", isMore: true };
  const keeping = results.filter(keepsLimits).map(({ id }) => variantName(id));
  const by = keeping.length === 0 ? "none keeps them" : `kept by ${listedShort(keeping, 3)}`;
  if (broken.length === 0) return { what: "Limits", text: by };
  const what = listedShort(broken.map(brokenInBrief), 2);
  return { what: "Limits", text: `broken as written: ${what}, ${brokenBy(written)}; ${by}`, isBad: true };
}

/** Of those that keep the limits, if any does. Runs end at different points of their cycles, as the findings have it. */
function best({ results }: Dip, written: DipResult): AnswerLine[] {
  if (results.length < 2) return [];
  const keeping = results.filter(keepsLimits);
  const those = keeping.length === 0 ? results : keeping;
  const least = Math.min(...those.map(({ lost }) => lost));
  const names = those.filter(({ lost }) => lost === least).map(({ id }) => variantName(id));
  const verb = names.length === 1 ? "loses" : "lose";
  const among = those.length < results.length ? " of those that keep the limits" : "";
  if (those.includes(written) && written.lost - least <= ALIKE * written.lost) {
    return [
      { what: "To do", text: `nothing: no other variant${among === "" ? "" : " that keeps the limits"} loses less` },
    ];
  }
  const instead = least === written.lost ? ", as written" : ` instead of ${number(written.lost)}`;
  return [{ what: "To do", text: `${listedShort(names)} ${verb} least${among}: ${items(least)}${instead}` }];
}
