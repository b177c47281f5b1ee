/** A line laid out in several ways, each run, and what is offered. */
import { beforeAll, describe, expect, test } from "vitest";
import { rational } from "../../src/quantity/rational.ts";
import { doesText, titledLayouts } from "../../src/report/layouts/layout-words.ts";
import { writeScenario } from "../../src/scenario/write.ts";
import type { LayoutResult } from "../../src/study/layouts/layout-results.ts";
import { type LayoutsDone, layoutStudy } from "../../src/study/layouts/layouts.ts";
import { outcomeOf } from "../../src/study/outcome.ts";
import { NO_TACTIC, play } from "../../src/study/play.ts";
import { layoutOf, plant, scenarioOf, studied, worded } from "./layouts-plants.ts";

/** Common practice, no source: 75/min to five machines of 15 by a six-way split with one share returned, on belts of 120. */
describe("75/min to five machines of 15", () => {
  let done: LayoutsDone;
  beforeAll(() => {
    done = studied(plant({}));
  });

  test("a loop carries 90/min on a belt of 120; no tree makes five equal parts", () => {
    expect(done.study).toMatchObject({ line: "main", machines: 5, ways: 3, feed_per_min: 75, needs_per_min: 75 });
    const loop = layoutOf(done, "loop");
    expect(loop).toMatchObject({
      feasible: true,
      reason: null,
      settled_per_min: 75,
      proved: true,
      headroom_per_min: 30,
    });
    expect(loop.tightest_belt).toBe("main.through-1");
    const tree = layoutOf(done, "tree");
    expect(tree).toMatchObject({
      feasible: false,
      settled_per_min: null,
      file: null,
      undominated: false,
      beaten_by: null,
    });
    expect(worded(tree)).toContain("the needs come to 5 equal parts");
    expect(worded(tree)).toContain("layout: loop, with 1 of 6 parts returned");
    // What leads here is not said again.
    expect(worded(tree)).not.toContain("fillfront layouts");
  });

  test("written out, each reads back, runs, and gives the same", () => {
    const feasible = done.study.layouts.filter((layout) => layout.feasible);
    expect([...done.scenarios.keys()]).toEqual(feasible.map(({ id }) => id));
    expect([...done.drawings.keys()]).toEqual(feasible.map(({ id }) => id));
    expect(done.curves.map(({ id }) => id)).toEqual(feasible.map(({ id }) => id));
    expect(feasible.length).toBeGreaterThan(2);
    for (const layout of feasible) expectSame(done, layout);
  });

  test("nothing offered has a belt over its limit", () => {
    const headrooms = done.study.layouts.flatMap(({ feasible, headroom_per_min: headroom }) =>
      feasible ? [headroom] : [],
    );
    expect(headrooms.length).toBeGreaterThan(2);
    for (const headroom of headrooms) expect(headroom).toBeGreaterThanOrEqual(0);
  });

  test("elements and metres are those of the line", () => {
    // As it stands: four dividers; five through belts of 2 m, four branches of 1 m.
    expect(layoutOf(done, "today")).toMatchObject({ dividers: 4, merges: 0, belts: 9, belt_m: 14 });
    // On the grid: dividers of 1 m in rows of 2 m, 1 m apart, so the feed and three through belts come to 2 m at most; the
    // last through belt goes over a gap of 0.8 m and down a row of 3 m; branches go over the gap and stay at 1 m.
    expect(layoutOf(done, "chain")).toMatchObject({ dividers: 4, merges: 0, belts: 9, belt_m: 4 * 2 + 3.8 + 4 * 1 });
    // A divider of three ways with two or three below; through 3 × 2 m, branches 5 × 1 m, return 2 m, all past a merge.
    const stated = layoutStudy(plant({}), { priority: "fast", lengths: "as-stated" });
    if (!stated.ok) throw new Error(stated.why);
    expect(layoutOf(stated, "loop")).toMatchObject({ dividers: 3, merges: 1, belts: 9, belt_m: 13 });
  });

  test("a loop shares half the feed evenly, a chain does not", () => {
    expect(layoutOf(done, "loop").evenness_at_half_feed).toBe(1);
    expect(layoutOf(done, "chain").evenness_at_half_feed).toBeLessThan(0.95);
  });

  test("one machine more lengthens the chain by a divider and makes a tree of the loop", () => {
    expect(layoutOf(done, "chain").one_more).toMatchObject({ layout: "chain", added: { dividers: 1, merges: 0 } });
    expect(layoutOf(done, "loop").one_more).toMatchObject({ layout: "tree", torn_out: { merges: 1 } });
  });
});

function expectSame({ study, scenarios }: LayoutsDone, layout: LayoutResult): void {
  const custom = titledLayouts(study, scenarios).get(layout.id);
  if (custom === undefined) throw new Error(`${layout.id} is not written out`);
  expect(custom.title).toBe(`Test: ${doesText(layout)}`);
  expect(layout.file).toBe(`${layout.id}.yaml`);
  const outcome = outcomeOf(play(scenarioOf(writeScenario(custom)), NO_TACTIC));
  expect({ id: layout.id, ...pick(outcome) }).toEqual({ id: layout.id, ...pick(layout) });
}

