/** The floor that lines take: worked by hand with the usual footprints, and what holds of every line. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { expand } from "../../src/network/expand.ts";
import { type FloorPlan, floorPlan } from "../../src/network/floor-plan.ts";
import { approximate, exact, type Rational, ratio, whole, ZERO } from "../../src/quantity/rational.ts";
import type { Floor, Footprint, Scenario } from "../../src/scenario/scenario.ts";
import { scenarioOf } from "../layouts/shared-lines.ts";
import { PLANT_EXAMPLE, SHARED_EXAMPLE } from "../scenario/example.ts";
import { anyLine, chainOf, equal, everyToEvery, sharedOf } from "./floor-lines.ts";

const planOf = (scenario: Scenario, line = "main"): FloorPlan => floorPlan(scenario, expand(scenario), line);

/** `id column,row`, without the line's name. */
const cells = ({ places }: FloorPlan): string[] =>
  places.map(({ id, column, row }) => `${id.replace("main.", "")} ${column},${row}`);

const size = ({ lengthM, widthM, m2, crossings }: FloorPlan): string =>
  `${approximate(lengthM)} x ${approximate(widthM)} = ${approximate(m2)}, ${crossings} crossings`;

describe("by hand: machines 3 m by 2 m, dividers and merges 1 m by 1 m, belts 0.8 m, aisles 1 m", () => {
  test("a chain of three: dividers 0.8 + 1, machines 0.8 + 3; three rows of 2 + 1", () => {
    const plan = planOf(chainOf(3));
    expect(cells(plan)).toEqual(["divider-1 0,0", "m-1 1,0", "divider-2 0,1", "m-2 1,1", "m-3 1,2"]);
    expect(size(plan)).toBe("5.6 x 9 = 50.4, 0 crossings");
    const last = plan.places.at(-1);
    expect([last?.kind, last?.xM, last?.yM, last?.lengthM, last?.widthM].join(" ")).toBe("machine 2.6 6 3 2");
  });

  test("the same whose dividers' first outlet leads on", () => {
    const plan = planOf(chainOf(3, "dividers: through-first"));
    expect(cells(plan)).toEqual(["divider-1 0,0", "m-1 1,0", "divider-2 0,1", "m-3 1,1", "m-2 1,2"]);
    expect(size(plan)).toBe("5.6 x 9 = 50.4, 0 crossings");
  });

  test("with a return: a merge's column before, a belt's width behind it, and the return's row of 0.8 + 1", () => {
    const plan = planOf(chainOf(3, "end: return"));
    expect(cells(plan)).toEqual([
      "head 0,0",
      "divider-1 1,0",
      "m-1 2,0",
      "divider-2 1,1",
      "m-2 2,1",
      "divider-3 1,2",
      "m-3 2,2",
    ]);
    // 1.8 + 0.8 + 1.8 + 3.8 by 9 + 1.8
    expect(size(plan)).toBe("8.2 x 10.8 = 88.56, 0 crossings");
    expect(plan.places.find(({ id }) => id === "main.divider-1")?.xM.toString()).toBe("3.4");
  });

  test("a tree of four: two columns of dividers, four rows", () => {
    const plan = planOf(equal("tree", 4));
    expect(cells(plan)).toEqual([
      "divider-1 0,0",
      "divider-2 1,0",
      "m1 2,0",
      "m2 2,1",
      "divider-3 0,2",
      "m3 2,2",
      "m4 2,3",
    ]);
    expect(size(plan)).toBe("7.4 x 12 = 88.8, 0 crossings");
  });

  test("a loop of five: a merge, then two columns of dividers; a row for the spare outlet", () => {
    const plan = planOf(equal("loop", 5));
    expect(cells(plan)).toEqual([
      "head 0,0",
      "divider-1 1,0",
      "divider-2 2,0",
      "m1 3,0",
      "m2 3,1",
      "m3 3,2",
      "divider-3 1,3",
      "m4 3,3",
      "m5 3,4",
    ]);
    // 1.8 + 0.8 + 1.8 + 1.8 + 3.8 by five rows of 3 and one of 1.8
    expect(size(plan)).toBe("10 x 16.8 = 168, 0 crossings");
  });

  test("needs of 3 and 5: the last divider's two shares gather above it, one past the belt to the other", () => {
    const plan = planOf(sharedOf("tree", [3, 5]));
    expect(cells(plan)).toEqual([
      "divider-1 0,0",
      "gather-2 1,0",
      "m2 2,0",
      "divider-2 0,1",
      "gather-1 1,1",
      "m1 2,1",
      "divider-3 0,2",
    ]);
    // 1.8 + 1.8 + 3.8 by 3 + 3 + 2
    expect(size(plan)).toBe("7.4 x 8 = 59.2, 1 crossings");
  });

  test("merges of a collecting belt stand in a column, the last beside the first divider", () => {
    const plan = planOf(chainOf(2, "", "[press, silo]"));
    expect(cells(plan)).toEqual(["merge-4 0,0", "merge-3 0,1", "merge-2 0,2", "divider-1 1,0", "m-1 2,0", "m-2 2,1"]);
    // 1.8 + 1.8 + 3.8 by 3 + 3 + 2
    expect(size(plan)).toBe("7.4 x 8 = 59.2, 0 crossings");
  });

  test("outlets take a row and a belt's width", () => {
    const plan = planOf(scenarioOf(PLANT_EXAMPLE), "boxes");
    expect(plan.places.map(({ id, kind, column, row }) => `${id} ${kind} ${column},${row}`)).toEqual([
      "boxes.divider-1 divider 0,0",
      "shelf outlet 1,0",
      "yard outlet 1,1",
    ]);
    // 1.8 + 0.8 by (1 + 1) + (0.8 + 1)
    expect(size(plan)).toBe("2.6 x 3.8 = 9.88, 0 crossings");
  });

  test("footprints as stated: machines 2.5 m by 3 m, dividers 1 m by 0.6 m, belts 1/3 m, no aisle", () => {
    const plan = planOf(scenarioOf(SHARED_EXAMPLE), "labelling");
    // Merges, merge and return, two columns of dividers, machines: 4/3 + 1/3 + 2 * 4/3 + 17/6; five rows of 3 and a belt's
    expect([exact(plan.lengthM), exact(plan.widthM)]).toEqual(["43/6", "46/3"]);
  });

  test("a surge buffer is no part of the line", () => {
    const plan = planOf(scenarioOf(PLANT_EXAMPLE), "jars");
    expect(plan.places.map(({ id }) => id)).toEqual(["jars.divider-1", "filler-1", "filler-2"]);
  });
});

