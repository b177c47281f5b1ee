/** What a study of a dip answers: what it costs, how low it goes, when the line is back, and who bears it best. */
import type { Dip, DipResult } from "../../study/shortage-results.ts";
import type { AnswerLine } from "../answer/answer.ts";
import { duration, fromTime, items, listedShort, longRun, number, rate } from "../figures.ts";
import { ALIKE, dipFindings, standsBefore } from "./dip-findings.ts";
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

/** As the findings have it: runs end at different points of their cycles. */
function best({ results }: Dip, written: DipResult): AnswerLine[] {
  const least = Math.min(...results.map(({ lost }) => lost));
  const names = results.filter(({ lost }) => lost === least).map(({ id }) => variantName(id));
  const verb = names.length === 1 ? "loses" : "lose";
  if (results.length < 2) return [];
  return [
    written.lost - least <= ALIKE * written.lost
      ? { what: "To do", text: "nothing: no other variant loses less" }
      : {
          what: "To do",
          text: `${listedShort(names)} ${verb} least: ${items(least)} instead of ${number(written.lost)}`,
        },
  ];
}
