/**
 * Speed of the engine, as ratios within one run: stepping the whole horizon, stepping until the recurrence, and, as the
 * measure of the machine, a bare sweep over typed arrays that moves nothing.
 */
import { readFileSync } from "node:fs";
import { bench, describe } from "vitest";
import { prepare, readScenario, simulate } from "../../src/index.ts";

const scenario = readScenario(readFileSync("scenarios/long-chain.yaml", "utf8"));
if (!scenario.ok) throw new Error("scenarios/long-chain.yaml has errors");
const prepared = prepare(scenario.scenario, scenario.locate);
if (!prepared.ok) throw new Error("scenarios/long-chain.yaml cannot be run");
const { program, horizonTicks } = prepared;
const options = { time: 0, iterations: 5, warmupTime: 0, warmupIterations: 1 };

describe(`24 machines, ${horizonTicks} ticks`, () => {
  bench("bare sweep", () => void bareSweep(program.sweepKind.length, horizonTicks), options);
  bench("with recurrence", () => void simulate(program, { horizonTicks }), options);
  bench("stepping the whole horizon", () => void simulate(program, { horizonTicks, stepAll: true }), options);
});

function bareSweep(elements: number, ticks: number): number {
  const due = new Int32Array(elements);
  let acted = 0;
  for (let tick = 1; tick <= ticks; tick++) {
    for (let i = 0; i < elements; i++) {
      if ((due[i] ?? 0) > tick) continue;
      due[i] = tick + 3 + (i & 7);
      acted++;
    }
  }
  return acted;
}
