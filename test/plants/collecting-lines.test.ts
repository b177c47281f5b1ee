/** What machines make in the long run is the same whatever the tick, or is said to hang on it. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import { solveFlow } from "../../src/analysis/flow/flow.ts";
import type { Result } from "../../src/analysis/result.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { exact, type Rational, rational, whole } from "../../src/quantity/rational.ts";
import { readScenario } from "../../src/scenario/read.ts";
import { withFragileShares } from "../../src/study/fragile.ts";
import { cases } from "./cases.ts";
import { type CollectingLine, collectingLines, fileOf } from "./collecting-lines.ts";

function prepared(line: CollectingLine, tick: string) {
  const read = readScenario(fileOf(line, tick));
  if (!read.ok) throw new Error(JSON.stringify(read.findings));
  const ready = prepare(read.scenario);
  if (!ready.ok) throw new Error(JSON.stringify(ready.findings));
  const run = simulate(ready.program, { horizonTicks: ready.horizonTicks });
  return { scenario: read.scenario, network: ready.network, run };
}

/** Cycles per minute, machine by machine. */
function cyclesOf({ recurrence, program }: Run): string[] {
  if (recurrence === null) throw new Error("does not recur");
  const perMin = whole(60).div(program.tickS.mul(whole(recurrence.periodTicks)));
  return Array.from(recurrence.period.cycles, (count) => exact(perMin.mul(whole(count))));
}

function told(line: CollectingLine): Result {
  const { scenario, network, run } = prepared(line, "auto");
  return withFragileShares(analyse(run, scenario, solveFlow(network)).result, scenario, run);
}

const STEEL = { lengthM: "2", speed: 24, pitchMm: 100 };

test("a joining belt has its turn between two items of a belt that is hardly slower", () => {
  const line: CollectingLine = {
    merges: "belt-first",
    makers: [
      { cycleS: "1", outfeed: 4 },
      { cycleS: "1", outfeed: 4 },
    ],
    made: 1,
    takers: [{ cycleS: "6", takes: 4, spare: 8 }],
    // Items come 4/15 s apart, and may go on every 1/4 s: where four are taken at once, each belt sends two.
    collect: { ...STEEL, speed: 45, pitchMm: 200 },
    belt: STEEL,
    branch: STEEL,
    dividers: "even",
  };
  for (const tick of ["auto", "20 ms", "5 ms"]) expect(cyclesOf(prepared(line, tick).run)).toEqual(["20", "20", "10"]);
});

const LINES = cases(15);

test("random collecting lines make the same at any tick, or say that it hangs on it", () => {
  const lines = fc.sample(collectingLines, { numRuns: LINES, seed: 7 });
  let fragile = 0;
  for (const line of lines) {
    const { run } = prepared(line, "auto");
    const shorter = (by: number): string => `${exact(over(run.program.tickS, by))} s`;
    const found = [shorter(2), shorter(10), "5 ms"].map((tick) => cyclesOf(prepared(line, tick).run));
    if (found.every((one) => one.join() === cyclesOf(run).join())) continue;
    fragile += 1;
    expect({ line, told: told(line).fragile_shares }).toMatchObject({ told: expect.anything() });
  }
  // 7 of the first 500.
  expect(fragile).toBeLessThanOrEqual(1 + LINES / 50);
}, 600_000);

function over(tickS: Rational, by: number): Rational {
  return tickS.div(rational(String(by)));
}
