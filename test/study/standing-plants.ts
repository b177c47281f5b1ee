/** Plants (invented) that come to a standstill by their mix, with nothing done or with some of the tactics. */
import { readScenario } from "../../src/scenario/read.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";

/** Three cups to two lids, and kits of one each: cups fill the belt up, so that no lid comes any more. */
export const KITS = `
title: Kit packers (invented)
horizon: 4 h
feeds:
  mix: { items: { cup: 3, lid: 2 }, rate: 100/min }
machines:
  kitter: { count: 4, cycle: 3 s, takes: { cup: 1, lid: 1 }, makes: { kit: 1 }, infeed: { cup: 20, lid: 20 } }
lines:
  main:
    layout: chain
    from: mix
    to: kitter
    belt: { rate: 150/min, length: 2 m, speed: 30 m/min, pitch: 150 mm }
`;

/** Grey and navy past the folders of both: whether one kind shuts the other out depends on the dividers and the start. */
export function socks(dividers: "even" | "branch-first" | "through-first"): string {
  return `
title: Sock sorters (invented)
horizon: 4 h
feeds:
  knit: { items: { grey: 3, navy: 2 }, rate: 100/min }
machines:
  folder-g: { count: 2, cycle: 2 s, takes: { grey: 1 }, makes: { pair: 1 }, infeed: 20 }
  folder-n: { count: 2, cycle: 2 s, takes: { navy: 1 }, makes: { pair: 1 }, infeed: 20 }
lines:
  main:
    layout: chain
    from: knit
    to: [folder-g, folder-n]
    belt: { rate: 150/min, length: 2 m, speed: 30 m/min, pitch: 150 mm }
    dividers: ${dividers}
outlets:
  out: { item: pair }
`;
}

/** The feed stops after half an hour: no jam, but nothing to do any more either. */
export const ENDING = `
title: Jars (invented)
horizon: 2 h
feeds:
  filler: { item: jar, profile: [{ from: 0 min, rate: 60/min }, { from: 30 min, rate: 0/min }] }
machines:
  labeller: { count: 2, cycle: 2 s, takes: { jar: 1 }, makes: { labelled: 1 }, infeed: 20 }
lines:
  main: { layout: chain, from: filler, to: labeller, belt: none }
`;

export function scenarioIn(text: string): Scenario {
  const read = readScenario(text);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return read.scenario;
}
