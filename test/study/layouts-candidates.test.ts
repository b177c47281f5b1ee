/** Which layouts are drawn up for a line, why some cannot be built, and how they grow. */
import { describe, expect, test } from "vitest";
import { changeBetween } from "../../src/network/changes.ts";
import { reasonText } from "../../src/report/layouts/layout-words.ts";
import { candidatesFor, givenFor } from "../../src/study/layouts/candidates.ts";
import { lineToLayOut } from "../../src/study/layouts/line.ts";
import { type Given, layoutOf, plant, scenarioOf, studied, worded } from "./layouts-plants.ts";

/** What would be drawn up, without a run. */
function candidates(count: number, ways: 2 | 3, given: Given = {}) {
  const scenario = plant({ count, feed: `${15 * count}/min`, rate: "299/min", ...given });
  const chosen = lineToLayOut(scenario);
  if (!chosen.ok) throw new Error(chosen.why);
  return candidatesFor(givenFor(scenario, chosen.line, ways)).filter(({ assuming }) => assuming === null);
}

describe("what is drawn up", () => {
  test.each([
    [2, 3, []],
    // Two chains of two, or two trees of two, are the tree of four.
    [4, 3, ["chain-of-trees-of-3"]],
    [5, 3, ["chain-of-trees-of-2", "chain-of-trees-of-3", "chain-of-trees-of-4"]],
    [6, 2, ["chain-of-trees-of-2", "chain-of-trees-of-4"]],
    [8, 3, ["tree-of-2-chains", "tree-of-3-chains", "chain-of-trees-of-2", "chain-of-trees-of-3"]],
  ] as const)("for %i machines, dividers of up to %i ways", (count, ways, mixtures) => {
    const ids = candidates(count, ways).map(({ id }) => id);
    expect(ids.slice(0, 3)).toEqual(["chain", "tree", "loop"]);
    expect(ids.slice(3)).toEqual(expect.arrayContaining([...mixtures]));
    expect(new Set(ids).size).toBe(ids.length);
  });

  test("unequal machines are told as the file has them, wherever the plan stands them", () => {
    const needs = [3, 1, 4, 2, 2, 4, 1, 3];
    const scenario = scenarioOf(`horizon: 1 h
feeds: { silo: { item: can, rate: 20/min } }
machines:
${needs.map((need, i) => `  m${i}: { cycle: 60/${need} s, takes: { can: 1 }, makes: { box: 1 }, infeed: 9 }`).join("\n")}
lines: { main: { layout: chain, from: silo, to: [${needs.map((_, i) => `m${i}`).join(", ")}], belt: { length: 2 m, speed: 30 m/min, pitch: 100 mm } } }`);
    const chosen = lineToLayOut(scenario);
    if (!chosen.ok) throw new Error(chosen.why);
    const drawn = candidatesFor(givenFor(scenario, chosen.line, 3)).flatMap((one) => one.drawn ?? []);
    expect(drawn.length).toBeGreaterThan(4);
    const told = new Set(drawn.map(({ network }) => network.machines.map(({ id }) => id).join()));
    expect([...told]).toEqual([needs.map((_, i) => `m${i}`).join()]);
    const standing = drawn.map(({ floor }) => floor.places.flatMap(({ id, kind }) => (kind === "machine" ? [id] : [])));
    expect(new Set(standing.map(String)).size).toBeGreaterThan(1);
  });

  test("belts that are too slow are named, with what would do", () => {
    const reasons = (given: Given) =>
      new Map(
        candidates(8, 3, given).map(({ id, reason }) => [
          id,
          reason && reasonText(reason).replace(/^"|; what would do:.*/g, ""),
        ]),
      );
    const slow = reasons({ rate: "110/min", feed: "120/min" });
    expect([...slow.values()]).not.toContain(null);
    expect(slow.get("tree-of-2-chains")).toBe('through-1" is to carry 120/min, which is 10/min more than its 110/min');
    // The belts of both kinds are too slow: the worst of each is told.
    const [, , , mixed] = candidates(8, 3, { cycle: "0.5 s", feed: "960/min", rate: "300/min" });
    expect(worded(mixed)).toContain('"through-1" is to carry 960/min, which is 660/min more than its 300/min');
    expect(worded(mixed)).toContain(
      '"chain-1-branch-1" is to carry 120/min, which is 20/min more than its 100/min; what would do: a belt of 120/min',
    );
    const [chain] = candidates(2, 3, { cycle: "0.5 s", feed: "240/min" });
    expect(worded(chain)).toBe(
      '"branch-1" is to carry 120/min, which is 20/min more than its 100/min; what would do: a belt of 120/min',
    );
  });

  test("a chain of trees grows by a station, and no tree is torn down", () => {
    const mixed = candidates(6, 2).find(({ id }) => id === "chain-of-trees-of-2");
    const more = mixed?.drawn?.grown(1);
    if (!more) throw new Error("six machines stand in three trees of two");
    expect(changeBetween(more.before, more.after)).toEqual({
      added: { dividers: 1, merges: 0, belts: 3 },
      torn_out: { dividers: 0, merges: 0, belts: 1 },
    });
  });

  test("one machine more", () => {
    const grown = (count: number) =>
      candidates(count, 3).map(({ id, drawn }) => `${id}: ${drawn?.grown(1)?.layout ?? "none"}`);
    expect(grown(4)).toEqual(["chain: chain", "tree: loop", "loop: loop", "chain-of-trees-of-3: chain-of-trees"]);
    expect(grown(5).slice(0, 3)).toEqual(["chain: chain", "tree: none", "loop: tree"]);
    expect(grown(8).slice(0, 4)).toEqual([
      "chain: chain",
      "tree: tree",
      "loop: tree",
      "tree-of-2-chains: tree-of-chains",
    ]);
  });

  test("what is no belt cannot return anything", () => {
    const scenario = scenarioOf(`horizon: 1 h
feeds: { silo: { item: can, rate: 75/min } }
machines: { m: { count: 5, cycle: 4 s, takes: { can: 1 }, makes: { box: 1 }, infeed: 10 } }
lines: { main: { layout: chain, from: silo, to: m, belt: none } }`);
    const loop = layoutOf(studied(scenario), "loop");
    expect(loop).toMatchObject({ feasible: false, dividers: null, one_more: null });
    expect(worded(loop)).toContain("a return needs a belt");
  });
});