describe("crossings", () => {
  test("none in chains, equal trees, and loops with one spare outlet", () => {
    const machines = Array.from({ length: 40 }, (_, i) => i + 1);
    const crossing = (scenario: Scenario): boolean => planOf(scenario).crossings > 0;
    for (const more of ["", "end: return", "dividers: through-first"])
      expect(machines.filter((count) => crossing(chainOf(count, more)))).toEqual([]);
    for (const ways of [2, 3] as const) {
      const loops = machines.map((count) => equal("loop", count, ways));
      const plain = loops.filter((scenario) => !expand(scenario).merges.some(({ id }) => id.includes("gather")));
      expect(plain.length).toBeGreaterThan(15);
      expect(plain.filter(crossing)).toEqual([]);
    }
  });

  test.each([
    [2, 2, 1],
    [3, 2, 3],
    [3, 3, 9],
    [4, 5, 60],
  ])("%i lanes to %i machines, each to each: one for every two lanes and two machines, %i", (lanes, machines, many) => {
    expect(planOf(everyToEvery(lanes, machines)).crossings).toBe(many);
  });

  test("what goes back from the middle passes over what leads on below", () => {
    const belts = (to: string) => `      in: { from: silo, to: head, belt: none }
      first: { from: head, to: a, belt: none }
      a-1: { from: a, to: ${to}, belt: none }
      a-2: { from: a, to: b, belt: none }
      b-1: { from: b, to: back, belt: none }
      b-2: { from: b, to: back, belt: none }
      c-1: { from: c, to: back, belt: none }
      c-2: { from: c, to: m-1, belt: none }
      again: { from: back, to: head, rate: 60/min, capacity: 9 }`;
    const plan = planOf(
      scenarioOf(`
feeds: { silo: { item: can, rate: 60/min } }
machines: { m: { count: 1, cycle: 1 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 20 } }
lines:
  main:
    layout: custom
    merges: { head: ordered, back: even }
    dividers: { a: even, b: even, c: even }
    belts:
${belts("c")}`),
    );
    // Head 0,0; a 1,0; c beside it, 2,0, with m-1 4,0 and the merge 3,1; b below, 1,2: its belts come up to the merge, and the
    // return along row 1 passes the belt from a down to b, and nothing else.
    expect(cells(plan)).toEqual(["head 0,0", "a 1,0", "c 2,0", "m-1 4,0", "back 3,1", "b 1,2"]);
    expect(plan.crossings).toBe(1);
  });
});

