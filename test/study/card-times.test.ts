/** What the operator's card tells to do later is done then in the network: both of each part, by hand. */
import { expect, test } from "vitest";
import { expand } from "../../src/network/expand.ts";
import { applyTactic } from "../../src/network/tactics/apply.ts";
import { approximate } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { TacticPart } from "../../src/scenario/tactic.ts";
import { cardOf } from "../../src/study/best/card.ts";
import { NO_TACTIC } from "../../src/study/play.ts";

/** Of each part one that ends, and when something changes after the start, in minutes, or how long after one another. */
const ENDING: Readonly<Record<TacticPart, readonly [body: string, afterMin: readonly number[]]>> = {
  prefill: ["prefill: 7", []],
  hold: ["hold: { until: 45 s }", [0.75]],
  stagger: ["stagger: { first: tail, every: 15 s }", [0.25]],
  boost: ["boost: { to: 120 %, for: 2 min }", [2]],
  lowLevel: ["low-level: { at: 5, for: 3 min }", [3]],
  metered: ["metered: { at: 105 % }", []],
  farEndFirst: ["far-end-first: { until: 90 s }", [1.5]],
  secondFeed: ["second-feed: { share: 30 %, for: 4 min }", [4]],
};

test.each(Object.values(ENDING))("%s", (body, afterMin) => {
  const read = readScenario(`
feeds: { bin: { item: raw, rate: 60/min } }
machines: { m: { count: 2, cycle: 2 s, takes: { raw: 1 }, makes: { part: 1 }, infeed: 20 } }
lines: { main: { layout: chain, from: bin, to: m, belt: { rate: 180/min, capacity: 10 } } }
tactics: { one: { ${body} } }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const { scenario } = read;
  const [tactic = NO_TACTIC] = scenario.tactics;
  const { network, priming } = applyTactic(scenario, expand(scenario), tactic);
  const changes = [
    ...priming.interventions.map((one) => one.afterMin),
    ...network.feeds.flatMap(({ profile }) => profile.map(({ fromMin }) => fromMin)),
  ].map(approximate);
  expect([...new Set(changes)].filter((time) => time > 0)).toEqual(afterMin);
  const told = cardOf(scenario, tactic, []).flatMap(({ when, what }) => [
    ...(typeof when === "object" ? [when.afterMin] : []),
    ...("everyMin" in what ? [what.everyMin] : []),
  ]);
  expect(told.map(approximate)).toEqual(afterMin);
});
