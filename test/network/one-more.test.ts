/** Elements added and torn out from one drawing of a line to another, counted by hand and as properties. */
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { changeBetween, countsOf, type ElementCounts } from "../../src/network/changes.ts";
import { expand } from "../../src/network/expand.ts";
import type { Scenario } from "../../src/scenario/scenario.ts";
import { anyLine, chainOf, equal, sharedOf } from "./floor-lines.ts";

const change = (before: Scenario, after: Scenario) => changeBetween(expand(before), expand(after));
const counts = (dividers: number, merges: number, belts: number): ElementCounts => ({ dividers, merges, belts });
const NOTHING = counts(0, 0, 0);

describe("by hand", () => {
  test("a chain of three gets a fourth: its last stretch ends at a new divider", () => {
    expect(change(chainOf(3), chainOf(4))).toEqual({ added: counts(1, 0, 3), torn_out: counts(0, 0, 1) });
  });

  test("one that returns: the return belt begins further on", () => {
    const more = "end: return";
    expect(change(chainOf(3, more), chainOf(4, more))).toEqual({ added: counts(1, 0, 3), torn_out: counts(0, 0, 1) });
  });

  test("one that collects keeps its merges", () => {
    expect(change(chainOf(3, "", "press"), chainOf(4, "", "press"))).toEqual({
      added: counts(1, 0, 3),
      torn_out: counts(0, 0, 1),
    });
  });

  test("a tree of four becomes one of six: the second level goes, and the belts to and from it", () => {
    expect(change(equal("tree", 4), equal("tree", 6))).toEqual({ added: counts(2, 0, 8), torn_out: counts(2, 0, 6) });
  });

  test("of eight, one of nine: everything goes", () => {
    expect(change(equal("tree", 8), equal("tree", 9))).toEqual({ added: counts(4, 0, 13), torn_out: counts(7, 0, 15) });
  });

  test("a loop of five becomes a tree of six: the merge, the belts at it and the return go", () => {
    expect(change(equal("loop", 5), equal("tree", 6))).toEqual({ added: counts(0, 0, 2), torn_out: counts(0, 1, 3) });
  });

  test("two equal machines become unequal: merges before them, fed by three dividers for one", () => {
    const [before, after] = [sharedOf("tree", [1, 1]), sharedOf("tree", [3, 5])];
    expect(change(before, after)).toEqual({ added: counts(2, 2, 8), torn_out: counts(0, 0, 2) });
    expect(change(after, before)).toEqual({ added: counts(0, 0, 2), torn_out: counts(2, 2, 8) });
  });
});

describe("every line", () => {
  test("the same twice is no change", () => {
    fc.assert(
      fc.property(anyLine, (scenario) => {
        expect(change(scenario, scenario)).toEqual({ added: NOTHING, torn_out: NOTHING });
      }),
      { numRuns: 60 },
    );
  });

  test("what is added less what is torn out is the difference; back again the other way round", () => {
    fc.assert(
      fc.property(anyLine, anyLine, (before, after) => {
        const { added, torn_out } = change(before, after);
        const [old, fresh] = [countsOf(expand(before)), countsOf(expand(after))];
        for (const kind of ["dividers", "merges", "belts"] as const) {
          expect(added[kind] - torn_out[kind]).toBe(fresh[kind] - old[kind]);
          expect(Math.min(added[kind], torn_out[kind])).toBeGreaterThanOrEqual(0);
          expect(added[kind]).toBeLessThanOrEqual(fresh[kind]);
        }
        expect(change(after, before)).toEqual({ added: torn_out, torn_out: added });
      }),
      { numRuns: 100 },
    );
  });

  test.each(["", "dividers: through-first", "dividers: branch-first"])("any chain gets one more (%s)", (more) => {
    for (let machines = 1; machines <= 40; machines++) {
      const found = change(chainOf(machines, more), chainOf(machines + 1, more));
      expect(found).toEqual({ added: counts(1, 0, 3), torn_out: counts(0, 0, 1) });
    }
  });

  test("ten thousand machines", () => {
    expect(change(chainOf(10_000), chainOf(10_001)).torn_out).toEqual(counts(0, 0, 1));
  });
});
