/** Plants as drawings: made from a text, an example's file, or a layout of so many machines. */
import { analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import { type PlantDrawing, plantDrawing } from "../../src/analysis/plant-drawing.ts";
import type { Result } from "../../src/analysis/result.ts";
import { simulate } from "../../src/engine/simulate.ts";
import type { Network } from "../../src/network/network.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";

export interface Drawn {
  readonly network: Network;
  readonly result: Result;
  readonly drawing: PlantDrawing;
}

export function drawn(text: string): Drawn {
  const outcome = readScenario(text);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const prepared = prepare(outcome.scenario, outcome.locate);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, horizonTicks, network } = prepared;
  const { result } = analyse(simulate(program, { horizonTicks }), outcome.scenario, solveFlow(network), []);
  return { network, result, drawing: plantDrawing(network, result) };
}

/** Equal machines on belts of one rate. */
export function layoutOf(
  layout: "chain" | "tree" | "loop",
  machines: number,
  title = `${layout} of ${machines}`,
): string {
  return `
title: ${JSON.stringify(title)}
horizon: 40 min
feeds: { silo: { item: can, rate: ${machines * 12}/min } }
machines: { filler: { count: ${machines}, cycle: 5 s, takes: { can: 1 }, makes: { tin: 1 }, infeed: 6 } }
lines:
  main:
    layout: ${layout}
    from: silo
    to: filler
    belt: { rate: ${machines * 18}/min, capacity: ${machines + 10}, transit: 2 s }
`;
}

/** Red finds no room at the chain's end. */
export const JAMMING = `
horizon: 2 h
feeds: { mix: { items: { red: 3, blue: 2 }, rate: 50/min } }
machines:
  redder: { cycle: 2 s, takes: { red: 1 }, makes: { r: 1 }, infeed: 10 }
  bluer: { count: 2, cycle: 8 s, takes: { blue: 1 }, makes: { b: 1 }, infeed: 10 }
lines: { main: { layout: chain, from: mix, to: [redder, bluer], belt: { rate: 120/min, capacity: 10 } } }
`;
