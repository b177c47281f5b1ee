/** Counts that are nearly right, a slip or two in them: what is fitted to them is still a plant that runs, item for item. */
import { expect, test } from "vitest";
import { simulate } from "../../../src/engine/simulate.ts";
import { prepare } from "../../../src/network/prepare.ts";
import { readScenario } from "../../../src/scenario/read.ts";
import { countsOf, fitted, LINE, oddTimes, unknowns } from "./lines.ts";

const SET = unknowns("feeds.blender.rate=80/min..130/min", "machines.cartoner.infeed=10..60");
const SEEN = ["cartoner-1.made", "cartoner-2.infeed", "cartoner-3.made"];
const RIGHT = countsOf(LINE, SET, [113, 23], SEEN, oddTimes(10, 0.6));

/** @param change of a cell, given its number */
function withCells(change: (cell: string, at: number) => string): string {
  const [head = "", ...rows] = RIGHT.trimEnd().split("\n");
  let at = 0;
  const changed = rows.map((row) => {
    const [time = "", ...cells] = row.split(",");
    return [time, ...cells.map((cell) => change(cell, at++))].join(",");
  });
  return [head, ...changed, ""].join("\n");
}

const SLIPS: readonly [string, string][] = [
  [
    "one too many or too few here and there",
    withCells((cell, at) => String(Math.max(0, Number(cell) + ((at * 7) % 3) - 1))),
  ],
  ["every third cell empty", withCells((cell, at) => (at % 4 === 1 ? "" : cell))],
  ["one machine stuck at nothing", withCells((cell, at) => (at % 3 === 0 ? "0" : cell))],
];

test.each(SLIPS)("%s", async (_, counts) => {
  expect(counts).not.toBe(RIGHT);
  const { fit, scenario } = await fitted(LINE, SET, counts);
  for (const one of fit.unknowns) {
    const [low, high] = one.range_95;
    expect(Number.isFinite(one.value)).toBe(true);
    // An end that the counts don't tell is none.
    expect(low ?? one.value).toBeLessThanOrEqual(one.value);
    expect(high ?? one.value).toBeGreaterThanOrEqual(one.value);
  }
  for (const { fitted: own } of fit.series)
    expect(own.every((count) => Number.isFinite(count) && count >= 0)).toBe(true);
  const outcome = readScenario(scenario);
  if (!outcome.ok) throw new Error(JSON.stringify(outcome.findings));
  const ready = prepare(outcome.scenario);
  if (!ready.ok) throw new Error(JSON.stringify(ready.findings));
  // Every item is recounted after every tick.
  simulate(ready.program, { horizonTicks: Math.min(ready.horizonTicks, 5000), check: true });
});
