/** A tactic as the body of its entry in a scenario file. */
import { formatDuration, formatPercentage, formatRate } from "../quantity/units.ts";
import { type Among, type Amount, type Hold, type OfEachPart, ofParts, type Prefill, type Tactic } from "./tactic.ts";

export function tacticBody(tactic: Tactic): Readonly<Record<string, unknown>> {
  return Object.assign({}, ...ofParts(tactic, KEYS));
}

const KEYS: OfEachPart<[], Readonly<Record<string, unknown>>> = {
  prefill: prefillKeys,
  hold: (hold) => ({ hold: holdBody(hold) }),
  stagger: ({ first, everyMin }) => ({ stagger: { first, every: formatDuration(everyMin) } }),
  boost: ({ factor, forMin }) => ({ boost: { to: formatPercentage(factor), for: formatDuration(forMin) } }),
  lowLevel: ({ level, among, forMin }) => ({
    "low-level": { at: level, of: amongText(among), for: forMin === null ? "good" : formatDuration(forMin) },
  }),
  metered: ({ factor }) => ({ metered: { at: formatPercentage(factor) } }),
  farEndFirst: ({ until }) => ({ "far-end-first": { until: untilText(until) } }),
  secondFeed: ({ share, at, forMin }) => ({
    "second-feed": { share: formatPercentage(share), ...(at !== null && { at }), for: formatDuration(forMin) },
  }),
};

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
