/** Lines of every layout, to count floors and changes by; plants are invented. */
import fc from "fast-check";
import { expand } from "../../src/network/expand.ts";
import { whole } from "../../src/quantity/rational.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { scenarioOf, sharedPlant } from "../layouts/shared-lines.ts";

/** @param more further keys of the line, after a comma */
export function chainOf(machines: number, more = "", from = "silo"): Scenario {
  return scenarioOf(`
feeds: { silo: { item: can, rate: 60/min }, yard: { item: blank, rate: 60/min } }
machines:
  press: { count: 3, cycle: 1 s, takes: { blank: 1 }, makes: { can: 1 }, infeed: 20 }
  m: { count: ${machines + 1}, cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 }
lines:
  blanks: { layout: chain, from: yard, to: press, belt: none }
  main:
    layout: chain
    from: ${from}
    to: [${Array.from({ length: machines }, (_, i) => `m-${i + 1}`).join(", ")}]
    belt: { rate: 60/min, capacity: 20 }${more.replace(/^(?=.)/, "\n    ")}
`);
}

export function sharedOf(layout: "tree" | "loop", needs: readonly number[], ways: 2 | 3 = 3): Scenario {
  return sharedPlant({ layout, ways, needs: needs.map((need) => whole(need)), feedPerMin: whole(10) });
}

export function equal(layout: "tree" | "loop", machines: number, ways: 2 | 3 = 3): Scenario {
  return sharedOf(
    layout,
    Array.from({ length: machines }, () => 1),
    ways,
  );
}

/** Each of some lanes parted over all machines, whose shares join before them. */
export function everyToEvery(lanes: number, machines: number): Scenario {
  const numbers = (count: number) => Array.from({ length: count }, (_, i) => i + 1);
  const belts = [
    ...numbers(lanes).map((i) => `in-${i}: { from: f${i}, to: d${i}, belt: none }`),
    ...numbers(lanes).flatMap((i) =>
      numbers(machines).map((k) => `b-${i}-${k}: { from: d${i}, to: g${k}, rate: 60/min, capacity: 9 }`),
    ),
    ...numbers(machines).map((k) => `out-${k}: { from: g${k}, to: m-${k}, belt: none }`),
  ];
  return scenarioOf(`
feeds: { ${numbers(lanes)
    .map((i) => `f${i}: { item: can, rate: 9/min }`)
    .join(", ")} }
machines: { m: { count: ${machines}, cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 } }
lines:
  main:
    layout: custom
    dividers: { ${numbers(lanes)
      .map((i) => `d${i}: even`)
      .join(", ")} }
    merges: { ${numbers(machines)
      .map((k) => `g${k}: even`)
      .join(", ")} }
    belts:
      ${belts.join("\n      ")}
`);
}

const CHAIN_KEYS = ["", "end: return", "dividers: through-first", "dividers: branch-first"];

const chains = fc
  .tuple(
    fc.integer({ min: 1, max: 12 }),
    fc.constantFrom(...CHAIN_KEYS),
    fc.constantFrom("silo", "press", "[press-2, silo]"),
  )
  .map(([machines, more, from]) => chainOf(machines, more, from));

const shared = fc
  .tuple(
    fc.constantFrom("tree", "loop"),
    fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1, maxLength: 7 }),
    fc.constantFrom(2, 3),
  )
  .map(([layout, needs, ways]) => sharedOf(layout, needs, ways))
  // A tree whose total has other factors has no elements.
  .filter((scenario) => expand(scenario).connections.length > 0);

const lanes = fc
  .tuple(fc.integer({ min: 2, max: 5 }), fc.integer({ min: 2, max: 5 }))
  .map(([many, machines]) => everyToEvery(many, machines));

/** With a line called main. */
export const anyLine: fc.Arbitrary<Scenario> = fc.oneof(chains, shared, lanes);