describe("every line", () => {
  test("no two in one cell, nothing over another, all on the floor", () => {
    fc.assert(
      fc.property(anyLine, (scenario) => {
        const { places, lengthM, widthM } = planOf(scenario);
        expect(new Set(places.map(({ column, row }) => `${column},${row}`)).size).toBe(places.length);
        const network = expand(scenario);
        const led = network.machines.filter(({ line }) => line === "main");
        const own = [...network.dividers, ...network.merges].filter(({ line }) => line === "main");
        expect(places.length).toBe(own.length + led.length);
        for (const [index, a] of places.entries()) {
          expect(a.xM.add(a.lengthM).compare(lengthM)).toBeLessThanOrEqual(0);
          expect(a.yM.add(a.widthM).compare(widthM)).toBeLessThanOrEqual(0);
          for (const b of places.slice(index + 1)) {
            const isApart = (x: "xM" | "yM", length: "lengthM" | "widthM"): boolean =>
              a[x].add(a[length]).compare(b[x]) <= 0 || b[x].add(b[length]).compare(a[x]) <= 0;
            expect(isApart("xM", "lengthM") || isApart("yM", "widthM")).toBe(true);
          }
        }
      }),
      { numRuns: 60 },
    );
  });

  test("a larger footprint, belt or aisle never takes less floor; a machine's, a belt's width or an aisle more", () => {
    const grown = (footprint: Footprint, by: Rational): Footprint => ({
      lengthM: footprint.lengthM.add(by),
      widthM: footprint.widthM.add(by),
    });
    const with_ = (scenario: Scenario, floor: Partial<Floor>, machine = ZERO): Rational =>
      planOf({
        ...scenario,
        floor: { ...scenario.floor, ...floor },
        machines: scenario.machines.map((group) => ({ ...group, footprint: grown(group.footprint, machine) })),
      }).m2;
    fc.assert(
      fc.property(anyLine, fc.integer({ min: 1, max: 90 }), (scenario, tenths) => {
        const by = ratio(BigInt(tenths), 10n);
        const { floor } = scenario;
        const before = planOf(scenario).m2;
        for (const larger of [
          with_(scenario, { divider: grown(floor.divider, by) }),
          with_(scenario, { merge: grown(floor.merge, by) }),
        ])
          expect(larger.compare(before)).toBeGreaterThanOrEqual(0);
        for (const larger of [
          with_(scenario, {}, by),
          with_(scenario, { beltM: floor.beltM.add(by) }),
          with_(scenario, { aisleM: floor.aisleM.add(by) }),
        ])
          expect(larger.compare(before)).toBeGreaterThan(0);
      }),
      { numRuns: 60 },
    );
  });

  test("for as many equal machines, a chain takes least, then a tree by its levels", () => {
    for (const machines of [4, 6, 8, 9, 12, 16, 27, 32]) {
      const chain = planOf(chainOf(machines));
      const tree = planOf(equal("tree", machines));
      expect(tree.widthM.equals(chain.widthM)).toBe(true);
      expect(tree.lengthM.compare(chain.lengthM)).toBeGreaterThan(0);
    }
    expect(planOf(equal("tree", 27)).lengthM.equals(whole(0).add(ratio(92n, 10n)))).toBe(true);
    expect(planOf(equal("tree", 32)).lengthM.equals(ratio(128n, 10n))).toBe(true);
  });

  test("ten thousand machines", () => {
    expect(size(planOf(chainOf(10_000)))).toBe("5.6 x 30000 = 168000, 0 crossings");
  });
});
