/**
 * Random collecting lines, as files: makers of different speeds put what they make on one belt that passes them, by merges of
 * each rule, to one or two takers or to an outlet, mostly too slow for all that comes. Belts have awkward speeds and pitches.
 */
import fc from "fast-check";
import { expand } from "../../src/network/expand.ts";
import type { Network } from "../../src/network/network.ts";
import { readScenario } from "../../src/scenario/read.ts";
import type { ItemCount, Scenario } from "../../src/scenario/scenario.ts";

export interface CollectingLine {
  readonly merges: "even" | "belt-first" | "joining-first";
  readonly makers: readonly { readonly cycleS: string; readonly outfeed: number }[];
  readonly made: number;
  readonly takers: readonly { readonly cycleS: string; readonly takes: number; readonly spare: number }[];
  readonly collect: BeltDraw;
  readonly belt: BeltDraw;
  readonly branch: BeltDraw;
  readonly dividers: "even" | "through-first" | "branch-first";
}

interface BeltDraw {
  readonly lengthM: string;
  readonly speed: number;
  readonly pitchMm: number;
}

const belt: fc.Arbitrary<BeltDraw> = fc.record({
  lengthM: fc.constantFrom("0.5", "1", "1.5", "2", "3"),
  speed: fc.integer({ min: 12, max: 30 }),
  pitchMm: fc.constantFrom(80, 100, 120, 150, 160),
});

export const collectingLines: fc.Arbitrary<CollectingLine> = fc.record({
  merges: fc.constantFrom("belt-first", "joining-first", "even"),
  makers: fc.array(
    fc.record({ cycleS: fc.constantFrom("1", "1.5", "2", "2.5", "3", "4"), outfeed: fc.integer({ min: 2, max: 12 }) }),
    { minLength: 2, maxLength: 4 },
  ),
  made: fc.constantFrom(1, 1, 2),
  takers: fc.array(
    fc.record({
      cycleS: fc.constantFrom("1.5", "2", "2.4", "3", "4", "6"),
      takes: fc.integer({ min: 1, max: 4 }),
      spare: fc.integer({ min: 0, max: 12 }),
    }),
    { minLength: 1, maxLength: 2 },
  ),
  collect: belt,
  belt,
  branch: belt,
  dividers: fc.constantFrom("even", "through-first", "branch-first"),
});

/** @param tick such as "auto" or "5 ms" */
export function fileOf(line: CollectingLine, tick: string, horizon = "2 h"): string {
  const { makers, made, takers, merges, dividers } = line;
  const written = ({ lengthM, speed, pitchMm }: BeltDraw): string =>
    `{ length: ${lengthM} m, speed: ${speed} m/min, pitch: ${pitchMm} mm }`;
  const numbered = (name: string, list: readonly unknown[]): string =>
    list.map((_, index) => `${name}${index + 1}`).join(", ");
  return `
horizon: ${horizon}
tick: ${tick}
feeds: { ${makers.map((_, i) => `f${i + 1}: { item: raw, rate: 90/min }`).join(", ")} }
machines:
${makers
  .map(
    ({ cycleS, outfeed }, i) =>
      `  a${i + 1}: { cycle: ${cycleS} s, takes: { raw: 1 }, makes: { part: ${made} }, infeed: 4, outfeed: ${Math.max(outfeed, made)} }`,
  )
  .join("\n")}
${takers
  .map(
    ({ cycleS, takes, spare }, i) =>
      `  b${i + 1}: { cycle: ${cycleS} s, takes: { part: ${takes} }, makes: { box: 1 }, infeed: ${takes + spare} }`,
  )
  .join("\n")}
lines:
${makers.map((_, i) => `  raw${i + 1}: { layout: chain, from: f${i + 1}, to: a${i + 1}, belt: none }`).join("\n")}
  collecting:
    layout: chain
    from: [${numbered("a", makers)}]
    to: [${numbered("b", takers)}]
    merges: ${merges}
    dividers: ${dividers}
    collect: ${written(line.collect)}
    belt: ${written(line.belt)}
    branch: ${written(line.branch)}
`;
}

export function scenarioOf(line: CollectingLine, tick = "auto"): Scenario {
  const read = readScenario(fileOf(line, tick));
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  return read.scenario;
}

/** Each connection says which kind it carries, and what takers of different counts make is told apart. */
const collectingNetworks: fc.Arbitrary<Network> = collectingLines.map((line) => {
  const network = expand(scenarioOf(line));
  const only = (id: string) => [id.startsWith("collecting.") ? "part" : "raw"];
  const own = (counts: readonly ItemCount[]) => counts.map(({ count }) => ({ item: "second-box", count }));
  const machines = network.machines.map((one) =>
    one.id === "b2" ? { ...one, makes: own(one.makes), outfeed: own(one.outfeed) } : one,
  );
  const connections = network.connections.map((one) => ({ ...one, only: only(one.id) }));
  return { ...network, items: [...network.items, "second-box"], machines, connections };
});

/** One in four is a collecting line. */
export function amongOthers(plants: fc.Arbitrary<Network>): fc.Arbitrary<Network> {
  return fc.oneof({ arbitrary: plants, weight: 3 }, collectingNetworks);
}