function pick({
  settled_per_min,
  settling_min,
  ramp_up_loss,
  proved,
}: Pick<LayoutResult, "settled_per_min" | "settling_min" | "ramp_up_loss" | "proved">) {
  return { settled_per_min, settling_min, ramp_up_loss, proved };
}

test("unequal machines, two kinds of mixture: written out, each gives the same", () => {
  const speeds = "[100 %, 50 %, 50 %, 100 %, 50 %, 100 %]";
  const done = studied(plant({ count: 6, speeds, feed: "67.5/min", more: "tactics: { own: { prefill: { m: 5 } } }" }));
  const kinds = new Set(done.study.layouts.filter(({ feasible }) => feasible).map(({ layout }) => layout));
  expect([...kinds].toSorted()).toEqual(["chain", "chain-of-trees", "tree", "tree-of-chains"].toSorted());
  for (const layout of done.study.layouts) if (layout.feasible) expectSame(done, layout);
  expect(layoutOf(done, "tree").evenness_at_half_feed).toBe(1);
  expect(worded(layoutOf(done, "loop"))).toContain("a tree does the same without a return");
});

describe("belts that are too slow", () => {
  test("120/min cannot be had from a loop of five on belts of 120/min, and a chain of it can", () => {
    const done = studied(plant({ cycle: "2.5 s", feed: "120/min" }));
    const loop = layoutOf(done, "loop");
    expect(loop.feasible).toBe(false);
    expect(worded(loop)).toContain('"through-1" is to carry 144/min, which is 24/min more than its 120/min');
    expect(worded(loop)).toContain("a belt of 144/min; a feed cut to 100/min first");
    expect(layoutOf(done, "chain")).toMatchObject({ feasible: true, headroom_per_min: 0 });
    expect(done.study.recommended).not.toBe("loop");
  });

  test("none will do where the first belt is slower than the feed; machines that would be left are named", () => {
    const done = studied(plant({ cycle: "2.5 s", feed: "120/min", rate: "110/min" }));
    const weighed = done.study.layouts.filter(({ assuming }) => assuming === null);
    expect(weighed.map(({ feasible }) => feasible)).not.toContain(true);
    // What stands runs all the same, and a faster belt would do.
    const faster = { per_min: "120", before: "110" };
    expect(layoutOf(done, "chain-if").assuming).toEqual({ what: "faster-belts", belts: [faster] });
    expect(worded(layoutOf(done, "chain"))).toBe(
      '"through-1" is to carry 120/min, which is 10/min more than its 110/min; what would do: a belt of 120/min; a feed ' +
        'cut to 110/min first; "m-1" fed by a line of its own; a chain beside it for 10/min of the feed',
    );
    expect(done.study).toMatchObject({ recommended: null, tick_s: "1/10" });
    expect(done.study.recommended_because).toEqual({ why: "none-buildable" });
    const others = done.study.layouts.filter(({ assuming }) => assuming !== null).map(({ id }) => id);
    expect(others[0]).toBe("today");
    expect([...done.scenarios.keys()]).toEqual(others);
    expect([...done.drawings.keys()]).toEqual(others);
    expect(done.curves.map(({ id }) => id)).toEqual(others);
  });
});

test("a belt carries no more than has room on it", () => {
  const scenario = scenarioOf(`horizon: 1 h
feeds: { silo: { item: can, rate: 60/min } }
machines: { m: { count: 4, cycle: 4 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 10 } }
lines:
  main:
    layout: chain
    from: silo
    to: m
    belt: { rate: 80/min, capacity: 5, transit: 6 s }
    branch: { rate: 20/min, capacity: 9 }`);
  const done = studied(scenario);
  expect(worded(layoutOf(done, "chain"))).toContain(
    '"through-1" is to carry 60/min, which is 10/min more than its 50/min',
  );
  expect(worded(layoutOf(done, "tree"))).toContain(
    '"through-1" is to carry 60/min, which is 10/min more than its 50/min',
  );
  expect(done.study.recommended).toBe(null);
});

test("what lies on a line that has not settled is not its settled hold-up", () => {
  const done = studied({ ...plant({ feed: "74/min" }), horizonMin: rational("2") });
  expect(layoutOf(done, "chain")).toMatchObject({ feasible: true, settling_min: null, hold_up_settled: null });
  expect(layoutOf(done, "chain").hold_up_peak).toBeGreaterThan(0);
});

test("a drawing says of which layout it is", () => {
  const { drawings, study } = studied(plant({ count: 2, feed: "30/min" }));
  expect(study.title).toBe("Test");
  expect([...titledLayouts(study, drawings).values()].map(({ title }) => title)).toEqual([
    "Test: a chain of even dividers",
    "Test: a tree of dividers of two and three ways",
    "Test: a chain of even dividers, as the line stands",
  ]);
});

test("every run is told of, none twice", () => {
  const told: string[] = [];
  const scenario = plant({ count: 2, feed: "30/min" });
  layoutStudy(scenario, { priority: "fast", onProgress: (done, of) => told.push(`${done}/${of}`) });
  const of = Number(told[0]?.split("/")[1]);
  // Chain, tree and today's; with nothing done, on half the feed, and the fourteen usual tactics.
  expect(of).toBe(3 * 25);
  expect(told).toEqual(Array.from({ length: of }, (_, i) => `${i}/${of}`));
});
