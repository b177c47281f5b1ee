/**
 * Little's law (J. D. C. Little, Operations Research 9, 1961), exactly: over a run from empty to empty, the number held summed over
 * time is the sum of the times for which each was held, whatever chance does.
 */
import { describe, expect, test } from "vitest";
import { itemOf, plantOf, runOf } from "./plant.ts";

const FED_UNTIL = "profile: [{ from: 0 min, rate: 40/min }, { from: 60 min, rate: 0/min }]";
const RANDOM = `
random:
  feeds: { source: { interval: { exponential: 100 % }, outages: { between: { exponential: 10 min }, lasting: { triangular: [10 s, 30 s, 90 s] } } } }
  machines:
    press:
      breakdowns: { between: { exponential: 8 min }, repair: { lognormal: 1 min, spread: 40 s } }
      micro-stops: { chance: 3 %, lasting: { erlang: 8 s, stages: 2 } }
      cycle: { lognormal: 100 %, spread: 25 % }
`;

const PLANTS = {
  queue: `
title: One machine behind a queue (invented)
horizon: 4 h
feeds: { source: { item: blank, ${FED_UNTIL.replaceAll("40/min", "25/min")} } }
machines: { press: { cycle: 2 s, takes: { blank: 1 }, makes: { cap: 1 }, infeed: 5000, outfeed: 2 } }
lines: { main: { layout: custom, belts: { in: { from: source, to: press, belt: none } } } }
${RANDOM}`,
  chain: `
title: Three machines on a chain (invented)
horizon: 4 h
feeds: { source: { item: blank, ${FED_UNTIL} } }
machines: { press: { count: 3, cycle: 4 s, takes: { blank: 1 }, makes: { cap: 1 }, infeed: 12, outfeed: 2 } }
lines:
  main:
    layout: chain
    from: source
    to: press
    belt: { rate: 60/min, length: 4 m, speed: 12 m/min, pitch: 200 mm }
    branch: { rate: 30/min, length: 1 m, speed: 6 m/min, pitch: 200 mm }
${RANDOM}`,
  row: `
title: Two machines in a row (invented)
horizon: 4 h
feeds: { source: { item: blank, ${FED_UNTIL.replaceAll("40/min", "20/min")} } }
machines:
  press: { cycle: 2 s, takes: { blank: 1 }, makes: { cap: 1 }, infeed: 6, outfeed: 2 }
  packer: { cycle: 8 s, takes: { cap: 4 }, makes: { box: 1 }, infeed: 12, outfeed: 2 }
lines:
  main: { layout: chain, from: source, to: press, belt: { rate: 60/min, length: 3 m, speed: 12 m/min, pitch: 200 mm } }
  then: { layout: chain, from: press, to: packer, belt: none }
${RANDOM}`,
};

describe.each(Object.entries(PLANTS))("%s", (name, file) => {
  const plant = plantOf(file);
  // Of the caps, up to three of four remain; blanks all go.
  const kind = itemOf(plant, "blank");

  test.each(["a", "b", "c", "d", "e", "f", "g", "h"])(
    "seed %s: the number held, summed, is the sum of times",
    (seed) => {
      const { totals, noted } = runOf(plant, seed);
      expect(noted.holdUp[kind]).toBe(0);
      expect(totals.taken[kind]).toBe(totals.fedItems[kind]);
      expect(totals.taken[kind]).toBeGreaterThan(name === "row" ? 800 : 1000);
      expect(totals.holdUpTicks[kind]).toBe(totals.dwellTicks[kind]);
      expect(totals.dwellTicks[kind]).toBeGreaterThan(0);
    },
  );
});
