/** Counts that are nearly right, a slip or two in them: what is fitted to them is still a plant that runs, item for item. */
import fc from "fast-check";
import { expect, test } from "vitest";
import { simulate } from "../../../src/engine/simulate.ts";
import { prepare } from "../../../src/network/prepare.ts";
import { readScenario } from "../../../src/scenario/read.ts";
import { fitScenario } from "../../../src/study/fit/fit.ts";
import { planFit } from "../../../src/study/fit/fit-given.ts";
import type { FitDone } from "../../../src/study/fit/fit-results.ts";
import { cases } from "../../plants/cases.ts";
import { countsOf, LINE, oddTimes, unknowns } from "./lines.ts";

const SET = unknowns("feeds.blender.rate=80/min..130/min", "machines.cartoner.infeed=10..60");
const SEEN = ["cartoner-1.made", "cartoner-2.infeed", "cartoner-3.made"];
const RIGHT = countsOf(LINE, SET, [113, 23], SEEN, oddTimes(10, 0.6));

const [HEAD = "", ...ROWS] = RIGHT.trimEnd().split("\n");

/** What becomes of a count when it is read off or written down wrongly, as people do. */
const SLIPS: Readonly<Record<string, (count: string) => string>> = {
  "one too many": (count) => String(Number(count) + 1),
  "two too few": (count) => String(Math.max(0, Number(count) - 2)),
  "left out": () => "",
  "a machine that seemed to stand": () => "0",
  "two figures the wrong way round": (count) => count.replace(/^(\d)(\d)/, "$2$1"),
  "a figure twice": (count) => count.replace(/^(\d)/, "$1$1"),
  rounded: (count) => String(Math.round(Number(count))),
};

const nearlyRight = fc
  .uniqueArray(fc.nat(ROWS.length * SEEN.length - 1), { minLength: 1, maxLength: 6 })
  .chain((cells) =>
    fc.tuple(fc.constant(cells), fc.array(fc.constantFrom(...Object.keys(SLIPS)), { minLength: 6, maxLength: 6 })),
  )
  .map(([cells, slips]) => {
    const rows = ROWS.map((row) => row.split(","));
    for (const [i, cell] of cells.entries()) {
      const row = rows[Math.floor(cell / SEEN.length)] ?? [];
      const column = 1 + (cell % SEEN.length);
      row[column] = SLIPS[slips[i] ?? ""]?.(row[column] ?? "") ?? "";
    }
    return [HEAD, ...rows.map((row) => row.join(",")), ""].join("\n");
  });

test("each is fitted, by a plant that runs, or refused for what has become fewer", async () => {
  let fits = 0;
  const count = cases(8);
  for (const observed of fc.sample(nearlyRight, { numRuns: count, seed: 9 })) {
    const plan = planFit({
      text: LINE,
      name: "line",
      change: (same) => same,
      unknowns: SET,
      observed,
      errors: new Map(),
    });
    if (plan.ok) {
      fits++;
      expectSound(await fitScenario(plan));
    } else {
      const why = plan.wrong === "observed" ? plan.findings.map(({ code }) => code) : [plan.wrong];
      expect(new Set(why)).toEqual(new Set(["observed-falls"]));
    }
  }
  // 90 of 300.
  expect(fits).toBeGreaterThan(count / 8);
}, 1_200_000);

function expectSound({ fit, scenario }: FitDone): void {
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
}
