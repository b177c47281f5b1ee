/** Flows round a return loop: the same whatever the tick, or said not to be exact. */
import { describe, expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Result } from "../../src/analysis/result.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { readScenario } from "../../src/scenario/read.ts";

const TICKS = ["auto", "100 ms", "50 ms", "20 ms"];
const BELT = "{ length: 3 m, speed: 24 m/min, pitch: 200 mm }";

/** Five machines of 15/min, the first at a quarter of its speed: they take 63.75/min. */
function looped(feed: string, tick: string): Result {
  const read = readScenario(`
tick: ${tick}
horizon: 4 h
feeds: { silo: { item: pouch, rate: ${feed} } }
machines:
  packer: { count: 5, cycle: 4 s, takes: { pouch: 1 }, makes: { carton: 1 }, infeed: 20, speed: [25 %, 100 %, 100 %, 100 %, 100 %] }
lines:
  main: { layout: loop, from: silo, to: packer, belt: ${BELT}, branch: ${BELT}, return: ${BELT} }
`);
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const prepared = prepare(read.scenario);
  if (!prepared.ok) throw new Error(JSON.stringify(prepared.findings));
  const { program, horizonTicks, network } = prepared;
  return analyse(simulate(program, { horizonTicks }), read.scenario, solveFlow(network)).result;
}

describe.each(["60/min", "63.75/min", "70/min", "75/min", "90/min"])("fed %s", (feed) => {
  const runs = TICKS.map((tick) => looped(feed, tick));

  test("machines and what is exact of the belts are the same at every tick", () => {
    const [first, ...others] = runs.map(({ machines, belts }) => ({
      machines: machines.map(({ settled_per_min: settled }) => settled),
      belts: belts.map(({ settled_per_min: settled }) => settled),
    }));
    for (const other of others) expect(other).toEqual(first);
    expect(first?.machines).not.toContain(null);
  });

  test("where more comes than is taken, the belts that circle are only measured, and branches are exact", () => {
    const isOverfed = Number.parseFloat(feed) > 63.75;
    for (const { belts } of runs) {
      const loop = belts.filter(({ id }) => id === "main.return" || id === "main.through-1");
      expect(loop.map(({ settled_per_min: settled }) => settled !== null)).toEqual([!isOverfed, !isOverfed]);
      expect(belts.filter(({ id, settled_per_min: s }) => id.includes("branch") && s === null)).toEqual([]);
    }
  });
});
