/** A horizon that is left open, and which row is today's line. */
import { readFileSync } from "node:fs";
import { expect, test } from "vitest";
import { approximate } from "../../src/quantity/rational.ts";
import { layoutsTold } from "../../src/report/layouts/because-text.ts";
import { withHorizon } from "../../src/study/horizon.ts";
import { layoutStudy } from "../../src/study/layouts/layouts.ts";
import { scenarioOf } from "./layouts-plants.ts";

const FIVE = readFileSync(new URL("../../scenarios/five-unequal.yaml", import.meta.url), "utf8");

/** Drawn up as a tree, which settles within minutes; buffers ten times as large, so that a chain takes hours. */
const tree = FIVE.replace("layout: chain", "layout: tree").replaceAll("infeed: 11", "infeed: 90");

test("left open, it is long enough for the layout that settles last, the same for all", () => {
  const scenario = withHorizon(scenarioOf(tree.replace(/^horizon: .*$/m, "horizon: auto")));
  expect(approximate(scenario.horizonMin)).toBe(120);
  const done = layoutStudy(scenario, { priority: "fast" });
  if (!done.ok) throw new Error(done.why);
  const { layouts, horizon_min: horizon } = done.study;
  const times = layouts.flatMap(({ feasible, settling_min: at }) => (feasible ? [at] : []));
  const last = Math.max(...times.map((at) => at ?? Infinity));
  expect(last).toBeGreaterThan(120);
  expect(horizon).toBe(Math.ceil(1.25 * last));
  const horizons = [...done.scenarios.values()].map(({ horizonMin, horizonIsAuto }) => [
    String(horizonMin),
    horizonIsAuto,
  ]);
  expect(horizons).toEqual([...done.scenarios.keys()].map(() => [String(horizon), false]));
});

test.each([
  ["from-grid", undefined, "today"],
  ["as-stated", undefined, "tree"],
  // With other dividers it is drawn up in another way, and stands beside the others as it is.
  ["as-stated", 2, "today"],
] as const)("today's line, lengths %s, ways %s: %s", (lengths, ways, id) => {
  const done = layoutStudy(scenarioOf(tree.replace("horizon: 4 h", "horizon: 20 min")), {
    priority: "fast",
    lengths,
    ways,
  });
  if (!done.ok) throw new Error(done.why);
  expect(done.study.today).toBe(id);
  expect(done.study.layouts.find((layout) => layout.id === id)?.feasible).toBe(true);
});

test("nobody is told to build what is worse than what stands, on belts that the grid makes longer", () => {
  const loop = readFileSync(new URL("../../scenarios/equal-loop.yaml", import.meta.url), "utf8");
  const done = layoutStudy(scenarioOf(loop), { priority: "fast" });
  if (!done.ok) throw new Error(done.why);
  const { recommended, recommended_because: because, layouts } = layoutsTold(done.study);
  const [standing, drawn] = ["today", "loop"].map((id) => layouts.find((layout) => layout.id === id));
  expect(standing?.settling_min).toBeLessThan(drawn?.settling_min ?? 0);
  expect(recommended).toBe("today");
  expect(because).toContain("the line as written settles soonest");
});
