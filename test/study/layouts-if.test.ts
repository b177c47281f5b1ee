/** What would make a layout possible: tried in the order of the change, told, and run with the figures that are shown. */
import { describe, expect, test } from "vitest";
import { asCustom } from "../../src/network/as-custom.ts";
import { approximate, rational } from "../../src/quantity/rational.ts";
import { isIf } from "../../src/report/layouts/layout-figures.ts";
import { assumingText } from "../../src/report/layouts/layout-words.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import { candidatesFor, givenFor } from "../../src/study/layouts/candidates.ts";
import { layOut } from "../../src/study/layouts/layout-runs.ts";
import { layoutStudy } from "../../src/study/layouts/layouts.ts";
import { lineToLayOut } from "../../src/study/layouts/line.ts";
import { ifPossible, withIfs } from "../../src/study/layouts/possible-if.ts";
import { NO_TACTIC, play } from "../../src/study/play.ts";
import { scenarioOf, worded } from "./layouts-plants.ts";

const plant = (count: number, rate: string) => `horizon: 2 h
feeds: { silo: { item: can, rate: ${15 * count}/min } }
machines: { m: { count: ${count}, cycle: 4 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 10 } }
lines: { main: { layout: chain, from: silo, to: m, belt: { rate: ${rate}, length: 2 m, speed: 30 m/min, pitch: 100 mm } } }`;

function assumed(count: number, rate: string, layout: string): string | null {
  const scenario = scenarioOf(plant(count, rate));
  const chosen = lineToLayOut(scenario);
  if (!chosen.ok) throw new Error(chosen.why);
  const given = givenFor(scenario, chosen.line, 3);
  const candidate = candidatesFor(given).find(({ id }) => id === layout);
  const assuming = (candidate && ifPossible(given, candidate)?.assuming) ?? null;
  return assuming && assumingText(assuming);
}

describe("the least change", () => {
  test.each([
    // 75/min to five, six parts of which one comes back: 75 · 6/5.
    [5, "80/min", "loop", "if a belt of 90/min in place of 80/min"],
    [5, "120/min", "tree", "if one machine more"],
    [13, "200/min", "tree", "if one machine fewer"],
    // Neither 13 nor 15 are products of 2 and 3; nor are 14 or 13 of the rest, but 12.
    [14, "220/min", "tree", "if 2 machines are cut off first, in a chain before a tree of 12"],
    [5, "70/min", "chain", "if a belt of 75/min in place of 70/min"],
    // Where nothing returns, there is nothing to make possible.
    [4, "120/min", "loop", null],
    [5, "120/min", "loop", null],
  ])("%i machines, belts of %s, %s: %s", (count, rate, layout, expected) => {
    expect(assumed(count, rate, layout)).toBe(expected);
  });
});

/** One of each change, by the row that it makes. */
test.each([
  [
    5,
    "70/min",
    {
      "chain-if": "if a belt of 75/min in place of 70/min",
      "tree-if": "if one machine fewer",
      "loop-if": "if a belt of 90/min",
    },
  ],
  [13, "200/min", { "tree-if": "if one machine fewer" }],
  [14, "220/min", { "tree-if": "if 2 machines are cut off first" }],
] as const)(
  "%i machines, belts of %s: each row, written out and run, gives the figures that it shows",
  (count, rate, rows) => {
    const scenario = scenarioOf(plant(count, rate));
    const chosen = lineToLayOut(scenario);
    if (!chosen.ok) throw new Error(chosen.why);
    const given = givenFor(scenario, chosen.line, 3);
    const possible = withIfs(given, candidatesFor(given)).filter(isIf);
    const told = new Map(possible.map(({ id, assuming }) => [id, assuming && assumingText(assuming)]));
    for (const [id, assuming] of Object.entries(rows)) expect(told.get(id)).toContain(assuming);
    for (const candidate of possible) {
      const { drawn } = candidate;
      if (drawn === null) throw new Error(`${candidate.id} is not drawn`);
      const row = layOut(candidate, "main", ["silo"], [], () => {}).result;
      expect(row.feasible, worded(row) ?? "").toBe(true);
      const written = writeScenario(asCustom(drawn.scenario, drawn.network));
      const { settling, output, hold_up: holdUp, machines } = play(scenarioOf(written), NO_TACTIC).result;
      expect({
        settled_per_min: output.settled_per_min && approximate(rational(output.settled_per_min)),
        settling_min: settling.time_min,
        to_95_min: settling.to_95_min,
        ramp_up_loss: output.ramp_up_loss,
        hold_up_settled: holdUp.settled,
        hold_up_peak: holdUp.peak,
      }).toEqual({
        settled_per_min: row.settled_per_min,
        settling_min: row.settling_min,
        to_95_min: row.to_95_min,
        ramp_up_loss: row.ramp_up_loss,
        hold_up_settled: row.hold_up_settled,
        hold_up_peak: row.hold_up_peak,
      });
      // One machine more or fewer is in the file, with the same feed.
      const what = candidate.assuming?.what;
      const more = what === "one-more" ? 1 : what === "one-fewer" ? -1 : 0;
      expect(machines).toHaveLength(count + more);
      expect(written).toContain(`${15 * count}/min`);
    }
  },
);

test("each row, written out and run, gives the figures that are shown, and is not weighed", () => {
  const study = layoutStudy(scenarioOf(plant(5, "80/min")), { priority: "fast" });
  if (!study.ok) throw new Error(study.why);
  const rows = study.study.layouts.filter(isIf);
  expect(rows.map(({ id }) => id)).toEqual(["tree-if", "loop-if"]);
  for (const row of rows) {
    expect(row).toMatchObject({ feasible: true, undominated: false, beaten_by: null, file: `${row.id}.yaml` });
    const written = study.scenarios.get(row.id);
    if (written === undefined) throw new Error(`${row.id} is not written out`);
    const { settling, output, hold_up: holdUp } = play(scenarioOf(writeScenario(written)), NO_TACTIC).result;
    expect([settling.time_min, output.ramp_up_loss, holdUp.peak]).toEqual([
      row.settling_min,
      row.ramp_up_loss,
      row.hold_up_peak,
    ]);
  }
  expect(rows.map(({ id }) => id)).not.toContain(study.study.recommended);
});

test("lengths as stated are all as stated, and the study says so; from the grid, the line as it stands keeps its own", () => {
  const belts = (lengths: "from-grid" | "as-stated") => {
    const done = layoutStudy(scenarioOf(plant(4, "120/min")), { priority: "fast", lengths });
    if (!done.ok) throw new Error(done.why);
    expect(done.study.lengths).toBe(lengths);
    return done.study.layouts
      .filter(({ feasible }) => feasible)
      .map(({ id, belt_m: metres, to_scale: toScale }) => `${id} ${metres} ${toScale}`);
  };
  expect(belts("as-stated").slice(0, 2)).toEqual(["chain 14 false", "tree 14 false"]);
  // A chain's last stretch: 0.8 + 3 m. The tree's second and fourth branches and its way down are longer than 2 m, as in belt-ways.test.ts.
  expect(belts("from-grid").slice(0, 2)).toEqual(["chain 15.8 true", "tree 23 true"]);
});
