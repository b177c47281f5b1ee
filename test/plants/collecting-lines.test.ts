/** What machines make in the long run is the same whatever the tick, or is not called exact. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { analyse } from "../../src/analysis/analyse.ts";
import type { Result } from "../../src/analysis/result.ts";
import { type Run, simulate } from "../../src/engine/simulate.ts";
import { prepare } from "../../src/network/prepare.ts";
import { exact, rational } from "../../src/quantity/rational.ts";
import { findings } from "../../src/report/run/findings.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { withFragileShares } from "../../src/study/further/fragile.ts";
import { cases } from "./cases.ts";
import { type CollectingLine, collectingLines, scenarioOf } from "./collecting-lines.ts";

function ran(scenario: Scenario): { readonly run: Run; readonly result: Result } {
  const ready = prepare(scenario);
  if (!ready.ok) throw new Error(JSON.stringify(ready.findings));
  const run = simulate(ready.program, { horizonTicks: ready.horizonTicks });
  return { run, result: analyse(run, scenario, { applies: false, reason: "not asked" }).result };
}

function told(line: CollectingLine) {
  const scenario = scenarioOf(line);
  const { run, result } = ran(scenario);
  return { tickS: run.program.tickS, result: withFragileShares(result, scenario, run) };
}

function ratesOf({ machines }: Result): (string | null)[] {
  return machines.map(({ settled_per_min: rate }) => rate);
}

const LINES = cases(12);

test("random collecting lines: machines' rates at half, a tenth of the tick and 5 ms are those told, or not called exact", () => {
  let fragile = 0;
  for (const line of fc.sample(collectingLines, { numRuns: LINES, seed: 7 })) {
    const { tickS, result } = told(line);
    for (const by of ["2", "10", null]) {
      const tick = by === null ? "5 ms" : `${exact(tickS.div(rational(by)))} s`;
      const rates = ratesOf(ran(scenarioOf(line, tick)).result);
      const exactly = ratesOf(result);
      expect({ line, rates: rates.filter((_, m) => exactly[m] !== null) }).toEqual({
        line,
        rates: exactly.filter((rate) => rate !== null),
      });
    }
    if (result.hangs_on_tick !== undefined) fragile++;
  }
  // 37 of the first 500.
  expect(fragile).toBeLessThanOrEqual(2 + LINES / 10);
}, 1_200_000);

/** Two of each at once come on belts of 160 and 150/min: at the tick of 0.1 s a1 goes alone, at 5 ms a3 has half of it. */
const TIED: CollectingLine = {
  merges: "belt-first",
  makers: [
    { cycleS: "1.5", outfeed: 3 },
    { cycleS: "3", outfeed: 11 },
    { cycleS: "2", outfeed: 10 },
  ],
  made: 2,
  takers: [{ cycleS: "2", takes: 2, spare: 3 }],
  collect: { lengthM: "1", speed: 15, pitchMm: 100 },
  belt: { lengthM: "0.5", speed: 16, pitchMm: 100 },
  branch: { lengthM: "3", speed: 24, pitchMm: 100 },
  dividers: "even",
};

test("rates that the tick decides are measured, and it is said how far they and the hold-up go", () => {
  const { result } = told(TIED);
  const [first] = result.fragile_shares ?? [];
  expect(first?.hangs_on).toBe("tick");
  const machine = result.machines.find(({ id }) => id === first?.machine);
  expect(machine).toMatchObject({ settled_per_min: null, measured_per_min: expect.any(Number) });
  expect(machine?.cycles.settled_per_min).toBeNull();
  // What is made in all hangs on nothing.
  expect(result.output.settled_per_min).toEqual(expect.any(String));
  const text = findings(result).find(({ code }) => code === "fragile")?.text;
  expect(text).toContain(`${first?.machine} `);
  expect(text).toContain("None of this is exact.");
});

test("where no machine waits nothing is looked at again", () => {
  const scenario = scenarioOf(TIED);
  const { run, result } = ran(scenario);
  const machines = result.machines.map((one) => ({ ...one, uptime: { ...one.uptime, settled: 1 } }));
  const busy = { ...result, machines };
  expect(withFragileShares(busy, scenario, run)).toBe(busy);
});
