/** Layouts against the plant's limits on what lies there and for how long. */
import { readFileSync } from "node:fs";
import { beforeAll, expect, test } from "vitest";
import { layoutsTold } from "../../src/report/layouts/because-text.ts";
import { layoutsFindings } from "../../src/report/layouts/layouts-findings.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import type { LayoutResult } from "../../src/study/layouts/layout-results.ts";
import type { LayoutsDone } from "../../src/study/layouts/layouts.ts";
import { outcomeOf } from "../../src/study/outcome.ts";
import { NO_TACTIC, play } from "../../src/study/play.ts";
import { LAYOUT_READERS } from "../said/layouts.ts";
import { read } from "../said/reader.ts";
import { layoutOf, scenarioOf, studied } from "./layouts-plants.ts";

const TEXT = readFileSync(new URL("../../scenarios/perishable-chain.yaml", import.meta.url), "utf8");

let done: LayoutsDone;
beforeAll(() => {
  done = studied(scenarioOf(TEXT));
});

test("the line as it stands breaks both limits for as long as its own run says, the tree none", () => {
  const own = outcomeOf(play(scenarioOf(TEXT), NO_TACTIC));
  expect(own.over_limit_min).toBeGreaterThan(0);
  expect(own.over_limit_items).toBeGreaterThan(0);
  expect(overLimits(layoutOf(done, "today"))).toEqual([own.over_limit_min, own.over_limit_items]);
  expect(overLimits(layoutOf(done, "tree"))).toEqual([0, 0]);
  // The loop cannot be built.
  expect(overLimits(layoutOf(done, "loop"))).toEqual([null, null]);
});

test.each(["chain", "tree-of-2-chains"])("written out, a %s keeps the limits it was run with", (id) => {
  const custom = done.scenarios.get(id);
  if (custom === undefined) throw new Error(`${id} can be built`);
  const again = outcomeOf(play(scenarioOf(writeScenario(custom)), NO_TACTIC));
  expect(again.over_limit_items).toBeGreaterThan(0);
  expect(overLimits(layoutOf(done, id))).toEqual([again.over_limit_min, again.over_limit_items]);
});

test("what breaks a limit is not recommended, though it takes the least floor, and the reason says so", () => {
  const { study } = studied(scenarioOf(TEXT), "small");
  const [chain, chosen] = [layoutOf(done, "chain"), study.recommended];
  expect(chain.floor_m2).toBe(Math.min(...study.layouts.flatMap(({ floor_m2: floor }) => floor ?? [])));
  // Of the two that keep them, as much floor and less belt; when a short ramp-up is wanted, as soon and with less lost.
  const keeping = study.layouts.filter((layout) => layout.feasible && overLimits(layout).every((over) => over === 0));
  expect(keeping.map(({ id }) => id)).toEqual(["tree", "tree-of-3-chains"]);
  const [tree, mixed] = [layoutOf(done, "tree"), layoutOf(done, "tree-of-3-chains")];
  expect(mixed.floor_m2).toBe(tree.floor_m2);
  expect(mixed.belt_m).toBeLessThan(tree.belt_m ?? 0);
  expect(chosen).toBe("tree-of-3-chains");
  expect(layoutsTold(study).recommended_because).toMatch(
    /^tree-of-3-chains, of those that keep all limits, takes as much floor, /,
  );
  // A loss within a cycle of each machine is no reason; fewer dividers are one.
  expect(layoutsTold(done.study).recommended_because).toMatch(
    /^tree, of those that keep all limits, settles as soon, .* fewer dividers and merges, /,
  );
});

test("every sentence of the findings is true of the table", () => {
  read(layoutsFindings(done.study), done.study, LAYOUT_READERS);
});

test("without limits nothing is over them", () => {
  const { study } = studied(scenarioOf(TEXT.replace(/^limits:\n(?: .*\n)*/m, "")), "small");
  expect(study.recommended).toBe("today");
  expect(layoutsTold(study).recommended_because).not.toContain("limits");
  for (const layout of study.layouts) expect(overLimits(layout)).toEqual([null, null]);
});

function overLimits({ over_limit_min: minutes, over_limit_items: items }: LayoutResult): (number | null)[] {
  return [minutes, items];
}
