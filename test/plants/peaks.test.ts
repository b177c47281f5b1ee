/** Peaks by place are those of every tick: on the belts of a line, and in all buffers of a machine group together. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { observe } from "../../src/engine/observe.ts";
import { simulate } from "../../src/engine/simulate.ts";
import { compile } from "../../src/network/compile.ts";
import type { Network } from "../../src/network/network.ts";
import type { Program } from "../../src/network/program.ts";
import { autoTickS } from "../../src/network/tick.ts";
import { cases } from "./cases.ts";
import { amongOthers } from "./collecting-lines.ts";
import { networkOf, randomPlants } from "./random-plants.ts";
import { randomTimings, timed } from "./random-tactics.ts";

const TICKS = 1200;

/** Every machine `m1.2` belongs to the group `m1`. */
function grouped(network: Network): Network {
  return { ...network, machines: network.machines.map((one) => ({ ...one, group: one.id.split(".")[0] ?? one.id })) };
}

function mostSeen(program: Program): number[] {
  const { places, itemCount, buffer } = program;
  const onBelts = places.length * itemCount;
  const seen = observe(
    program,
    Array.from({ length: TICKS }, (_, i) => i + 1),
  );
  const most = new Array<number>(onBelts + buffer.groups.length).fill(0);
  for (let tick = 0; tick < TICKS; tick++) {
    const now = new Array<number>(most.length).fill(0);
    for (let at = 0; at < onBelts; at++) now[at] = seen.onPlaces[tick * onBelts + at] ?? 0;
    for (const [b, group] of buffer.group.entries()) {
      now[onBelts + group] = (now[onBelts + group] ?? 0) + (seen.levels[tick * buffer.count + b] ?? 0);
    }
    for (const [at, count] of now.entries()) most[at] = Math.max(most[at] ?? 0, count);
  }
  return most;
}

const networks = amongOthers(randomPlants({ shared: true, mixed: true, mostGroups: 3 }).map(networkOf));

test("no peak falls between samples", () => {
  fc.assert(
    fc.property(networks, randomTimings, (plain, timings) => {
      const network = grouped(timed(plain, timings));
      const program = compile(network, autoTickS(network));
      const run = simulate(program, { horizonTicks: TICKS, stepAll: true });
      expect([...run.noted.placePeak]).toEqual(mostSeen(program));
      expect([...simulate(program, { horizonTicks: TICKS }).noted.placePeak]).toEqual([...run.noted.placePeak]);
    }),
    { numRuns: cases(20) },
  );
});
