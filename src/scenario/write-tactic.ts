/** A tactic as the body of its entry in a scenario file. */
import { formatDuration, formatPercentage, formatRate } from "../quantity/units.ts";
import type { Among, Amount, Hold, Prefill, Tactic } from "./tactic.ts";

export function tacticBody(tactic: Tactic) {
  const { prefill, hold, stagger, boost, lowLevel, metered, farEndFirst, secondFeed } = tactic;
  return {
    ...(prefill && prefillKeys(prefill)),
    ...(hold && { hold: holdBody(hold) }),
    ...(stagger && { stagger: { first: stagger.first, every: formatDuration(stagger.everyMin) } }),
    ...(boost && { boost: { to: formatPercentage(boost.factor), for: formatDuration(boost.forMin) } }),
    ...(lowLevel && {
      "low-level": {
        at: lowLevel.level,
        of: amongText(lowLevel.among),
        for: lowLevel.forMin === null ? "good" : formatDuration(lowLevel.forMin),
      },
    }),
    ...(metered && { metered: { at: formatPercentage(metered.factor) } }),
    ...(farEndFirst && { "far-end-first": { until: untilText(farEndFirst.until) } }),
    ...(secondFeed && {
      "second-feed": {
        share: formatPercentage(secondFeed.share),
        ...(secondFeed.at !== null && { at: secondFeed.at }),
        for: formatDuration(secondFeed.forMin),
      },
    }),
  };
}

function prefillKeys({ amounts, belts, byHandPerMin, while: during }: Prefill) {
  return {
    ...("among" in amounts
      ? { prefill: amountBody(amounts.amount), "prefill-of": amongText(amounts.among) }
      : { prefill: new Map(amounts.byMachine.map(({ machine, amount }) => [machine, amountBody(amount)])) }),
    "prefill-belts": belts ? "full" : "none",
    ...(byHandPerMin !== null && { "by-hand": formatRate(byHandPerMin) }),
    while: during,
  };
}

function holdBody({ until, release, everyMin }: Hold) {
  return {
    until: untilText(until),
    release,
    ...((release !== "together" || everyMin.n > 0n) && { every: formatDuration(everyMin) }),
  };
}

function amountBody(amount: Amount): number | "full" {
  return amount ?? "full";
}

function amongText(among: Among): string {
  return among.which === "all" ? among.which : `${among.which} ${among.count}`;
}

function untilText(until: string | { readonly afterMin: Hold["everyMin"] }): string {
  return typeof until === "string" ? until : formatDuration(until.afterMin);
}
